"""All checks together: order, allows, switched-off rules, speed, and the demonstration programme."""

from __future__ import annotations

from importlib.resources import files
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.check.house import read_house
from ferrule.check.minutes import written_minutes
from ferrule.check.run import check
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, has_errors, in_order
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.programme.reader import read_programme
from ferrule.programme.weeks import week_of

TWO_BLOCKS = """\
{top}
## Cycle 1, weeks 1-2: Try

### Session 1: legs, 60 min

{first}
Pair A, 3 rounds, rest 90 s

- Squat: 8, 2 RIR
- Step-up: 8/side, 2 RIR

Pair B, 3 rounds, rest 90 s

- Squat: 8, 2 RIR
- Step-up: 8/side, 2 RIR
"""
A_MOMENT_S = 0.02
"""A six-week programme is checked in this time; on a busy machine the quickest of many runs counts."""


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library({})[0]


@pytest.fixture(scope="module")
def demo(library: Library) -> Programme:
    data = (files("ferrule.demo") / "programme.md").read_bytes()
    programme, findings = read_programme(data, "programme.md", library)
    assert findings == ()
    return programme


def _check(library: Library, top: str = "", first: str = "", house: House | None = None) -> list[Finding]:
    text = TWO_BLOCKS.format(top=top, first=first)
    programme, findings = read_programme(text, "p.md", library)
    assert not has_errors(findings)
    return [f for f in check(programme, library, house or House()) if f.code.startswith(("pair-clash", "allow"))]


def test_findings_come_in_order_each_once(library: Library) -> None:
    programme, _ = read_programme(TWO_BLOCKS.format(top="", first=""), "p.md", library)
    found = check(programme, library, House())
    assert found == in_order(found)
    assert len({(f.code, f.span, f.what) for f in found}) == len(found) > 5


def test_both_pairs_clash(library: Library) -> None:
    assert [f.level for f in _check(library)] == ["advice", "advice"]


def test_an_error_is_neither_allowed_nor_switched_off(library: Library) -> None:
    text = (
        "<!-- allow pain-line: we are tough -->\n\n## Cycle 1, weeks 1-2: Try\n\n### Session 1: legs, 20 min\n\n"
        "Straight, 3 sets, rest 90 s\n\n- Squat: 8, 2 RIR\n  if pain above 8: stop\n"
    )
    programme, _ = read_programme(text, "p.md", library)
    found = check(programme, library, House(switched_off=frozenset({"pain-line"})))
    assert [f.level for f in found if f.code == "pain-line"] == ["error"]


def test_a_rule_switched_off_is_silent(library: Library) -> None:
    assert _check(library, house=House(switched_off=frozenset({"pair-clash"}))) == []


def test_a_programme_without_weeks_has_no_findings(library: Library) -> None:
    programme, _ = read_programme("", "p.md", library)
    assert check(programme, library, House()) == ()


def test_the_demonstration_programme_is_sound(demo: Programme, library: Library) -> None:
    house, findings = read_house((files("ferrule.demo") / "house.toml").read_bytes(), "house.toml")
    assert findings == ()
    found = check(demo, library, house)
    assert [f for f in found if f.level == "error"] == []
    assert [f.what for f in found if f.level == "advice"] == []
    assert 1 <= sum(f.level == "note" for f in found) <= 3, "one written allow shows how it is done"


def test_the_demonstration_programme_uses_the_notation(demo: Programme) -> None:
    weeks = [week_of(demo, n) for n in range(1, 7)]
    assert [w.week for w in weeks if w] == [1, 2, 3, 4, 5, 6]
    assert week_of(demo, 7) is None
    blocks = [b for c in demo.cycles for s in c.sessions for b in s.blocks]
    items = [i for b in blocks for i in b.items]
    assert {b.kind for b in blocks} == {"warm-up", "pair", "circuit", "straight"}
    assert any(b.table for b in blocks)
    assert any(i.alternatives for i in items)
    assert any(i.dose.tempo for i in items)
    assert any(i.dose.pause_s for i in items)
    assert any(i.dose.hold_s for i in items)
    assert any(i.dose.rir and not i.dose.rir.single for i in items)
    assert any(i.notes for i in items)
    assert demo.conditions or any(i.conditions for i in items)
    assert all(i.exercise is not None for i in items)


def test_the_last_week_of_the_demonstration_is_easier_and_every_session_keeps_its_minutes(
    demo: Programme, library: Library
) -> None:
    for number in range(1, 7):
        week = week_of(demo, number)
        assert week is not None
        for session in week.sessions:
            assert session.minutes is not None
            assert written_minutes(session, library) <= session.minutes + 1, (number, session.key)


def test_checks_take_a_moment(demo: Programme, library: Library) -> None:
    best = 1.0
    for _ in range(40):
        start = perf_counter()
        check(demo, library, House())
        best = min(best, perf_counter() - start)
        if best < A_MOMENT_S:
            break
    assert best < A_MOMENT_S


def test_a_programme_of_many_years_is_checked_for_two(library: Library) -> None:
    text = TWO_BLOCKS.format(top="", first="").replace("weeks 1-2", "weeks 1-3000")
    programme, _ = read_programme(text, "p.md", library)
    found = check(programme, library, House())
    assert [f.code for f in found].count("weeks-not-checked") == (programme.weeks > 104)
    assert len(found) < 40


LINES = (files("ferrule.demo") / "programme.md").read_text(encoding="utf-8").splitlines()
MORE = [
    "- Squat: max, 120 % 1RM",
    "## Cycle 9, weeks 4-2",
    "- any hop: 9 contacts/side",
    "<!-- allow x: -->",
    "Circuit, 0 rounds",
]


@settings(max_examples=40, derandomize=True, deadline=None)
@given(
    cut=st.integers(0, len(LINES)),
    gone=st.sets(st.integers(0, len(LINES) - 1), max_size=30),
    more=st.lists(st.tuples(st.integers(0, len(LINES) - 1), st.sampled_from(MORE)), max_size=4),
)
def test_checks_stand_on_whatever_could_be_read(cut: int, gone: set[int], more: list[tuple[int, str]]) -> None:
    lines = ["" if n in gone else line for n, line in enumerate(LINES[:cut])]
    for at, line in more:
        lines.insert(min(at, len(lines)), line)
    library, _ = load_library({})
    programme, _ = read_programme("\n".join(lines), "p.md", library)
    found = check(programme, library, House())
    assert found == in_order(found)
    assert all(f.what and f.fix and f.why for f in found)
