from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from ferrule.capacity import curves, slopes
from ferrule.capacity.observation import REPORT_SD, REPORT_SD_PER_REP
from ferrule.capacity.state import BIAS, DAY, DAY_LEGS, GROUP_AT, LEGS, State, first_state
from ferrule.capacity.telling import AskedSet, Telling, most_telling
from ferrule.capacity.update import SET_SD
from ferrule.library.reader import load_library
from ferrule.model.finding import Span
from ferrule.model.squad import Anchor, Runner
from ferrule.model.words import Group

LIBRARY, _ = load_library()
PLACE = Span("squad.csv", 2, 1)
RUNNER = Runner(
    "R01", "Ana T", "some", (), (0,), (), Anchor("from", date(2026, 1, 5), PLACE), PLACE, birth_year=1990, sex="male"
)


def state(**sd: float) -> State:
    """The belief before any log; SDs of some latents replaced, and all groups told apart where one of them is."""
    made = first_state(RUNNER, 2026, 70.0, 6)
    cov = made.cov.copy()
    cov[BIAS, :] = cov[:, BIAS] = 0.0
    for name, value in sd.items():
        at = GROUP_AT[name.replace("_", " ")]  # type: ignore[index]
        cov[at, :] = cov[:, at] = 0.0
        cov[at, at] = value**2
    return replace(made, cov=cov)


def asked(variant_id: str, sets: int = 3, reserve: float | None = 2, amount: float = 8) -> AskedSet:
    variant = LIBRARY.variants[variant_id]
    assert variant.main is not None
    return AskedSet(
        "1",
        variant_id,
        variant.name,
        variant_id,
        variant.main.group,
        sets,
        amount,
        variant.dose_kind == "hold",
        reserve,
    )


def anchor(group: Group) -> str:
    return LIBRARY.anchors[group]


def one(made: State, *sets: AskedSet) -> Telling:
    return most_telling(made, LIBRARY, sets)[0]


def drawn_drop(made: State, group: Group, asked_reserve: int, draws: int = 300) -> float:
    """Mean drop of the variance of one group's log capacity, its anchor done to a reserve, by drawn truths and answers.

    The truth: capacity, day and set drawn from the belief; repetitions by the curve itself, not made linear; the answer
    misses by the error of a report. The posterior is weighed point by point over a grid of capacities, then averaged.
    """
    rng = np.random.default_rng(7)
    at, k = GROUP_AT[group], curves.k_of(group)
    sd = math.sqrt(made.cov[at, at])
    daily = made.cov[DAY, DAY] + (made.cov[DAY_LEGS, DAY_LEGS] if group in LEGS else 0.0) + SET_SD**2
    report = math.hypot(REPORT_SD + REPORT_SD_PER_REP * asked_reserve, math.sqrt(1 / 12))
    grid = made.mean[at] + sd * np.linspace(-5, 5, 2001)
    prior = np.exp(-0.5 * ((grid - made.mean[at]) / sd) ** 2)
    steps = math.sqrt(daily) * np.linspace(-4, 4, 41)
    chance = np.exp(-0.5 * steps**2 / daily)
    chance /= chance.sum()
    # repetitions possible at each grid capacity on each day, (grid, day)
    reps = 1 + np.expm1(grid[:, None] + steps[None, :]) / k
    after = []
    for _ in range(draws):
        shown = made.mean[at] + sd * rng.standard_normal() + math.sqrt(daily) * rng.standard_normal()
        told = 1 + math.expm1(shown) / k + report * rng.standard_normal()
        weight = prior * (np.exp(-0.5 * ((told - reps) / report) ** 2) @ chance)
        weight /= weight.sum()
        middle = float(weight @ grid)
        after.append(float(weight @ (grid - middle) ** 2))
    return sd**2 - float(np.mean(after))


@pytest.mark.parametrize(
    ("group", "sd", "reserve"),
    [("push", 0.10, 2), ("push", 0.20, 1), ("calf straight", 0.15, 3), ("calf straight", 0.05, 0)],
)
def test_the_expected_drop_agrees_with_drawn_answers(
    group: Group, sd: float, reserve: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("ferrule.capacity.update.CURVE_SD", 0.0)  # the drawn runner has the mean curve
    made = state(**{group.replace(" ", "_"): sd})
    told = one(made, asked(anchor(group), reserve=reserve))
    drawn = drawn_drop(made, group, reserve)
    assert (told.sd_before**2 - told.sd_after**2) == pytest.approx(drawn, rel=0.15)


def test_the_order_of_the_sets_is_that_of_drawn_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("ferrule.capacity.update.CURVE_SD", 0.0)
    made = state(push=0.12, calf_straight=0.20)
    ranked = most_telling(made, LIBRARY, (asked(anchor("push"), 2), asked(anchor("calf straight"), 2)))
    drawn = {g: drawn_drop(made, g, 2) for g in ("push", "calf straight")}
    assert [t.asked.group for t in ranked] == sorted(drawn, key=lambda g: -drawn[g])


def test_what_is_known_least_and_done_most_is_asked_first() -> None:
    made = state(push=0.10, calf_straight=0.10)
    few, many = asked(anchor("push"), 1), asked(anchor("push"), 5)
    calf = asked(anchor("calf straight"), 2)
    assert one(made, few, calf).asked.group != one(made, many, calf).asked.group
    assert one(state(push=0.30, calf_straight=0.05), few, calf).asked.group == "push"


def test_a_set_that_leaves_many_tells_less() -> None:
    made = state(push=0.12)
    counts = [one(made, asked(anchor("push"), reserve=r)).drop for r in (0, 2, 3)]
    assert counts == sorted(counts, reverse=True)
    near, easy = (one(made, asked(anchor("push"), reserve=None, amount=n)) for n in (18, 3))
    assert easy.p_four > 0.8 > near.p_four
    assert easy.drop < near.drop


def test_a_set_narrows_its_neighbours_and_never_widens_anything() -> None:
    made = first_state(RUNNER, 2026, 70.0, 6)
    sets = tuple(asked(anchor(g)) for g in ("calf straight", "calf bent", "push"))
    for told in most_telling(made, LIBRARY, sets):
        assert 0 < told.part < 1
        assert told.sd_after < told.sd_before
    calf = next(t for t in most_telling(made, LIBRARY, sets) if t.asked.group == "calf straight")
    assert LIBRARY.variants[anchor("calf bent")].name in calf.others


def test_holds_are_weighed_too_and_what_is_never_dosed_is_left_out() -> None:
    plank = asked(anchor("trunk front"), amount=40)
    assert plank.hold
    assert 0 < one(state(), plank).part < 1
    hop = next(v for v in LIBRARY.variants.values() if v.main is None)
    lost = replace(plank, variant_id=hop.id), replace(plank, variant_id="not there")
    assert most_telling(state(), LIBRARY, lost) == ()


def test_nothing_is_written_into_the_state() -> None:
    made = first_state(RUNNER, 2026, 70.0, 6)
    before = made.cov.copy()
    most_telling(
        made,
        LIBRARY,
        (
            asked(anchor("push")),
            asked("press-up-hands-raised" if "press-up-hands-raised" in LIBRARY.variants else anchor("pull")),
        ),
    )
    assert np.array_equal(made.cov, before)


def test_slopes_and_curves_agree_where_the_set_is_taken_to_end() -> None:
    assert slopes.reps_at_log_share(math.log(0.75), curves.K_PRESS) == pytest.approx(
        curves.reps_at(0.75, curves.K_PRESS)
    )
