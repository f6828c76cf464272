"""What past weeks teach: foretold as it was then, frozen within a cycle, from 138 sets on, and in the printed chance."""

from __future__ import annotations

import random
from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.calibration import LEAST_SETS, NO_CALIBRATION, Stratum
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, Runner, Squad
from ferrule.next.conftest import FIRST, WEEK, made_runner
from ferrule.next.past import past_of, shared_on, versions_of
from ferrule.next.squad import beliefs_on, next_week, shared_for, told_of
from ferrule.programme.reader import read_programme
from ferrule.record.standing import standing_apart

TEXT = """---
programme: Six weeks
weeks: 6
sessions: 2 a week
---

## Cycle 1, weeks 1-3: Base

### Session 1: legs, 40 min

Straight, 3 sets, rest 90 s

- Press-up, knees: 8-10
- Step-down: 8/side
- Heel raise, knee bent, one leg: 8/side
- Bridge, one leg, foot raised: 8/side

## Cycle 2, weeks 4-6: More

### Session 1: legs, 40 min

Straight, 3 sets, rest 90 s

- Press-up, knees: 8-10
- Step-down: 8/side
- Heel raise, knee bent, one leg: 8/side
- Bridge, one leg, foot raised: 8/side
"""
VARIANTS = ("press-up-knees", "step-down", "heel-raise-bent-one-leg", "bridge-one-leg-feet-raised")
KNOWN = Stratum("known", "without load")
SQUAD = Squad("squad.csv", tuple(replace(made_runner(), id=f"R{n:02}") for n in range(1, 13)))
FOURTH = FIRST + 3 * WEEK


@pytest.fixture(scope="module")
def cycles(library: Library) -> Programme:
    made, findings = read_programme(TEXT, "programme.md", library)
    assert not [f for f in findings if f.level == "error"], findings
    return made


def week_told(week: int, runners: Iterable[Runner] = SQUAD.runners, seed: int = 1) -> list[Entry]:
    """Two days of four exercises, first sets, from 1; days are as unlike as no day is foretold to be."""
    made = []
    for runner in runners:
        rng = random.Random(f"{seed} {runner.id} {week}")
        for day in (0, 3):
            on = FIRST + (week - 1) * WEEK + timedelta(days=day)
            for variant in VARIANTS:
                asked = rng.choice((10, 12, 14))
                done = 12 + rng.choice((-5, -3, 0, 2, 4))
                told = LoggedSet(
                    f"{runner.id}-{on}-{variant}", runner.id, on, f"{1 + day}", variant, variant, 1,
                    "failed" if done < asked else "counted", asked=asked, done=done,
                    reserve=None if done < asked else Reserve(1, 1), effort_asked=True,
                )  # fmt: skip
                made.append(
                    Entry(told.entry_id, runner.id, datetime(on.year, on.month, on.day, 20, tzinfo=UTC), "page", told)
                )
    return made


@pytest.fixture(scope="module")
def three_weeks() -> list[Entry]:
    return [e for week in (1, 2, 3) for e in week_told(week)]


def on(cycles: Programme, library: Library, entries: Iterable[Entry], monday: date = FOURTH) -> Capacity:
    return beliefs_on(cycles, SQUAD, library, entries, monday)[0]["R01"]


def test_without_sets_there_is_no_calibration(cycles: Programme, library: Library) -> None:
    for monday in (FIRST, FOURTH):
        shared = shared_for(cycles, SQUAD, library, (), SQUAD.runners[0], monday)
        assert shared.calibration is NO_CALIBRATION
    this_week = week_told(1)
    assert on(cycles, library, this_week, FIRST + WEEK).calibration.version == 202603
    assert shared_for(cycles, SQUAD, library, this_week, SQUAD.runners[0], FIRST).calibration is NO_CALIBRATION


def test_fewer_than_138_correct_nothing_and_say_so(cycles: Programme, library: Library) -> None:
    """The finding week: 96 sets."""
    known = on(cycles, library, week_told(1), FIRST + WEEK)
    assert known.calibration.of(KNOWN).same
    assert "too few" in known.calibration.words(KNOWN)


