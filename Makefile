# `make demo` and `make test` need only Python 3.11 or later, make and git. The tests that look at pages and sheets also
# need Chromium and poppler-utils: `make system` installs them where it can and says what is missing where it cannot.
PY ?= python3
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip install --quiet --disable-pip-version-check

.PHONY: demo test check bench golden pictures lock clean system

$(VENV)/run.stamp: requirements/run.lock pyproject.toml
	@$(PY) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	  { echo "Ferrule needs Python 3.11 or later; name one with: make PY=python3.12 demo"; exit 1; }
	@test -x $(BIN)/python || $(PY) -m venv $(VENV) || \
	  { echo "this Python cannot make a virtual environment; on Debian install python3-venv"; exit 1; }
	@echo "installing what the main job needs"
	@$(PIP) --require-hashes --only-binary :all: --no-deps -r requirements/run.lock
	@$(PIP) --no-deps --no-build-isolation -e .
	@touch $@

$(VENV)/dev.stamp: requirements/dev.lock $(VENV)/run.stamp
	@echo "installing what the tests need"
	@$(PIP) --require-hashes --only-binary :all: --no-deps -r requirements/dev.lock
	@touch $@

demo: $(VENV)/run.stamp
	@$(BIN)/ferrule demo --out demo-out

system:
	@if command -v chromium >/dev/null && command -v pdftoppm >/dev/null; then :; \
	elif command -v apt-get >/dev/null && [ "$$(id -u)" = 0 ] && apt-get update -qq && \
	  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium poppler-utils; then :; \
	else echo "Chromium or poppler-utils is missing and could not be installed here. On Debian, as root:"; \
	  echo "  apt-get install chromium poppler-utils"; \
	  echo "Going on without: the tests that open pages in a browser are skipped (with CI=true they fail)."; fi

check: $(VENV)/dev.stamp
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy
	@$(BIN)/lint-imports --no-logo

test: system check
	@$(BIN)/pytest -n auto --maxprocesses 8

bench: $(VENV)/dev.stamp
	@$(BIN)/python -m bench

# Rewrites the golden files; read the difference before committing it.
golden: $(VENV)/dev.stamp
	@$(BIN)/pytest -q --golden-update

# Makes the pictures of the README from what the demo writes.
pictures: system demo $(VENV)/dev.stamp
	@$(BIN)/python docs/pictures/make.py demo-out

lock:
	@for n in run dev; do uv pip compile -q --generate-hashes --no-emit-index-url --no-emit-find-links --no-header \
	  --no-annotate --python-version 3.11 requirements/$$n.in -o requirements/$$n.lock; done

clean:
	@rm -rf $(VENV) demo-out out .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
