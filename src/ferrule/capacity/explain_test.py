from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta

import pytest

from ferrule.capacity import curves
from ferrule.capacity.belief import belief
from ferrule.capacity.explain import (
    Likely,
    exercise_belief,
    group_beliefs,
    likely_possible,
    possible_words,
    sure_of,
)
from ferrule.capacity.fold import fold
from ferrule.capacity.prior import prior_capacity
from ferrule.capacity.telling import AskedSet, most_telling
from ferrule.library.reader import load_library
from ferrule.model.calibration import Calibration, Correction, Stratum
from ferrule.model.entry import LoggedSet, LoggedTest, Reserve
from ferrule.model.finding import Span
from ferrule.model.squad import Anchor, Capacity, FieldTest, Runner
from ferrule.model.words import GROUPS

LIBRARY, _ = load_library()
PLACE = Span("squad.csv", 2, 1)
MONDAY = date(2026, 1, 5)
RUNNER = Runner("R01", "Ana T", "some", (), (0,), (), Anchor("from", MONDAY, PLACE), PLACE, birth_year=1990, sex="male")
PRESS_UP = LIBRARY.variants[LIBRARY.anchors["push"]]


def told(n: int, done: float, left: int = 2) -> LoggedSet:
    return LoggedSet(
        f"e{n}", "R01", MONDAY + timedelta(days=2 * n), "1", "A1", PRESS_UP.id, 1, "counted", done=done,
        reserve=Reserve(left, left), effort_asked=True,
    )  # fmt: skip


def test_the_published_median_of_heel_raises_is_what_is_likely_before_any_log() -> None:
    # Hebert-Losier 2017 (seen): median one-leg heel raises of men, 24.
    calf = next(g for g in group_beliefs(prior_capacity(RUNNER, 2026), LIBRARY, RUNNER) if g.group == "calf straight")
    assert calf.possible.middle == pytest.approx(24, abs=0.1)
    assert calf.possible.low < 24 < calf.possible.high
    assert not calf.informed
    assert "Hebert-Losier" in " ".join(calf.sources)


def test_every_group_is_told_and_only_what_was_told_counts_as_information() -> None:
    tested = replace(RUNNER, tests=(FieldTest("press-ups", 20),))
    found = group_beliefs(prior_capacity(tested, 2026), LIBRARY, tested)
    assert [g.group for g in found] == list(GROUPS)
    assert [g.group for g in found if g.informed] == ["push"]
    dated = (LoggedTest("t", "R01", MONDAY, "heel raises", 20),)
    assert [g.group for g in group_beliefs(prior_capacity(RUNNER, 2026), LIBRARY, RUNNER, None, dated) if g.informed] == [
        "calf straight", "calf bent",
    ]  # fmt: skip


def test_sets_are_counted_and_make_the_belief_surer() -> None:
    sets = [told(n, 10) for n in range(6)]
    state, _ = fold(RUNNER, LIBRARY, until=MONDAY + timedelta(days=14), sets=sets)
    after = next(g for g in group_beliefs(belief(state, LIBRARY, 70.0), LIBRARY, RUNNER, state) if g.group == "push")
    before = next(g for g in group_beliefs(prior_capacity(RUNNER, 2026), LIBRARY, RUNNER) if g.group == "push")
    assert after.informed
    assert after.sets == 6
    assert after.last == MONDAY + timedelta(days=10)
    assert after.possible.high - after.possible.low < before.possible.high - before.possible.low


def test_a_group_is_told_by_an_exercise_that_can_be_counted() -> None:
    strong = replace(prior_capacity(RUNNER, 2026), mean_log={g: math.log(3) for g in GROUPS})
    for g in group_beliefs(strong, LIBRARY, RUNNER):
        if g.group == "knee and hip":
            assert 4 < g.possible.middle < 30


