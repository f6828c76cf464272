"""Optima that a solver finds and a coach would not: each as a property over runners of every kind.

The bottom of every range, the lightest weight, the easiest alternative of each `or`, churn between equals, one day pattern for
all (design, section 8).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import time, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ferrule.capacity.prior import prior_capacity
from ferrule.fit.build import Laid
from ferrule.fit.conftest import KIT, MONDAY, MakeRunner
from ferrule.fit.growth_test import programme_with
from ferrule.fit.runner import fit_runner, lay
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, KitItem, Run, Runner
from ferrule.model.words import GROUPS
from ferrule.programme.weeks import week_of

QUICK = settings(max_examples=20, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
SEX = st.sampled_from(["female", "male"])
LEVEL = st.sampled_from(["never", "some", "regular", "strong"])
ABOVE = st.floats(-0.5, 0.9)
"""How far the runner is above the prior, on the log axis."""
Fit = Callable[..., FittedWeek]


def belief(runner: Runner, above: float) -> Capacity:
    prior = prior_capacity(runner, MONDAY.year)
    return replace(prior, mean_log={g: prior.mean_log[g] + above for g in GROUPS}, sd_log=dict.fromkeys(GROUPS, 0.1))


@pytest.fixture(scope="module")
def fit(programme: Programme, library: Library, house: House) -> Fit:
    def one(
        runner: Runner, *, above: float | None = None, last: FittedWeek | None = None, weeks: int = 0,
        of: Programme = programme,
    ) -> FittedWeek:  # fmt: skip
        capacity = None if above is None else belief(runner, above)
        week = fit_runner(of, runner, library, house, MONDAY + timedelta(weeks=weeks), last, capacity=capacity)
        assert isinstance(week, FittedWeek)
        return week

    return one


def items(week: FittedWeek) -> list[FittedItem]:
    return [i for s in week.sessions for b in s.blocks for i in b.items]


@QUICK
@given(level=LEVEL, sex=SEX, above=ABOVE)
def test_never_the_bottom_of_a_range(
    fit: Fit, programme: Programme, make_runner: MakeRunner, level: str, sex: str, above: float
) -> None:
    """The printed range is the coach's whole range, and rounds stay at its top while there is time."""
    week = fit(make_runner(level=level, sex=sex, minutes=None), above=above)
    written = week_of(programme, week.programme_week)
    assert written is not None
    lines = {(s.key, i.key): (i, b) for s in written.sessions for b in s.blocks for i in b.items}
    for session in week.sessions:
        for block in session.blocks:
            for item in block.items:
                line, own = lines[session.key, item.item_key]
                assert item.reps in [d.reps for d in (line.dose, *(a.dose for a in line.alternatives))]
                assert own.sets is None or block.rounds == own.sets.high or "instead of" in str(session.reasons)


@QUICK
@given(kgs=st.sets(st.integers(2, 24), min_size=3, max_size=8), above=st.floats(0.0, 0.9))
def test_the_load_is_the_best_of_those_owned_and_not_the_lightest(
    fit: Fit, library: Library, house: House, make_runner: MakeRunner, kgs: set[int], above: float
) -> None:
    """Of one exercise with a free load, no other load that is owned comes nearer to the effort by more than the margin."""
    kit = (KitItem("step", height_cm=30), *(KitItem("dumbbell", 1, kg=float(kg)) for kg in sorted(kgs)))
    runner, programme = make_runner(kit=kit), programme_with(library)
    (item,) = items(fit(runner, above=above, of=programme))
    laid = lay(programme, runner, library, house, MONDAY, capacity=belief(runner, above))
    assert isinstance(laid, Laid)
    same = [c for c in laid.lines[0].choices.choices if c.variant is not None and c.variant.id == item.variant_id]
    mine = next(c for c in same if c.load == item.load)
    best = min(c.expected_loss for c in same)
    assert mine.expected_loss <= best + house.value("hysteresis") + 1e-9
    loaded = [c for c in same if c.load is not None]
    if item.load is not None:  # among weights, which cost the text the same, the nearest to the effort is taken
        assert mine.expected_loss <= min(c.expected_loss for c in loaded) + 1e-9


