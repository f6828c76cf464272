"""Fixtures every test may use."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

GOLDEN = Path(__file__).parent / "golden"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--golden-update", action="store_true", help="rewrite the golden files with what was produced")


@pytest.fixture(autouse=True)
def _one_width(monkeypatch: pytest.MonkeyPatch) -> None:
    """Output is wrapped to the terminal; a test's own must not depend on where it is run."""
    monkeypatch.setenv("COLUMNS", "80")


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """golden("name.txt", text): text must equal golden/name.txt; `make golden` rewrites it."""
    update = request.config.getoption("--golden-update")

    def compare(name: str, text: str) -> None:
        path = GOLDEN / name
        if update:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        assert path.exists(), f"no golden file {name}; run `make golden` and read what it wrote"
        assert text == path.read_text(encoding="utf-8")

    return compare
