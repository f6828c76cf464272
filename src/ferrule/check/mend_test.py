"""Safe fixes: what is mended, that it is mended once, and that nothing else moves."""

from __future__ import annotations

import re
from collections import Counter
from importlib.resources import files
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.check.cases import Case, read_cases
from ferrule.check.mend import applied, mend
from ferrule.check.rules import RULES
from ferrule.check.run import check
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Edit, Finding, Span
from ferrule.model.house import House
from ferrule.programme.reader import read_programme

RULE_FILES = Path(__file__).parent / "rules"
HEAD = "## Cycle 1, weeks 1-2: Try\n\n### Session 1: legs, 60 min\n\nStraight, 3 sets, rest 90 s\n\n"


def _failing() -> list[Case]:
    out: list[Case] = []
    for path in sorted(RULE_FILES.glob("*.cases.md")):
        cases = read_cases(path.read_text(encoding="utf-8"), path.name.removesuffix(".cases.md"))
        out += [case for case in cases if not case.passes]
    return out


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library({})[0]


def _findings(text: str, library: Library) -> list[Finding]:
    programme, findings = read_programme(text, "case.md", library)
    return [*findings, *check(programme, library, House())]


@pytest.mark.parametrize("case", _failing(), ids=lambda c: f"{c.rule}: {c.title}")
def test_mending_ends_its_findings_brings_none_and_changes_nothing_the_second_time(
    case: Case, library: Library
) -> None:
    before = Counter((f.code, f.level, f.what) for f in _findings(case.text, library))
    once = mend(case.text, "case.md", library, House())
    after = Counter((f.code, f.level, f.what) for f in _findings(once.text, library))
    gone = Counter((f.code, f.level, f.what) for f in once.done)
    assert after <= before, "a mended text has no new finding"
    assert before - after == gone, "what is said to be mended is what is gone"
    assert (once.text == case.text) == (not once.done)
    assert mend(once.text, "case.md", library, House()).text == once.text


def test_every_finding_with_edits_can_be_mended(library: Library) -> None:
    offered: set[str] = set()
    for case in _failing():
        left = mend(case.text, "case.md", library, House()).left
        assert [f.what for f in left if f.edits] == [], case.title
        offered |= {f.code for f in _findings(case.text, library) if f.edits}
    assert offered == {rule.name for rule in RULES if rule.mends}


def test_the_demonstration_stays_as_it_is(library: Library) -> None:
    text = (files("ferrule.demo") / "programme.md").read_text(encoding="utf-8")
    assert mend(text, "programme.md", library, House()).text == text


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("---\nneeds: mat\n---\n\n" + HEAD + "- Step-up: 8/side, 2 RIR\n", "needs: mat; step\n"),
        ("---\nneeds:\n---\n\n" + HEAD + "- Step-up: 8/side, 2 RIR\n", "needs: step\n"),
        ("---\nprogramme: P\n---\n\n" + HEAD + "- Step-up: 8/side, 2 RIR\n", "programme: P\nneeds: step\n---\n"),
        (HEAD + "- Split squat: 8, 2 RIR\n  note: slow\n", "- Split squat: 8/side, 2 RIR\n  note: slow\n"),
        (HEAD + "- Squat: 8, 2 RIR\n- Hinge, two legs: 8, RPE 8\n", "- Hinge, two legs: 8, 2 RIR\n"),
        (HEAD + "- Squat: 8, 2 RIR, 2-0-1\n", "- Squat: 8, 2 RIR, tempo 2-0-1\n"),
        (HEAD.replace("90 s", "90") + "- Squat: 8, 2 RIR\n", "Straight, 3 sets, rest 90 s\n"),
    ],
    ids=["kit", "kit where needs is empty", "kit where there is no needs", "sides", "effort", "tempo", "unit"],
)
def test_what_is_written(before: str, after: str, library: Library) -> None:
    assert after not in before
    mended = mend(before, "p.md", library, House())
    assert after in mended.text
    assert len(mended.text.splitlines()) - len(before.splitlines()) == after.count("needs:") - before.count("needs:")


def test_line_ends_stay(library: Library) -> None:
    text = ("---\nprogramme: P\n---\n\n" + HEAD + "- Step-up: 8/side, 2 RIR").replace("\n", "\r\n")
    mended = mend(text, "p.md", library, House()).text
    assert "programme: P\r\nneeds: step\r\n---\r\n" in mended
    assert mended.count("\n") == mended.count("\r\n") == text.count("\n") + 1
    assert not mended.endswith("\n")


def test_nothing_is_mended_that_a_coach_must_decide(library: Library) -> None:
    text = HEAD.replace(", rest 90 s", "") + "- Split squat: left 10, right 6\n- Squat: 3, 2 RIR\n"
    assert mend(text, "p.md", library, House()).text == text


DEMO = (files("ferrule.demo") / "programme.md").read_text(encoding="utf-8")
SLIPS = [
    ("/side", ""),
    (" 3 RIR", " RPE 7"),
    ("step or stair; ", ""),
    ("needs: mat; ", "needs: "),
    (" 90 s", " 90"),
    ("tempo ", ""),
]


@settings(max_examples=12, derandomize=True, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(SLIPS), st.integers(0, 8)), max_size=5))
def test_slips_in_the_demonstration_are_mended_once_and_the_weeks_stay(
    slips: list[tuple[tuple[str, str], int]],
) -> None:
    text = DEMO
    for (old, new), skip in slips:
        at = [m.start() for m in re.finditer(re.escape(old), text)]
        if at:
            place = at[skip % len(at)]
            text = text[:place] + new + text[place + len(old) :]
    library, _ = load_library({})
    before = Counter((f.code, f.level, f.what) for f in _findings(text, library))
    once = mend(text, "case.md", library, House())
    after = Counter((f.code, f.level, f.what) for f in _findings(once.text, library))
    assert after <= before
    assert [f.code for f in once.left if f.edits] == []
    assert mend(once.text, "case.md", library, House()).text == once.text
    assert len(once.text.splitlines()) == len(text.splitlines())


def test_edits_are_made_from_the_last_to_the_first() -> None:
    def at(line: int, first: int, last: int | None) -> Span:
        return Span("p.md", line, first, last)

    text = "one two\nthree\nfour\n"
    edits = [Edit(at(1, 1, 4), "1"), Edit(at(1, 5, 8), "2"), Edit(at(2, 1, None), ""), Edit(at(3, 5, 5), "\nfive")]
    assert applied(text, edits) == "1 2\nfour\nfive\n"
    assert applied(text, [Edit(at(9, 1, 2), "x")]) == text
