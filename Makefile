# `make demo` and `make test` need only Python 3.11+, make and git; `make test` also needs Chromium for the
# browser tests and says so when it is missing.
PY ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: demo test check bench golden lock clean system

$(VENV)/run.stamp: requirements/run.lock pyproject.toml
	@test -x $(BIN)/python || $(PY) -m venv $(VENV)
	@echo "installing what the main job needs"
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes --only-binary :all: --no-deps -r requirements/run.lock
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

$(VENV)/dev.stamp: requirements/dev.lock $(VENV)/run.stamp
	@echo "installing what the tests need"
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes --only-binary :all: --no-deps -r requirements/dev.lock
	@touch $@

demo: $(VENV)/run.stamp
	@$(BIN)/ferrule demo --out demo-out

# Debian packages for the browser and PDF tests; needs root, does nothing when they are there.
system:
	@command -v chromium >/dev/null && command -v pdftoppm >/dev/null || \
	  (apt-get update -qq && apt-get install -y -qq chromium poppler-utils)

check: $(VENV)/dev.stamp
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy
	@$(BIN)/lint-imports

test: system check
	@$(BIN)/pytest -n 2

bench: $(VENV)/dev.stamp
	@$(BIN)/python -m bench

# Rewrites the golden files; read the difference before committing it.
golden: $(VENV)/dev.stamp
	@$(BIN)/pytest -q --golden-update

lock:
	@for n in run dev; do uv pip compile -q --generate-hashes --no-emit-index-url --no-emit-find-links --no-header \
	  --no-annotate --python-version 3.11 requirements/$$n.in -o requirements/$$n.lock; done

clean:
	@rm -rf $(VENV) demo-out out .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