@QUICK
@given(sex=SEX, low=st.floats(-0.4, 0.0), more=st.floats(0.3, 0.9))
def test_who_can_do_more_never_gets_an_easier_alternative(
    fit: Fit, library: Library, make_runner: MakeRunner, sex: str, low: float, more: float
) -> None:
    """Raising the belief never lowers what a dosed line asks (a bodyweight line: one family, no load)."""
    runner = make_runner(sex=sex)
    asked: list[dict[str, float]] = []
    for above in (low, low + more):
        out = {}
        for s in fit(runner, above=above).sessions:
            for i in (i for b in s.blocks for i in b.items):
                main = library.variants[i.variant_id].main if i.variant_id in library.variants else None
                if main is not None and i.written == "Press-up":
                    kg, place = (0.0, None) if i.load is None else (i.load.kg, i.load.place)
                    out[f"{s.key} {i.item_key}"] = main.demand(kg, place, 60.0)
        asked.append(out)
    assert asked[0]
    for key, before in asked[0].items():
        assert asked[1][key] >= before - 1e-9, key


@QUICK
@given(sex=SEX, above=st.floats(0.6, 1.2))
def test_a_runner_for_whom_the_text_is_right_gets_the_text_and_not_its_easy_alternatives(
    fit: Fit, make_runner: MakeRunner, sex: str, above: float
) -> None:
    week = fit(make_runner(sex=sex, kit=()), above=above)
    easy = {"press-up-hands-raised", "press-up-knees", "heel-raise-two-legs", "heel-raise-bent-two-legs"}
    assert not easy & {i.variant_id for i in items(week)}


@QUICK
@given(level=LEVEL, sex=SEX, above=ABOVE, jitter=st.floats(-0.01, 0.01))
def test_no_churn_between_equals(
    fit: Fit, make_runner: MakeRunner, level: str, sex: str, above: float, jitter: float
) -> None:
    """The same week after a week like it, with a belief that moved by a hair: exercises whose margin did not flip stay."""
    runner = make_runner(level=level, sex=sex)
    first = fit(runner, above=above)
    again = fit(runner, above=above, last=replace(first, programme_week=2, monday=MONDAY - timedelta(weeks=1)))
    assert [i.variant_id for i in items(again)] == [i.variant_id for i in items(first)]
    assert [s.day for s in again.sessions] == [s.day for s in first.sessions]
    near = fit(runner, above=above + jitter, last=first, weeks=1)
    changed = sum(a.variant_id != b.variant_id for a, b in zip(items(first), items(near), strict=False))
    assert changed <= 0.1 * len(items(first)) + 1


RUNS = st.lists(
    st.builds(Run, st.integers(0, 6), st.sampled_from(["key", "long"]), st.just(time(18))),
    min_size=1, max_size=2, unique_by=lambda r: r.day,
).map(tuple)  # fmt: skip


@QUICK
@given(runs=RUNS, shift=st.integers(1, 6))
def test_not_one_day_pattern_for_all(fit: Fit, make_runner: MakeRunner, runs: tuple[Run, ...], shift: int) -> None:
    """Each runner's days follow their own runs: none is the day before or of a key run, wherever in the week it lies."""
    every = tuple(range(7))
    moved = tuple(replace(r, day=(r.day + shift) % 7) for r in runs)
    patterns = []
    for own in (runs, moved):
        week = fit(make_runner(days=every, runs=own, kit=KIT))
        days = {s.day.weekday() for s in week.sessions}
        assert not days & {r.day for r in own if r.kind in ("key", "long")}
        patterns.append(days)
    if patterns[0] == patterns[1]:  # one pattern may serve both only where it keeps clear of both
        assert not patterns[0] & {r.day for own in (runs, moved) for r in own}
