"""docs/library.md is the library as it is."""

from __future__ import annotations

from pathlib import Path

from ferrule.library.listing import listing
from ferrule.library.reader import load_library

PAGE = Path(__file__).parents[3] / "docs" / "library.md"


def test_the_page_is_fresh() -> None:
    said = "run `python -m ferrule.library.listing > docs/library.md`"
    assert PAGE.read_text(encoding="utf-8") == listing(load_library()[0]), said


def test_every_family_says_where_its_order_comes_from() -> None:
    text = listing(load_library()[0])
    assert text.count("\nOrder from: ") == len(load_library()[0].families)
    assert "Order from: ." not in text
