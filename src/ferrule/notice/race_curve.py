"""A runner's own curve of race times: time = a x distance^b, with the error of b. The exponent is fitted, never assumed.

Least squares of log time on log distance. One exponent does not serve everybody: men's records gave 1.079 in 1980 and 1.064
in 2023, single elite runners 1.05-1.18 (computed from open data, see tests). A fixed 1.06 runs ten minutes fast and more
at the marathon for half of recreational runners (Vickers and Vertosick 2016, seen as reported).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ferrule.model.fact import RunTold
from ferrule.model.quantity import number

LEAST_DISTANCES = 3
"""With two any line fits without error, and nothing is known of b."""
T_80: tuple[float, ...] = (
    3.078, 1.886, 1.638, 1.533, 1.476, 1.440, 1.415, 1.397, 1.383, 1.372, 1.363, 1.356, 1.350, 1.345, 1.341, 1.337,
    1.333, 1.330, 1.328, 1.325, 1.323, 1.321, 1.319, 1.318, 1.316, 1.315, 1.314, 1.313, 1.311, 1.310,
)  # fmt: skip
"""Student's t for a two-sided 80 % interval at 1 to 30 degrees of freedom; checked against its density in the test."""
NORMAL_80 = 1.2816
"""What it comes to with many more; in between by the first term of its series, (z^3 + z) / (4 x freedom)."""


@dataclass(frozen=True, slots=True)
class RaceCurve:
    """log minutes = log_a + b log km.

    b, b_se    the exponent and its standard error;  sd: of one race about the curve, log minutes
    n          races;  shortest, longest: km between which it was seen;  mean_x, spread_x: of log km, for the interval
    """

    log_a: float
    b: float
    b_se: float
    sd: float
    n: int
    shortest_km: float
    longest_km: float
    mean_x: float
    spread_x: float

    def minutes(self, km: float) -> tuple[float, float, float]:
        """Minutes over `km`: low and high end of the 80 % interval of one race about the middle: (low, middle, high)."""
        x = math.log(km)
        middle = self.log_a + self.b * x
        sd = self.sd * math.sqrt(1 + 1 / self.n + (x - self.mean_x) ** 2 / self.spread_x)
        half = t_80(self.n - 2) * sd
        return math.exp(middle - half), math.exp(middle), math.exp(middle + half)

    def covers(self, km: float) -> bool:
        """Is the distance between the shortest and the longest race?"""
        return self.shortest_km <= km <= self.longest_km


def t_80(freedom: int) -> float:
    """Student's t of a two-sided 80 % interval."""
    return T_80[freedom - 1] if freedom <= len(T_80) else NORMAL_80 + 0.8466 / freedom


def fit_curve(races: Sequence[tuple[float, float]]) -> RaceCurve | None:
    """Races as (km, minutes) -> the curve; None with fewer than three distances that differ by 1 % or more.

    Raises ValueError when a distance or a time is not above zero.
    """
    if any(km <= 0 or minutes <= 0 for km, minutes in races):
        raise ValueError("a race has a distance and a time above zero")
    points = [(math.log(km), math.log(minutes)) for km, minutes in races]
    if len(_distances(points)) < LEAST_DISTANCES:
        return None
    n = len(points)
    mean_x = sum(x for x, _ in points) / n
    mean_y = sum(y for _, y in points) / n
    spread = sum((x - mean_x) ** 2 for x, _ in points)
    b = sum((x - mean_x) * (y - mean_y) for x, y in points) / spread
    log_a = mean_y - b * mean_x
    sd = math.sqrt(sum((y - log_a - b * x) ** 2 for x, y in points) / (n - 2))
    kms = [km for km, _ in races]
    return RaceCurve(log_a, b, sd / math.sqrt(spread), sd, n, min(kms), max(kms), mean_x, spread)


def _distances(points: Sequence[tuple[float, float]]) -> list[float]:
    """Log distances, those within 1 % of one another once."""
    out: list[float] = []
    for x in sorted(x for x, _ in points):
        if not out or x - out[-1] > 0.01:
            out.append(x)
    return out


def flat_km(run: RunTold, climb_as_flat: float) -> float:
    """The distance on the flat that a run counts as: each metre of climb as `climb_as_flat` metres; km."""
    return run.distance_km + climb_as_flat * (run.climb_m or 0.0) / 1000


def curve_of(races: Iterable[RunTold], climb_as_flat: float) -> RaceCurve | None:
    """The curve of a runner's races that have a time, climbs counted as flat."""
    return fit_curve([(flat_km(r, climb_as_flat), r.minutes) for r in races if r.minutes and r.distance_km > 0])


def curve_words(curve: RaceCurve | None, races: int) -> str:
    """One line about it."""
    if curve is None:
        return f"{races} races with a time: no curve from fewer than {LEAST_DISTANCES} distances"
    span = f"{number(round(curve.shortest_km, 1))}-{number(round(curve.longest_km, 1))} km"
    return f"{curve.n} races over {span}: time grows as distance to the power {curve.b:.3f}, standard error {curve.b_se:.3f}"


def race_words(curve: RaceCurve, km: float) -> str:
    """What the curve says of one distance, and whether it was seen there."""
    low, middle, high = (clock(m) for m in curve.minutes(km))
    beyond = "" if curve.covers(km) else "; beyond the races told, so less sure than it says"
    return f"{number(km)} km on the flat: {middle}, 4 of 5 times between {low} and {high}{beyond}"


def clock(minutes: float) -> str:
    """`41:05` or `3:12:40`."""
    seconds = round(minutes * 60)
    hours, rest = divmod(seconds, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60}:{rest % 60:02}"
