"""Ways out: each one offered really works, none smaller exists, and they are told smallest and most useful first."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ferrule.fit.build import Laid
from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner, lay
from ferrule.fit.verify import verify
from ferrule.fit.ways import Change, free_times, line_changes, time_changes, ways_out
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek, Impossible
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Limit, Run, Runner, Wish
from ferrule.programme.reader import read_programme

TEXT = """---
programme: Two short ones
weeks: 6
sessions: 2 a week
---

## Cycle 1, weeks 1-6: Legs

### Session 1, 20 min

Straight, 2 sets, rest 60 s

- Split squat: 8/side, 3 RIR

### Session 2, 20 min

Straight, 2 sets, rest 60 s

- Heel raise, two legs: 12
"""


@pytest.fixture(scope="module")
def short(library: Library) -> Programme:
    programme, findings = read_programme(TEXT, "p.md", library)
    assert not findings
    return programme


def laid_of(programme: Programme, runner: Runner, library: Library, house: House) -> Laid:
    laid = lay(programme, runner, library, house, MONDAY)
    assert isinstance(laid, Laid)
    return laid


def has_week(programme: Programme, library: Library, runner: Runner, house: House) -> int:
    """Sessions with a day after a whole fit of this runner by the public function; 0 when there is no week."""
    week = fit_runner(programme, runner, library, house, MONDAY)
    if isinstance(week, Impossible):
        return 0
    assert isinstance(week, FittedWeek)
    assert verify(week, programme, runner, library, house, capacity_of(runner, MONDAY)) == ()
    return len(week.sessions)


def after(changes: tuple[Change, ...], runner: Runner, house: House) -> tuple[Runner, House]:
    for change in changes:
        runner, house = change.apply(runner, house)
    return runner, house


RUNS = st.lists(
    st.builds(Run, st.integers(0, 6), st.sampled_from(["key", "long", "easy"]), st.sampled_from([time(6), time(12), time(18)])),
    min_size=3, max_size=5, unique_by=lambda r: r.day,
).map(tuple)  # fmt: skip


@settings(max_examples=6, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(days=st.sets(st.integers(0, 6), max_size=1).map(lambda d: tuple(sorted(d))), runs=RUNS)
def test_each_way_out_works_and_none_smaller_exists(
    short: Programme, library: Library, house: House, make_runner: MakeRunner, days: tuple[int, ...],
    runs: tuple[Run, ...],
) -> None:  # fmt: skip
    runner = make_runner(days=days, runs=runs)
    outcome = fit_runner(short, runner, library, house, MONDAY)
    if not isinstance(outcome, Impossible):
        return
    ways = ways_out(laid_of(short, runner, library, house), True)
    assert tuple(w.told for w in ways) == outcome.ways_out
    singles = {c.text: has_week(short, library, *after((c,), runner, house)) for c in time_changes(runner, house)}
    for way in ways:
        assert has_week(short, library, *after(way.changes, runner, house)) == way.placed > 0
    if any(singles.values()):
        assert ways
        assert all(len(w.changes) == 1 for w in ways)
        assert max(w.placed for w in ways) == max(singles.values())
    else:
        assert all(len(w.changes) == 2 for w in ways)
        if not ways:
            pairs = [
                p for p in combinations(time_changes(runner, house), 2) if p[0].kind != p[1].kind or p[0].kind == "day"
            ]
            assert not any(free_times(laid_of(short, *_placed(p, runner, library, house)).problem) for p in pairs)


def _placed(
    pair: tuple[Change, Change], runner: Runner, library: Library, house: House
) -> tuple[Runner, Library, House]:
    changed, ruled = after(pair, runner, house)
    return changed, library, ruled


def test_no_day_and_a_long_run_everywhere_needs_two_changes(
    short: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    """Every possible day carries a key run at noon; the rule for the same day and the rule for the next both bind."""
    runner = make_runner(days=(2,), runs=tuple(Run(d, "key", time(12)) for d in range(7)))
    outcome = fit_runner(short, runner, library, house, MONDAY)
    assert isinstance(outcome, Impossible)
    ways = ways_out(laid_of(short, runner, library, house), True)
    for way in ways:
        assert has_week(short, library, *after(way.changes, runner, house)) == way.placed


@pytest.mark.parametrize(
    ("fields", "kind"),
    [
        ({"minutes": 1, "wishes": (Wish("no pattern", "no squats", pattern="squat"),)}, "minutes"),
        ({"limits": (
            Limit("knee", "both", None, None, "physiotherapist", "knees: nothing", PLACE),
            Limit("calf", "both", None, None, "physiotherapist", "calves: nothing", PLACE),
        )}, "limit"),
        ({"wishes": (
            Wish("no pattern", "no split squats", pattern="split squat"), Wish("no pattern", "no heel raises", pattern="heel raise"),
            Wish("no pattern", "no squats", pattern="squat"), Wish("no pattern", "no steps", pattern="step"),
        ), "limits": (
            Limit("knee", "both", "squat-half", None, "physiotherapist", "knees: at most a half squat", PLACE),
        )}, "note"),
    ],
)  # fmt: skip
def test_what_bars_every_line_can_be_changed_and_was_tried(
    short: Programme, library: Library, house: House, make_runner: MakeRunner, fields: dict[str, object], kind: str
) -> None:
    runner = make_runner(**fields)
    house = replace(house, changed={"minutes-over": 0})
    outcome = fit_runner(short, runner, library, house, MONDAY)
    assert isinstance(outcome, Impossible), outcome
    laid = laid_of(short, runner, library, house)
    ways = ways_out(laid, False)
    assert ways
    assert any(c.kind.startswith(kind) for w in ways for c in w.changes)
    for way in ways:
        assert has_week(short, library, *after(way.changes, runner, house)) == way.placed > 0
    smallest = len(ways[0].changes)
    if smallest == 2:
        assert not any(has_week(short, library, *after((c,), runner, house)) for c in line_changes(laid))


def test_the_kinds_are_mixed_and_three_at_most(
    short: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    runner = make_runner(days=(0,), runs=(Run(1, "key", time(6)), Run(5, "long", time(8))))
    ways = ways_out(laid_of(short, runner, library, house), True)
    assert len(ways) == 3
    assert len({w.changes[0].kind for w in ways}) == 3
    assert ways[0].told.text.endswith(("sessions then have a day", "sessions then has a day"))
    assert all(w.told.tried for w in ways)


def test_changes_leave_the_runner_as_they_were(make_runner: MakeRunner, house: House) -> None:
    runner = make_runner()
    before = replace(runner)
    for change in time_changes(runner, house):
        change.apply(runner, house)
    assert runner == before
