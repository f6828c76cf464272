"""Every example of docs/notation.md, and every file of examples/, reads with the real library."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from ferrule.library.reader import load_library
from ferrule.programme.by_week import BLOCK_FIELDS, CANONICAL, ITEM_FIELDS
from ferrule.programme.conditions import ACTIONS, TRIGGERS, read_condition
from ferrule.programme.effort_fields import PERCENT_BASES
from ferrule.programme.field_words import FREE_FORMS, HEIGHT_WORDS
from ferrule.programme.fields import FieldReader
from ferrule.programme.front import KEPT, KNOWN
from ferrule.programme.head_text import BLOCK_MORE, CYCLE_MORE, SESSION_MORE
from ferrule.programme.heads import read_head
from ferrule.programme.markdown import Line
from ferrule.programme.reader import read_programme
from ferrule.programme.report import Report
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.strategies import without_spans
from ferrule.programme.text import GROUPS
from ferrule.programme.tidy import tidy

ROOT = Path(__file__).parents[3]
PAGE = (ROOT / "docs" / "notation.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```markdown\n(.*?)```", PAGE, re.DOTALL)
EXAMPLES = sorted((ROOT / "examples").glob("notation-*.md"))
LIBRARY, _ = load_library()


def test_the_reference_has_examples() -> None:
    assert len(BLOCKS) >= 6
    assert len(EXAMPLES) >= 3


@pytest.mark.parametrize("number", range(len(BLOCKS)))
def test_an_example_of_the_reference_reads_without_a_fault(number: int) -> None:
    text = BLOCKS[number]
    _, findings = read_programme(text, "notation.md", SAMPLE)
    assert [f for f in findings if f.level != "note" and f.code != "weeks-left-out"] == []
    once, _ = tidy(text, "notation.md", SAMPLE)
    assert without_spans(read_programme(once, "notation.md", SAMPLE)[0]) == without_spans(
        read_programme(text, "notation.md", SAMPLE)[0]
    )


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name)
def test_an_example_file_is_canonical_and_without_faults(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    _, findings = read_programme(text, path.name, LIBRARY)
    assert [f for f in findings if f.level != "note"] == []
    assert tidy(text, path.name, LIBRARY)[0] == text


def spans(first: str, last: str) -> list[str]:
    """What stands between backquotes from the heading `first` to the heading `last` of the page, examples left out."""
    part = PAGE[PAGE.index(f"\n{first}\n") : PAGE.index(f"\n{last}\n")]
    found = re.findall(r"`([^`]+)`", re.sub(r"```.*?```", "", part, flags=re.DOTALL))
    return [" ".join(text.split()) for text in found]


def test_the_page_names_every_key_of_the_front_matter() -> None:
    assert {*KNOWN, *KEPT} <= set(spans("## Front matter", "## Structure"))


@pytest.mark.parametrize(
    ("lead", "fields", "places"),
    [
        ("Circuit A", BLOCK_MORE, ("sets", "rest_s", "between_s")),
        ("### Session 1", SESSION_MORE, ("day", "minutes")),
        ("## Cycle 1", CYCLE_MORE, ("weeks",)),
    ],
)
def test_the_page_shows_every_field_of_a_head(lead: str, fields: tuple[str, ...], places: tuple[str, ...]) -> None:
    shown: set[str] = set()
    for text in spans("## Structure", "## Items"):
        heads = [read_head(lead + ("" if text.startswith(":") else ", ") + text), read_head(text)]
        for head in [h for h in heads if h is not None and h.whole]:
            shown |= set(head.more) | {n for n in places if getattr(head, n) is not None}
    assert {*fields, *places} <= shown


def test_the_page_shows_every_field_of_an_item() -> None:
    shown: set[str] = set()
    for text in spans("## Items", "## Alternatives"):
        reader = FieldReader(text).read()
        shown |= (
            set(reader.values) | ({"weeks"} if reader.weeks else set()) | ({"optional"} if reader.optional else set())
        )
    assert {field for group in GROUPS.values() for field in group} | {"weeks", "optional"} <= shown


def test_the_page_names_every_word_of_the_closed_lists() -> None:
    said = set(spans("## Items", "## Alternatives"))
    assert set(FREE_FORMS) <= said
    whole = " ".join(said)
    assert [base for _, base in PERCENT_BASES if base not in whole] == []
    assert [kind for kind in HEIGHT_WORDS.values() if kind not in whole] == []
    table = PAGE[PAGE.index("\n## The by-week table\n") :]
    words = {*BLOCK_FIELDS, *ITEM_FIELDS} - {"dose"}
    assert [w for w in words if CANONICAL.get(w, w) not in table] == []


def test_the_page_shows_every_condition() -> None:
    said = spans("### Conditions", "## The by-week table")
    made = [
        read_condition(Line(f"{text}: stop", 1, 1), Report("")) for text in said if text.startswith(("when ", "if "))
    ]
    assert {t.when for t in TRIGGERS} <= {c.when for c in made if c is not None}
    assert set(ACTIONS.values()) <= set(said)
