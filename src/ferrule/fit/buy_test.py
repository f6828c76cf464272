"""What to buy: found by fitting again, ranked, ties said."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from ferrule.fit.bounds import Own
from ferrule.fit.buy import Gain, LineGain, effort_of, lines_of, owns, ranked, things, what_to_buy
from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.runner import fit_runner
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Anchor, KitItem, Runner
from ferrule.programme.reader import read_programme

START = Anchor("from", date(2026, 1, 19), Span("s.csv", 2))
ROW = """---
programme: Pull
weeks: 2
sessions: 2 a week
---

## Cycle 1, weeks 1-2: Pull

### Session 1: pull, 30 min

Straight, 3 sets, rest 2 min

- Hip thrust, two legs: 8

### Session 2: push, 30 min

Straight, 3 sets, rest 2 min

- Press-up, wall: 8
"""


@pytest.fixture(scope="module")
def thrust(library: Library) -> Programme:
    return read_programme(ROW, "p.md", library)[0]


def asked(programme: Programme, library: Library, runner: Runner, *names: str) -> tuple[Gain, ...]:
    shop, unread = things(names)
    assert not unread
    (_, gains), *rest = what_to_buy(programme, [runner], library, House(), MONDAY, shop)
    assert not rest
    return gains


def test_a_bench_brings_the_line_back_to_the_text(thrust: Programme, library: Library, make_runner: MakeRunner) -> None:
    """The written exercise needs a bench or sofa; with nothing of the kind the line is something else."""
    runner = make_runner(kit=(KitItem("mat"),), anchor=START)
    gains = asked(thrust, library, runner, "bench 45 cm", "doorway bar")
    assert [g.thing for g in gains if g.better] == ["bench 45 cm"]
    line = gains[0].better[0]
    assert (line.session_key, line.how) == ("1", "as written")
    assert line.now.startswith("Hip thrust, two legs")
    # and it is what a fit with that kit says
    bench = fit_runner(
        thrust, replace(runner, kit=(*runner.kit, KitItem("bench", height_cm=45))), library, House(), MONDAY
    )
    assert isinstance(bench, FittedWeek)
    assert not any(i.departs for i in lines_of(bench).values())
    alone = fit_runner(thrust, runner, library, House(), MONDAY)
    assert gains[0].effort == pytest.approx(effort_of(alone) - effort_of(bench), abs=0.006)


def test_nothing_is_said_of_what_is_owned_or_changes_nothing(
    thrust: Programme, library: Library, make_runner: MakeRunner
) -> None:
    kit = (KitItem("mat"), KitItem("bench", height_cm=45))
    runner = make_runner(kit=kit, anchor=START)
    assert asked(thrust, library, runner, "mat", "bench 45 cm", "rope") == ()


def test_owning_counts_pieces() -> None:
    two, _ = things(["dumbbell 8 kg x 2"])
    assert not owns((KitItem("dumbbell", 1, kg=8),), two[0])
    assert owns((KitItem("dumbbell", 1, kg=8), KitItem("dumbbell", 1, kg=8)), two[0])
    assert not owns((KitItem("dumbbell", 2, kg=10),), two[0])


def test_what_cannot_be_read_is_told() -> None:
    found, unread = things(["a bag of wind", "mat"])
    assert [t.name for t in found] == ["mat"]
    assert unread[0].code == "unreadable-kit"


def gain(thing: str, lines: int, effort: float, runner: str = "R1", *, possible: bool = False) -> Gain:
    line = LineGain("1", "A1", "x", "y", "x", "as written")
    return Gain(runner, runner, thing, (line,) * lines, (), effort, possible)


def test_the_order_is_weeks_then_lines_then_effort_and_ties_are_said() -> None:
    found = ranked(
        [gain("a", 1, 5.0), gain("b", 2, 0.5), gain("c", 0, 1.0), gain("d", 0, 0, possible=True), gain("e", 0, 1.0),
         gain("b", 1, 0.5, "R2"), gain("f", 0, -2.0)]
    )  # fmt: skip
    assert [a.thing for a in found] == ["d", "b", "a", "c", "e"]
    assert [a.tied for a in found] == [False, False, False, True, False]
    assert found[1].lines == 3


def test_the_week_is_the_one_the_record_makes(thrust: Programme, library: Library, make_runner: MakeRunner) -> None:
    runner = make_runner(kit=(KitItem("mat"),), anchor=START)
    shop, _ = things(["bench 45 cm"])
    bridges = read_programme(ROW.replace("Hip thrust", "Bridge"), "p.md", library)[0]
    ((_, gains),) = what_to_buy(thrust, [runner], library, House(), MONDAY, shop, own={runner.id: Own(bridges)})
    assert not any(g.better for g in gains)
