"""Repetitions to failure at a share of 1RM: means and spread between people, for the checks.

percent = 100 / (1 + k x reps), with k by class of exercise: 0.029 press, 0.021 leg press, 0.0255 others, fitted by
us to the means of Nuzzo 2024 (seen, transcribed). Squats, steps and lunges lie half-way from leg press to the others.
"""

from __future__ import annotations

from ferrule.model.words import Group

K_PRESS = 0.029
K_LEG_PRESS = 0.021
K_OTHER = 0.0255


def mean_reps(percent: float, group: Group | None) -> float:
    """Mean repetitions to failure at `percent` of 1RM (40-100); within 1.5 repetitions of the means from 70 to 90 %."""
    if group == "push":
        k = K_PRESS
    elif group == "knee and hip":
        k = (K_LEG_PRESS + K_OTHER) / 2
    else:
        k = K_OTHER
    return (100 / percent - 1) / k


def sd_reps(percent: float) -> float:
    """SD between people: 2.51 at 80 % and 4.36 at 60 %, linear between (Nuzzo 2024, seen); at least 0.5."""
    return max(2.51 + (80 - percent) * (4.36 - 2.51) / 20, 0.5)