@pytest.mark.parametrize(
    ("likely", "hold", "words"),
    [
        (Likely(8.9, 11, 14.2), False, "8 to 14"), (Likely(0.2, 3, 5.5), False, "none to 5"), (Likely(0, 0.3, 0.9), False, "not one yet"),
        (Likely(44, 60, 90), False, "40 or more"), (Likely(7, 20, 90), False, "7 to 40 or more"), (Likely(12.1, 12.4, 12.8), False, "12"),
        (Likely(32, 50, 78), True, "30 s to 80 s"), (Likely(100, 200, 400), True, "100 s to 4 min or more"),
    ],
)  # fmt: skip
def test_amounts_in_words(likely: Likely, hold: bool, words: str) -> None:
    assert possible_words(likely, hold=hold) == words


def test_how_sure_follows_the_spread() -> None:
    assert [sure_of(s) for s in (0.03, 0.12, 0.2, 0.4)] == [
        "well known",
        "fairly known",
        "roughly known",
        "hardly known",
    ]


def test_likely_is_eighty_percent_of_the_belief_through_the_curve() -> None:
    found = likely_possible(math.log(1.5), 0.1, 1.0, PRESS_UP)
    share = math.exp(-math.log(1.5) + 1.2816 * 0.1)
    assert found.low == pytest.approx(curves.reps_at(share, curves.K_PRESS))
    assert found.middle == pytest.approx(curves.reps_at(1 / 1.5, curves.K_PRESS))
    assert likely_possible(math.log(0.8), 0.01, 1.0, PRESS_UP).high == 0


def test_an_exercise_tells_its_sets_its_family_and_what_one_more_would_teach() -> None:
    sets = [told(0, 8), told(1, 9, 1)]
    state, _ = fold(RUNNER, LIBRARY, until=MONDAY + timedelta(days=7), sets=sets)
    known = belief(state, LIBRARY, 70.0)
    asked = AskedSet("1", "A1", PRESS_UP.name, PRESS_UP.id, "push", 3, 8, False, 2)
    (telling,) = most_telling(state, LIBRARY, (asked,))
    found = exercise_belief(PRESS_UP, known, LIBRARY, 70.0, asked=asked, sets=reversed(sets), telling=telling)
    assert [t.said for t in found.told] == ["8 done, 2 left", "9 done, 1 left"]
    assert found.own_sets == 2
    assert found.after is not None
    assert found.possible.low < found.after.low
    assert found.after.high < found.possible.high
    assert len(found.points) > 3
    assert [p.variant_id for p in found.points if p.asked] == [PRESS_UP.id]


def test_loads_stand_on_the_axis_where_a_variant_takes_them() -> None:
    squat = LIBRARY.variants[LIBRARY.anchors["knee and hip"]]
    place = squat.loading[0]
    found = exercise_belief(squat, prior_capacity(RUNNER, 2026), LIBRARY, 70.0, loads=((10.0, place), (20.0, place)))
    mine = [p.share.middle for p in found.points if p.variant_id == squat.id]
    assert mine == sorted(mine)
    assert len(mine) == 3


def test_an_exercise_tells_from_which_sets_of_the_squad_its_chances_are_corrected() -> None:
    plain = prior_capacity(RUNNER, 2026)
    assert exercise_belief(PRESS_UP, plain, LIBRARY, 70.0).corrected == ""
    strata = {Stratum("first go", "without load"): Correction(level=0.3, sets=140)}
    made = replace(plain, calibration=Calibration(202603, MONDAY, strata))
    found = exercise_belief(PRESS_UP, made, LIBRARY, 70.0)
    assert found.corrected == "corrected by 140 sets of this squad (first go, without load)"
    assert found.possible == exercise_belief(PRESS_UP, plain, LIBRARY, 70.0).possible


def test_what_is_never_dosed_is_refused() -> None:
    hop = next(v for v in LIBRARY.variants.values() if v.main is None)
    with pytest.raises(ValueError, match="never dosed"):
        exercise_belief(hop, Capacity("R01", {}, {}, {}), LIBRARY, 70.0)
