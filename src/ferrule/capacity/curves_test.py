from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ferrule.capacity import curves

# Mean repetitions to failure at a share of 1RM: Nuzzo 2024, meta-regression (seen, third-party transcription).
PRESS = ((4.0, 0.90), (8.8, 0.80), (14.1, 0.70))
LEG_PRESS = ((13.1, 0.80), (19.0, 0.70))
GENERAL = ((5.0, 0.90), (15.0, 0.70), (2.0, 0.95))


def refit(points: tuple[tuple[float, float], ...]) -> float:
    """k with the least squared error of log share, on a grid of 1e-5."""

    def error(k: float) -> float:
        return sum((math.log(share) + math.log(1 + k * (reps - 1))) ** 2 for reps, share in points)

    return min((i * 1e-5 for i in range(1000, 6000)), key=error)


@pytest.mark.parametrize(
    ("points", "k"), [(PRESS, curves.K_PRESS), (LEG_PRESS, curves.K_LEG_PRESS), (GENERAL, curves.K_GENERAL)]
)
def test_k_is_the_best_fit_to_the_published_means(points: tuple[tuple[float, float], ...], k: float) -> None:
    rounding_of_k = 0.0001
    assert abs(refit(points) - k) <= rounding_of_k


def test_the_curve_misses_the_published_means_by_little() -> None:
    for points, k in ((PRESS, curves.K_PRESS), (LEG_PRESS, curves.K_LEG_PRESS), (GENERAL, curves.K_GENERAL)):
        for reps, share in points:
            two_and_a_half_points_of_1rm = 0.025
            assert abs(curves.share_at(reps, k) - share) < two_and_a_half_points_of_1rm


def test_one_repetition_at_the_best_returns_itself() -> None:
    assert curves.share_at(1, 0.03) == 1
    assert curves.reps_at(1, 0.03) == 1


# Frey Law and Avin 2010, table 2 (seen in a transcription): worked values at half and a quarter of the best.
@pytest.mark.parametrize(
    ("group", "half_s", "quarter_s"),
    [
        ("calf straight", 144.7, 603.5),
        ("trunk front", 109.4, 527.9),
        ("knee and hip", 71.3, 262.6),
        ("push", 52.8, 187.8),
        ("hinge", 86.5, 341.1),
    ],
)
def test_holds_follow_the_published_power_laws(group: str, half_s: float, quarter_s: float) -> None:
    one_printed_digit_s = 0.1
    assert abs(curves.hold_s_at(0.5, group) - half_s) <= one_printed_digit_s  # type: ignore[arg-type]
    assert abs(curves.hold_s_at(0.25, group) - quarter_s) <= one_printed_digit_s  # type: ignore[arg-type]


@given(st.floats(1, 100), st.floats(0.015, 0.06))
def test_reps_and_share_are_inverse(reps: float, k: float) -> None:
    assert curves.reps_at(curves.share_at(reps, k), k) == pytest.approx(reps)


@given(st.floats(25, 2000))
def test_hold_and_share_are_inverse_where_the_law_was_measured(hold_s: float) -> None:
    assert curves.hold_s_at(curves.share_at_hold(hold_s, "trunk side"), "trunk side") == pytest.approx(hold_s)


def test_a_share_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="above zero"):
        curves.reps_at(0, 0.03)
