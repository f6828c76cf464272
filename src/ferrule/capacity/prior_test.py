from __future__ import annotations

import math
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.capacity import curves
from ferrule.capacity.norms import NORMS
from ferrule.capacity.prior import age_log, level_log, prior_capacity
from ferrule.model.finding import Span
from ferrule.model.squad import Anchor, FieldTest, Runner, Sex, TestKind
from ferrule.model.words import GROUPS, LEVELS, Group, Level4

PLACE = Span("squad.csv", 2, 1)


def runner(
    level: Level4 = "some",
    sex: Sex | None = "female",
    birth_year: int | None = 1990,
    tests: tuple[FieldTest, ...] = (),
) -> Runner:
    return Runner(
        "R01", "Ana T", level, (), (0,), (), Anchor("from", date(2026, 1, 5), PLACE), PLACE,
        birth_year=birth_year, sex=sex, tests=tests,
    )  # fmt: skip


def test_every_group_has_a_prior_with_its_source() -> None:
    capacity = prior_capacity(runner(), 2026)
    assert set(capacity.mean_log) == set(GROUPS) == {n.group for n in NORMS}
    assert all(capacity.basis[g] for g in GROUPS)
    assert all(0.1 < capacity.sd_log[g] < 0.6 for g in GROUPS)


def test_the_calf_prior_gives_back_the_published_median() -> None:
    # Hebert-Losier 2017 (seen): median one-leg heel raises, women 21, men 24.
    for sex, median in (("female", 21), ("male", 24)):
        capacity = prior_capacity(runner(sex=sex), 2026)  # type: ignore[arg-type]
        share = math.exp(-capacity.mean_log["calf straight"])
        a_tenth_of_a_rep = 0.1
        assert abs(curves.reps_at(share, curves.k_of("calf straight")) - median) < a_tenth_of_a_rep


def test_the_plank_prior_gives_back_the_published_mean() -> None:
    # Chase 2014 (seen): front plank 117.7 s in men who train.
    capacity = prior_capacity(runner(sex="male"), 2026)
    assert curves.hold_s_at(math.exp(-capacity.mean_log["trunk front"]), "trunk front") == pytest.approx(117.7)


def test_levels_rise_and_follow_the_published_gain() -> None:
    logs = [level_log(level) for level in LEVELS]
    assert logs == sorted(logs)
    # Steele 2022 (seen): 50-60 % above the start at six years.
    assert 1.50 <= math.exp(level_log("strong") - level_log("never")) <= 1.60


def test_age_counts_only_after_forty() -> None:
    assert age_log(1990, 2026) == 0
    assert age_log(None, 2026) == 0
    assert age_log(1961, 2026) == pytest.approx(-0.125)


def test_not_giving_the_sex_widens_the_spread_and_lies_between() -> None:
    known_f, known_m = prior_capacity(runner(), 2026), prior_capacity(runner(sex="male"), 2026)
    unknown = prior_capacity(runner(sex=None), 2026)
    for group in GROUPS:
        low, high = sorted((known_f.mean_log[group], known_m.mean_log[group]))
        assert low <= unknown.mean_log[group] <= high
        assert unknown.sd_log[group] >= known_f.sd_log[group]


TESTS: tuple[tuple[TestKind, float, Group], ...] = (
    ("heel raises", 30, "calf straight"),
    ("heel raises", 30, "calf bent"),
    ("side plank", 120, "trunk side"),
    ("front plank", 180, "trunk front"),
    ("press-ups", 30, "push"),
    ("chair rises", 60, "knee and hip"),
    ("bridges one leg", 40, "bridge and knee flexion"),
)


@pytest.mark.parametrize(("kind", "value", "group"), TESTS)
def test_a_good_home_test_raises_the_belief_and_narrows_it(kind: TestKind, value: float, group: Group) -> None:
    before = prior_capacity(runner(), 2026)
    after = prior_capacity(runner(tests=(FieldTest(kind, value),)), 2026)
    assert after.mean_log[group] > before.mean_log[group]
    assert after.sd_log[group] < before.sd_log[group]
    others = [g for g in GROUPS if g not in {t[2] for t in TESTS if t[0] == kind}]
    assert all(after.mean_log[g] == before.mean_log[g] for g in others)


@settings(derandomize=True, deadline=None)
@given(st.sampled_from([t[:1] for t in TESTS]), st.floats(1, 60), st.floats(0.5, 60))
def test_a_better_test_never_lowers_the_belief(kind: tuple[TestKind], value: float, more: float) -> None:
    group = next(t[2] for t in TESTS if t[0] == kind[0])
    low = prior_capacity(runner(tests=(FieldTest(kind[0], value),)), 2026)
    high = prior_capacity(runner(tests=(FieldTest(kind[0], value + more),)), 2026)
    assert high.mean_log[group] >= low.mean_log[group] - 0.02  # a longer test is read a little less sharply


def test_nothing_done_in_a_test_says_nothing() -> None:
    assert prior_capacity(runner(tests=(FieldTest("press-ups", 0),)), 2026) == prior_capacity(runner(), 2026)
