"""The loop on the demo programme: the same for a seed, safe in every week, and what bodies and reports are made of."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from importlib.resources import files

import numpy as np
import pytest

from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.fact import PainTold, SessionTold, WeekTold
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.quantity import Range
from ferrule.programme.reader import read_programme
from ferrule.simulate.dry_run import DryRun, band_of, dry_run
from ferrule.simulate.dry_run_life import Life, Nature, live_week
from ferrule.simulate.dry_run_squad import MONDAY, as_often, begins, invented_squad
from ferrule.simulate.fair import HONEST, fair_body, fair_world, truth_of
from ferrule.simulate.reports import Habits
from ferrule.simulate.truth import make_body, possible
from ferrule.simulate.world import make_world
from ferrule.squad.reader import read_squad

RUNNERS, WEEKS = 8, 5


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library()[0]


@pytest.fixture(scope="module")
def programme(library: Library) -> Programme:
    return read_programme((files("ferrule.demo") / "programme.md").read_bytes(), "programme.md", library)[0]


@pytest.fixture(scope="module")
def run(programme: Programme, library: Library) -> DryRun:
    squad = invented_squad(programme, library, RUNNERS, 7)
    return dry_run(programme, squad, library, House(), WEEKS, seed=7)


def test_no_safety_rule_breaks(run: DryRun) -> None:
    """A small run; bench/dry_run.py makes 2,000 runner-weeks of it."""
    assert run.broken == ()
    assert len(run.sent) >= 0.9 * RUNNERS * WEEKS


def test_the_run_has_lines_failures_misses_and_pain(run: DryRun) -> None:
    lines = [x for w in run.sent for x in w.lines]
    assert len(lines) > 5 * len(run.sent)
    assert {x.effort for x in lines} == {"too easy", "right", "too hard"}
    assert sum(w.missed for w in run.sent) > 0
    assert any(w.hurt > 0 for w in run.sent)
    assert all(x.reachable is None for x in lines)


def test_a_fair_world_knows_what_can_be_reached(programme: Programme, library: Library) -> None:
    squad = invented_squad(programme, library, 3, 2)
    found = dry_run(programme, squad, library, House(), 2, seed=2, fair=True)
    again = dry_run(programme, squad, library, House(), 2, seed=2, fair=True)
    assert found == again
    lines = [x for w in found.sent for x in w.lines]
    assert {x.reachable for x in lines} == {True, False}
    assert sum(w.missed for w in found.sent) == 0


def test_in_a_fair_world_the_model_knows_what_is_possible(library: Library) -> None:
    """Knowing the body, the model's own curve foretells the truth: within its rounding of the person's own steepness."""
    from ferrule.capacity import curves

    world = fair_world(library, np.random.default_rng(1))
    squad, _ = read_squad(b"id,name,level\nA,Ada,some\n", "s.csv", library)
    body = replace(fair_body(squad.runners[0], world, 2026, np.random.default_rng(2)), tau=0.0)
    known = truth_of(squad.runners[0], world, body)
    for variant_id, asks in world.variants.items():
        if asks.hold:
            continue
        main = library.variants[variant_id].main
        assert main is not None
        share = main.base / np.exp(known.of(library.variants[variant_id])[0])
        foretold = min(60.0, max(0.3, curves.reps_at(float(share), curves.k_of(main.group))))
        assert possible(world, body, asks, 0.0) == pytest.approx(foretold, rel=0.03)


def item(**fields: object) -> FittedItem:
    base = FittedItem(
        "A",
        "Squat",
        "squat",
        "Squat",
        3,
        None,
        None,
        None,
        None,
        False,
        False,
        None,
        None,
        None,
        None,
        None,
        None,
        (),
        False,
    )
    return replace(base, **fields)  # type: ignore[arg-type]


def test_the_band_meant_is_that_of_the_notation() -> None:
    assert band_of(item(reps=Range(5, 7), rir=Range(2, 2))) == (7, 9, 7)
    assert band_of(item(reps=Range(8, 8), rir=Range(2, 2))) == (10, 11, 8)
    assert band_of(item(reps=Range(8, 8))) == (9, float("inf"), 8)
    assert band_of(item(hold_s=Range(30, 30), rir=Range(2, 3))) == (12, 14, 10)
    assert band_of(item(per_set=(12, 10, 8), rir=Range(1, 1))) == (13, 14, 12)
    assert band_of(item(distance_m=Range(20, 20))) is None


def test_invented_homes_hold_what_the_programme_needs(programme: Programme, library: Library) -> None:
    squad = invented_squad(replace(programme, needs=("bench 45 cm",)), library, 12, 3)
    assert len(squad.runners) == 12
    assert all(any(k.kind == "bench" for k in r.kit) for r in squad.runners)
    assert len({r.kit for r in squad.runners}) > 2
    assert begins(squad) == MONDAY


def test_a_list_is_taken_as_often_as_it_takes(library: Library) -> None:
    text = b"id,name,anchor,races\nA,Ada,to race 2026-06-07,2026-06-07\nB,Ben,from 2026-03-04,\n"
    squad = as_often(read_squad(text, "s.csv", library)[0], 5)
    assert [r.id for r in squad.runners] == ["A", "B", "A-2", "B-2", "A-3"]
    assert {r.anchor.day for r in squad.runners if r.anchor} == {date(2026, 3, 2)}
    assert all(r.races == () for r in squad.runners)


def lived(programme: Programme, library: Library, nature: Nature, weeks: int = 1) -> list[object]:
    """Facts that one runner tells of the first week, done `weeks` times."""
    from ferrule.fit.squad import fit_squad

    squad = invented_squad(programme, library, 1, 5)
    week = fit_squad(programme, squad, library, House(), MONDAY).outcomes[0]
    assert isinstance(week, FittedWeek)
    world = make_world(library, np.random.default_rng(1))
    rng = np.random.default_rng(2)
    life = Life(make_body(squad.runners[0], world, 2026, rng))
    facts: list[object] = []
    for _ in range(weeks):
        found = live_week(life, nature, week, "copy", world, library, rng, fair=False)
        life = found.life
        facts += [e.fact for e in found.entries]
    return facts


def test_each_tells_in_their_way(programme: Programme, library: Library) -> None:
    nature = Nature("sets", HONEST, 0.0, 1.0, 0.0)
    sets = [f for f in lived(programme, library, nature) if isinstance(f, LoggedSet)]
    assert {s.outcome for s in sets} >= {"counted"}
    taps = [f for f in lived(programme, library, replace(nature, telling="taps")) if isinstance(f, LoggedSet)]
    assert {s.outcome for s in taps} == {"tapped"}
    assert {type(f) for f in lived(programme, library, replace(nature, telling="weekly"))} == {WeekTold}
    assert lived(programme, library, replace(nature, telling="silent")) == []
    missing = lived(programme, library, replace(nature, misses=1.0))
    assert {type(f) for f in missing} == {SessionTold}
    assert {f.outcome for f in missing if isinstance(f, SessionTold)} == {"none"}


def test_pain_comes_and_goes_and_some_stay_away(programme: Programme, library: Library) -> None:
    facts = lived(programme, library, Nature("sets", Habits(in_range=True), 0.0, 1.0, 0.0), weeks=60)
    pains = [f for f in facts if isinstance(f, PainTold)]
    assert {p.side for p in pains} == {"left", "right"}
    assert any(p.morning is None for p in pains)
    assert any(p.worst and p.worst >= 4 for p in pains)


def test_effort_ends_a_set_inside_its_range(programme: Programme, library: Library) -> None:
    """With an effort to keep, nobody goes on beyond the top of the range, nor stops below it with more to give."""
    nature = Nature("sets", replace(HONEST, writes=True), 0.0, 1.0, 0.0)
    sets = [f for f in lived(programme, library, nature) if isinstance(f, LoggedSet) and f.unit == "reps"]
    assert max(s.done or 0 for s in sets) <= 20
    assert all(s.outcome == "failed" for s in sets if s.done is not None and s.asked is not None and s.done < s.asked)
