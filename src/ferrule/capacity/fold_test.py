"""The record of a runner folded whole: in any order, from any checkpoint, with slips and changes."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.capacity import curves
from ferrule.capacity.belief import belief
from ferrule.capacity.fold import fold, fold_kept, fold_mondays
from ferrule.capacity.prior import prior_capacity
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, LoggedTest, Reserve, TimeAway
from ferrule.model.finding import Span
from ferrule.model.squad import FieldTest, Runner
from ferrule.model.words import GROUPS

LIBRARY, _ = load_library()
START = date(2026, 1, 5)
UNTIL = START + timedelta(days=40)
RUNNER = Runner(
    "R01", "Ana T", "some", (), (0,), (), None, Span("squad.csv", 2, 1), birth_year=1990, sex="female", mass_kg=60.0
)
VARIANTS = ("press-up", "squat", "split-squat", "step-up", "front-plank", "bridge-one-leg", "heel-raise-one-leg")


def entry(
    n: int, day: int, variant: str = "press-up", done: float | None = 8, reserve: Reserve | None = None, **more: object
) -> LoggedSet:
    unit = "s" if LIBRARY.variants[variant].dose_kind == "hold" else "reps"
    outcome = more.pop("outcome", "counted")
    plain = LoggedSet(
        f"id-{n:04d}", "R01", START + timedelta(days=day), "s1", f"i-{variant}", variant, 1, outcome, unit, done=done,  # type: ignore[arg-type]
        reserve=reserve,
    )  # fmt: skip
    return replace(plain, **more)  # type: ignore[arg-type]


SETS = st.builds(
    lambda n, day, variant, done, left, outcome, number: entry(
        n, day, variant, done, None if left is None else Reserve(left, None if left == 4 else left),
        outcome=outcome, number=number,
    ),
    st.integers(0, 9999), st.integers(0, 39), st.sampled_from(VARIANTS), st.integers(1, 30),
    st.sampled_from([None, 0, 1, 2, 3, 4]), st.sampled_from(["counted", "counted", "failed"]), st.integers(1, 3),
)  # fmt: skip
RECORDS = st.lists(SETS, max_size=25, unique_by=lambda e: e.entry_id)


@settings(derandomize=True, max_examples=25, deadline=None)
@given(RECORDS, st.randoms(use_true_random=False))
def test_any_order_of_arrival_gives_the_identical_state(sets: list[LoggedSet], order: random.Random) -> None:
    shuffled = list(sets)
    order.shuffle(shuffled)
    assert fold(RUNNER, LIBRARY, until=UNTIL, sets=sets) == fold(RUNNER, LIBRARY, until=UNTIL, sets=shuffled)


@settings(derandomize=True, max_examples=15, deadline=None)
@given(RECORDS, st.lists(st.tuples(st.integers(0, 39), st.sampled_from([18.0, 22.0])), max_size=2))
def test_monday_by_monday_in_one_pass_gives_what_each_fold_gives(
    sets: list[LoggedSet], tests: list[tuple[int, float]]
) -> None:
    """The list tells a test of 22 without a date: with its dated telling it counts from that day on only."""
    runner = replace(
        RUNNER,
        races=(START + timedelta(days=20),),
        tests=(FieldTest("heel raises", 22.0), FieldTest("press-ups", 15.0)),
    )
    dated = [LoggedTest(f"t{n}", "R01", START + timedelta(day), "heel raises", v) for n, (day, v) in enumerate(tests)]
    away = (TimeAway("R01", START + timedelta(9), START + timedelta(15), "illness"),)
    mondays = [START + timedelta(weeks=n) for n in range(-1, 7)]
    found = list(fold_mondays(runner, LIBRARY, mondays, sets=sets, tests=dated, away=away))
    assert len(found) == len(mondays)
    for monday, state in zip(mondays, found, strict=True):
        until = monday - timedelta(days=1)
        races = [r for r in runner.races if r <= until]
        assert state == fold(runner, LIBRARY, until=until, sets=sets, tests=dated, away=away, races=races)[0]


@settings(derandomize=True, max_examples=20, deadline=None)
@given(RECORDS, RECORDS)
def test_a_late_entry_gives_what_all_at_once_gives(early: list[LoggedSet], late: list[LoggedSet]) -> None:
    """Checkpoints of the record before the late entries came: those that still hold are used, the others are not."""
    races, away = (
        (START + timedelta(days=20),),
        (TimeAway("R01", START + timedelta(9), START + timedelta(15), "illness"),),
    )
    late = [replace(e, entry_id=f"late {e.entry_id}") for e in late]
    _, _, kept = fold_kept(RUNNER, LIBRARY, until=UNTIL, sets=early, races=races, away=away)
    whole = fold(RUNNER, LIBRARY, until=UNTIL, sets=[*early, *late], races=races, away=away)
    for start in kept:
        assert fold(RUNNER, LIBRARY, until=UNTIL, sets=[*late, *early], races=races, away=away, start=start) == whole


@settings(derandomize=True, max_examples=15, deadline=None)
@given(RECORDS)
def test_an_entry_told_twice_counts_once(sets: list[LoggedSet]) -> None:
    assert fold(RUNNER, LIBRARY, until=UNTIL, sets=[*sets, *sets]) == fold(RUNNER, LIBRARY, until=UNTIL, sets=sets)


@settings(derandomize=True, max_examples=25, deadline=None)
@given(RECORDS)
def test_the_covariance_stays_one(sets: list[LoggedSet]) -> None:
    state, _ = fold(RUNNER, LIBRARY, until=UNTIL, sets=sets)
    assert np.allclose(state.cov, state.cov.T, atol=1e-12)
    assert np.linalg.eigvalsh(state.cov).min() > -1e-12


@settings(derandomize=True, max_examples=20, deadline=None)
@given(st.lists(st.integers(0, 3), min_size=1, max_size=6), st.sampled_from(VARIANTS[:4]))
def test_more_certain_readings_never_leave_more_doubt(left: list[int], variant: str) -> None:
    """The same day and counts: one number told is surer than a range about it, and any of them than nothing."""
    group = LIBRARY.variants[variant].asks[0].group
    exact = [entry(i, 0, variant, 8, Reserve(r, r), number=i + 1) for i, r in enumerate(left)]
    told = [replace(e, reserve=Reserve(max(0, r - 1), r + 1)) for e, r in zip(exact, left, strict=True)]
    sds = []
    for sets in (exact, told, []):
        state, _ = fold(RUNNER, LIBRARY, until=START, sets=sets)
        sds.append(belief(state, LIBRARY, 60.0).sd_log[group])
    assert sds[0] <= sds[1] + 0.01  # where the slope of the curve is taken moves a little with the spread
    assert sds[1] <= sds[2] + 1e-12


def test_without_a_record_the_belief_is_the_prior() -> None:
    state, found = fold(RUNNER, LIBRARY, until=UNTIL)
    told, prior = belief(state, LIBRARY, 60.0), prior_capacity(RUNNER, 2026)
    assert not found
    assert told.finding_week
    for group in GROUPS:
        assert told.mean_log[group] == pytest.approx(prior.mean_log[group])
        assert told.sd_log[group] == pytest.approx(prior.sd_log[group])
        assert told.basis[group] == prior.basis[group]


def test_a_known_capacity_is_found_again() -> None:
    """Sets made from the published curve at a known capacity bring it back, bias of the report included."""
    true, k = 0.9, curves.k_of("push")
    possible = curves.reps_at(math.exp(-true), k)
    done = math.floor(possible) - 3
    sets = [entry(i, 3 * i, "press-up", done, Reserve(1, 1)) for i in range(12)]  # 3 left, told as 1 after the bias
    state, _ = fold(RUNNER, LIBRARY, until=START + timedelta(34), sets=sets)
    told = belief(state, LIBRARY, 60.0)
    assert abs(told.mean_log["push"] - true) < 2.5 * told.sd_log["push"]
    assert told.sd_log["push"] < 0.1


def test_a_slip_of_the_keyboard_is_asked_about_and_moves_nothing() -> None:
    sets = [entry(i, i, "split-squat", 8, Reserve(2, 2), load_kg=12, place="hands") for i in range(0, 8, 2)]
    slip = entry(90, 9, "split-squat", 8, Reserve(2, 2), load_kg=120, place="hands")
    clean, _ = fold(RUNNER, LIBRARY, until=START + timedelta(9), sets=sets)
    state, found = fold(RUNNER, LIBRARY, until=START + timedelta(9), sets=[*sets, slip])
    assert [f.code for f in found] == ["log-ask"]
    assert "12 kg" in found[0].fix
    assert [a.entry_id for a in state.asides] == ["id-0090"]
    told, before = belief(state, LIBRARY, 60.0), belief(clean, LIBRARY, 60.0)
    assert told.mean_log["knee and hip"] == pytest.approx(before.mean_log["knee and hip"], abs=0.01)


def test_a_wrong_unit_is_asked_about() -> None:
    _, found = fold(RUNNER, LIBRARY, until=UNTIL, sets=[entry(1, 0, "front-plank", 40, unit="reps")])
    assert [f.code for f in found] == ["log-ask"]
    assert "seconds" in found[0].fix


def test_a_set_stopped_by_pain_says_nothing_of_capacity() -> None:
    good = [entry(i, i, "squat", 8, Reserve(2, 2), load_kg=20, place="chest") for i in range(4)]
    hurt = entry(9, 4, "squat", 2, Reserve(0, 0), load_kg=20, place="chest", stopped="pain")
    one, _ = fold(RUNNER, LIBRARY, until=START + timedelta(4), sets=good)
    two, found = fold(RUNNER, LIBRARY, until=START + timedelta(4), sets=[*good, hurt])
    assert not found
    group = belief(one, LIBRARY, 60.0).mean_log["knee and hip"]
    assert belief(two, LIBRARY, 60.0).mean_log["knee and hip"] == pytest.approx(group, abs=0.005)


def test_a_sudden_loss_is_followed_and_the_coach_is_told() -> None:
    """A quarter of the strength gone overnight: within three weeks most of it is seen, and somebody is asked why."""
    names = ("press-up", "split-squat", "heel-raise-one-leg", "bridge-one-leg")
    before = [
        entry(10 * d + i, d, v, 10, Reserve(1, 1), load_kg=10 if v == "split-squat" else 0, place="hands")
        for d in range(0, 21, 2)
        for i, v in enumerate(names)
    ]
    after = [
        entry(1000 + 10 * d + i, d, v, 3, outcome="failed", load_kg=10 if v == "split-squat" else 0, place="hands")
        for d in range(21, 40, 2)
        for i, v in enumerate(names)
    ]
    high, _ = fold(RUNNER, LIBRARY, until=START + timedelta(20), sets=before)
    low, found = fold(RUNNER, LIBRARY, until=START + timedelta(39), sets=[*before, *after])
    fell = belief(high, LIBRARY, 60.0).mean_log["push"] - belief(low, LIBRARY, 60.0).mean_log["push"]
    k = curves.k_of("push")
    true = math.log(curves.share_at(3.5, k)) - math.log(curves.share_at(12.3, k))
    assert fell > 0.7 * true
    assert "capacity-changed" in {f.code for f in found}


def test_one_side_told_weaker_is_dosed_on_it() -> None:
    sets = []
    for d in range(0, 30, 2):
        for i, (side, done) in enumerate((("left", 6), ("right", 11))):
            sets.append(entry(100 * d + i, d, "heel-raise-one-leg", done, outcome="failed", side=side, number=1))
    state, _ = fold(RUNNER, LIBRARY, until=UNTIL, sets=sets)
    told = belief(state, LIBRARY, 60.0)
    variant = LIBRARY.variants["heel-raise-one-leg"]
    assert told.half_log["calf straight"] < -0.03
    assert told.of(variant) == told.of(variant, "left")
    assert told.of(variant, "right")[0] > told.of(variant, "left")[0]


def test_tests_are_dated_facts_and_count_once() -> None:
    listed = replace(RUNNER, tests=(FieldTest("press-ups", 20),))
    dated = LoggedTest("t1", "R01", START, "press-ups", 20)
    one, _ = fold(listed, LIBRARY, until=START)
    both, _ = fold(listed, LIBRARY, until=START, tests=[dated, dated])
    told = [belief(s, LIBRARY, 60.0) for s in (one, both)]
    assert told[0].mean_log["push"] == pytest.approx(told[1].mean_log["push"])
    assert told[0].sd_log["push"] == pytest.approx(told[1].sd_log["push"])
    assert told[0].sd_log["push"] < prior_capacity(RUNNER, 2026).sd_log["push"]


def test_of_one_entry_the_version_recorded_later_stands() -> None:
    old = entry(1, 0, "press-up", 80, Reserve(1, 1), recorded_at=datetime(2026, 1, 5, 8, tzinfo=UTC))
    mended = replace(old, done=8, recorded_at=datetime(2026, 1, 5, 9, tzinfo=UTC))
    assert fold(RUNNER, LIBRARY, until=UNTIL, sets=[mended, old]) == fold(RUNNER, LIBRARY, until=UNTIL, sets=[mended])


def test_later_facts_are_left_out() -> None:
    sets = [entry(1, 0), entry(2, 30, "squat")]
    assert (
        fold(RUNNER, LIBRARY, until=START + timedelta(7), sets=sets)[0].mean.tolist()
        == fold(RUNNER, LIBRARY, until=START + timedelta(7), sets=sets[:1])[0].mean.tolist()
    )
