"""One change of the text: tried by refitting, counted, and never better than it is."""

from __future__ import annotations

from datetime import date

import pytest

from ferrule.fit.conftest import KIT, MakeRunner
from ferrule.fit.one_change import OneChange, off_text, one_change
from ferrule.fit.runner import fit_runner
from ferrule.model.exercise import Library
from ferrule.model.finding import Span, has_errors
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.squad import Anchor, FieldTest, Squad
from ferrule.programme.reader import read_programme

MONDAY = date(2026, 1, 12)
START = Anchor("from", date(2026, 1, 5), Span("s.csv", 2))
TEXT = """---
programme: Push
weeks: 3
sessions: 2 a week
---

## Cycle 1, weeks 1-3: Push

### Session 1: push, 30 min

Pair A, 3 rounds, rest 90 s

- Press-up: 10-12, 2 RIR
  note: Chest to the floor.
- Side plank: 20 s/side

| week          | 1 | 2 | 3 |
|---------------|---|---|---|
| Press-up: RIR | 3 |   | 2 |

### Session 2: legs, 30 min

Straight, 3 sets, rest 2 min

- Squat: 8
"""


@pytest.fixture(scope="module")
def weak(make_runner: MakeRunner) -> Squad:
    """Three who cannot do the press-ups, one who can."""
    tests = (("T1", 3), ("T2", 4), ("T3", 5), ("T4", 16))
    return Squad("s.csv", tuple(
        make_runner(id=r, name=r, tests=(FieldTest("press-ups", n),), kit=KIT, anchor=START) for r, n in tests
    ))  # fmt: skip


@pytest.fixture(scope="module")
def found(weak: Squad, library: Library) -> OneChange:
    return one_change(TEXT, weak, library, House(), MONDAY)


def test_an_alternative_brings_the_moved_ones_back(found: OneChange) -> None:
    assert found.off >= 3
    best = found.suggestions[0]
    assert (best.session_key, best.item_key, best.edit.kind) == ("1", "A1", "alternative")
    assert set(best.runners) == {"T1", "T2", "T3"}
    assert best.net == 3
    assert found.tried <= found.possible


def test_what_is_told_is_what_a_fit_of_the_squad_says(found: OneChange, weak: Squad, library: Library) -> None:
    for told in found.suggestions:
        programme, findings = read_programme(told.edit.text, "p.md", library)
        assert not has_errors(findings)
        off = sum(len(off_text(programme, fit_runner(programme, r, library, House(), MONDAY))) for r in weak.runners)
        assert off == found.off - told.net


def test_suggestions_come_best_first_and_never_win_nothing(found: OneChange) -> None:
    nets = [s.net for s in found.suggestions]
    assert nets == sorted(nets, reverse=True)
    assert all(n > 0 for n in nets)


def test_nobody_off_the_text_needs_no_change(weak: Squad, library: Library) -> None:
    strong = Squad("s.csv", weak.runners[3:])
    easy = TEXT.replace("10-12, 2 RIR", "5").replace("| Press-up: RIR | 3 |   | 2 |\n", "| rounds | 3 | | |\n")
    programme, findings = read_programme(easy, "p.md", library)
    assert not has_errors(findings)
    week = fit_runner(programme, strong.runners[0], library, House(), MONDAY)
    assert isinstance(week, FittedWeek)
    assert off_text(programme, week) == frozenset()
    assert one_change(easy, strong, library, House(), MONDAY) == OneChange(0, (), 0, 0, 0)


def test_a_pool_gives_the_same_answer(found: OneChange, weak: Squad, library: Library) -> None:
    assert one_change(TEXT, weak, library, House(), MONDAY, workers=2) == found
