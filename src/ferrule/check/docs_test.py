"""docs/rules.md and docs/house.md say what the rules and thresholds say; the glossary holds every word."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest

from ferrule.check.docs import PAGES
from ferrule.model import squad, words
from ferrule.model.fitted import ReasonCode

DOCS = Path(__file__).parents[3] / "docs"

OURS = [
    "variant",
    "family",
    "easier",
    "harder",
    "demand",
    "capacity",
    "share of best",
    "fit",
    "finding",
    "house rules",
    "reason",
    "place",
    "anchor",
    "sent week",
    "limit",
    "lane",
    "shot list",
    "notice",
    "simulated runner",
    "workspace",
]
TRADE = [
    "cycle",
    "week",
    "session",
    "warm-up",
    "pair",
    "circuit",
    "straight",
    "round",
    "set",
    "rep",
    "hold",
    "side",
    "tempo",
    "rest",
    "RIR",
    "RPE",
    "rating",
    "1RM",
    "pattern",
    "regression",
    "progression",
    "kit",
    "squad",
    "runner",
    "coach",
    "deload",
    "taper",
    "field test",
    "key run",
    "easy run",
    "race",
]


@pytest.mark.parametrize("page", sorted(PAGES))
def test_the_page_is_not_stale(page: str, request: pytest.FixtureRequest) -> None:
    path = DOCS / f"{page}.md"
    if request.config.getoption("--golden-update"):
        path.write_text(PAGES[page](), encoding="utf-8")
    assert path.read_text(encoding="utf-8") == PAGES[page](), (
        f"run `python -m ferrule.check.docs {page} > docs/{page}.md`"
    )


def _entries() -> set[str]:
    text = (DOCS / "glossary.md").read_text(encoding="utf-8")
    bold = re.findall(r"\*\*(.+?)\*\*", text)
    return {word.strip() for entry in bold for word in entry.split(",")}


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        ("ours", OURS),
        ("trade", TRADE),
        ("groups", words.GROUPS),
        ("regions", words.REGIONS),
        ("tags", words.TAGS),
        ("patterns", words.PATTERNS),
        ("places", words.PLACES),
        ("bands", words.BANDS),
        ("trust", get_args(words.Trust)),
        ("kit", words.KIT_KINDS),
        ("levels", words.LEVELS),
        ("runs", get_args(squad.RunKind)),
        ("tests", get_args(squad.TestKind)),
        ("holds", get_args(squad.HoldReason)),
        ("reasons", get_args(ReasonCode)),
    ],
)
def test_the_glossary_holds_every_word(kind: str, expected: tuple[str, ...] | list[str]) -> None:
    assert sorted(set(expected) - _entries()) == [], kind


def test_words_with_another_meaning_in_the_trade_are_not_used() -> None:
    pages = [DOCS / "glossary.md", DOCS / "rules.md", DOCS / "house.md", DOCS / "add-a-rule.md"]
    for page in pages:
        text = page.read_text(encoding="utf-8").split("## Not used")[0]
        assert not re.search(r"\b(ladder|roll|watch|twin)s?\b", text, re.I), page.name