def test_each_past_week_is_foretold_as_it_was_then(
    cycles: Programme, library: Library, three_weeks: list[Entry]
) -> None:
    """Foretold of week 3, told with the belief of its Monday: no set of week 3 or later is in it."""
    stand = standing_apart(three_weeks)
    whole = past_of(cycles, SQUAD, library, stand, FOURTH)
    shorter = past_of(
        cycles, SQUAD, library, standing_apart(e for e in three_weeks if _day(e) < FIRST + 2 * WEEK), FIRST + 2 * WEEK
    )
    assert [c for c in whole.compared if c.day < FIRST + 2 * WEEK] == list(shorter.compared)
    assert sum(not c.finding for c in whole.compared) > 180  # of 192; others lie too far off to be no slip
    assert {c.stratum.known for c in whole.compared if not c.finding} == {"known"}
    assert {v.counts_from for v in whole.offsets} == {FIRST, FIRST + WEEK, FOURTH}
    assert all(c.finding for c in whole.compared if c.day < FIRST + WEEK)


def test_138_sets_of_a_kind_move_the_printed_chance(
    cycles: Programme, library: Library, house: House, three_weeks: list[Entry]
) -> None:
    told = told_of(cycles, SQUAD, library, house, FOURTH, sent={}, entries=three_weeks)
    known = told.beliefs["R01"]
    by = known.calibration.strata[KNOWN]
    assert by.sets >= LEAST_SETS
    assert (by.shift, by.factor) == (0.0, 1.0)  # chances alone are corrected, no dose is
    assert 0 < by.slope < 1  # days were less alike than foretold
    without = {r: replace(b, calibration=NO_CALIBRATION) for r, b in told.beliefs.items()}
    week, plain = (
        next_week(cycles, library, house, t).week.outcomes[0] for t in (told, replace(told, beliefs=without))
    )
    assert isinstance(week, FittedWeek)
    assert isinstance(plain, FittedWeek)
    moved = 0
    for after, before in zip(_items(week), _items(plain), strict=True):
        assert (after.variant_id, after.reps, after.load) == (before.variant_id, before.reps, before.load)
        if after.prediction is None or before.prediction is None or after.load is not None:
            continue
        if after.variant_id in VARIANTS:
            assert after.prediction.p_complete == pytest.approx(by.chance(before.prediction.p_complete), abs=1e-9)
            moved += after.prediction.p_complete != before.prediction.p_complete
    assert moved


def test_it_is_frozen_within_the_cycle(cycles: Programme, library: Library, three_weeks: list[Entry]) -> None:
    """What week 5 tells moves no correction in week 6: that counts from the version of week 5 on, made of weeks 1 to 4."""
    fourth = week_told(4)
    fifth = on(cycles, library, [*three_weeks, *fourth], FIRST + 4 * WEEK).calibration
    sixth = on(cycles, library, [*three_weeks, *fourth, *week_told(5)], FIRST + 5 * WEEK).calibration
    assert fifth == sixth
    assert fifth != on(cycles, library, three_weeks).calibration


def test_each_reads_the_version_of_their_own_cycle(
    cycles: Programme, library: Library, three_weeks: list[Entry]
) -> None:
    """A runner two weeks behind is in the first cycle still, and nobody without a place in the programme is corrected."""
    anchor = SQUAD.runners[1].anchor
    assert anchor is not None
    late = replace(SQUAD.runners[1], anchor=replace(anchor, day=FIRST + 2 * WEEK))
    none = replace(SQUAD.runners[2], anchor=None)
    squad = replace(SQUAD, runners=(SQUAD.runners[0], late, none, *SQUAD.runners[3:]))
    made = shared_on(cycles, squad, library, standing_apart(three_weeks), squad.runners, FOURTH)
    assert made["R01"].calibration.version == made["R04"].calibration.version == 202605
    assert versions_of(cycles, late)[1].counts_from == FOURTH
    assert made["R02"] == made["R01"]  # both have a version that begins on this Monday
    assert made["R03"].calibration is NO_CALIBRATION
    assert not made["R03"].offsets.names


@settings(derandomize=True, max_examples=5, deadline=None)
@given(st.randoms(use_true_random=False))
def test_the_order_of_arrival_does_not_matter(
    cycles: Programme, library: Library, three_weeks: list[Entry], order: random.Random
) -> None:
    mixed = [*three_weeks, *three_weeks[:30]]
    order.shuffle(mixed)
    assert on(cycles, library, mixed) == on(cycles, library, three_weeks)


def _day(entry: Entry) -> date:
    assert isinstance(entry.fact, LoggedSet)
    return entry.fact.day


def _items(week: FittedWeek) -> list:  # type: ignore[type-arg]
    return [i for s in week.sessions for b in s.blocks for i in b.items]
