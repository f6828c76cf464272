"""What is believed of one runner, in words: how much they can do, from which sets, how sure, what one more set would teach.

Likely    the middle 80 % of the belief: log capacity mean -+ 1.28 SD, put through the curve of the exercise
Sure      by the factor that 80 % spans, e^{1.28 SD}: below 1.10 well, 1.20 fairly, 1.35 roughly, else hardly known (ours)
Nothing here is a judgement of a person; every number is of strength as the curves see it, relative, never a force.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from ferrule.capacity import curves, slopes
from ferrule.capacity.observation import observe
from ferrule.capacity.state import State
from ferrule.capacity.telling import AskedSet, Telling
from ferrule.model.calibration import stratum_of
from ferrule.model.entry import LoggedSet, LoggedTest
from ferrule.model.exercise import Library, Variant
from ferrule.model.quantity import number
from ferrule.model.squad import Capacity, Runner
from ferrule.model.words import GROUPS, Group, Place

Z80: Final = 1.2816
MANY_REPS: Final = 40
"""Above this a count is "40 or more": the curves were not measured there."""

Sure = Literal["well known", "fairly known", "roughly known", "hardly known"]
_SURE: Final[tuple[tuple[float, Sure], ...]] = ((1.10, "well known"), (1.20, "fairly known"), (1.35, "roughly known"))

GROUP_WORDS: Final[Mapping[Group, str]] = {
    "calf straight": "calf, knee straight",
    "calf bent": "calf, knee bent",
    "knee and hip": "knee and hip (squats, steps, lunges)",
    "hinge": "hinge",
    "bridge and knee flexion": "bridge and knee flexion",
    "hip abduction": "hip, outwards",
    "hip adduction": "hip, inwards",
    "trunk front": "trunk, front",
    "trunk side": "trunk, side",
    "trunk back": "trunk, back",
    "push": "push",
    "pull": "pull",
}


@dataclass(frozen=True, slots=True)
class Likely:
    """The middle and the two ends of 80 % of a belief, in repetitions or seconds possible, or as shares of best."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True, slots=True)
class GroupBelief:
    """One group.

    exercise, possible   the exercise the belief is told by, and how many are likely possible of it
    sure                 how well it is known;  informed: whether anything of this runner was told of it
    sets, last           logged sets that said something, and the last day of one
    sources              where the belief comes from
    """

    group: Group
    exercise: str
    possible: Likely
    hold: bool
    sure: Sure
    informed: bool
    sets: int
    last: date | None
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Point:
    """One exercise of a family with one load, as shares of this runner's best.

    kg      0 without a load;  asked: this is what the week asks
    """

    variant_id: str
    name: str
    kg: float
    place: Place | None
    share: Likely
    asked: bool


@dataclass(frozen=True, slots=True)
class ToldSet:
    """One logged set of the exercise and what was read from it."""

    day: date
    said: str


@dataclass(frozen=True, slots=True)
class ExerciseBelief:
    """One exercise: how many are possible at the load of the week, and what one more set would teach.

    points    the family on the axis of share of best
    after     what would be likely possible to say after one more set, with an answer; None where no week asks for it
    corrected from which sets of the squad chances of this exercise are corrected; "" without a calibration
    """

    variant_id: str
    name: str
    group: Group
    hold: bool
    load_kg: float
    possible: Likely
    sure: Sure
    own_sets: int
    told: tuple[ToldSet, ...]
    points: tuple[Point, ...]
    after: Likely | None
    corrected: str = ""


def sure_of(sd_log: float) -> Sure:
    """How well a log capacity is known."""
    factor = math.exp(Z80 * sd_log)
    return next((word for most, word in _SURE if factor < most), "hardly known")


def likely_share(mean_log: float, sd_log: float, demand: float) -> Likely:
    """Shares of best: demand / capacity."""
    middle = demand / math.exp(mean_log)
    return Likely(middle * math.exp(-Z80 * sd_log), middle, middle * math.exp(Z80 * sd_log))


def likely_possible(mean_log: float, sd_log: float, demand: float, variant: Variant) -> Likely:
    """Repetitions, or seconds, that are possible: the curve at each end of the share; none below 0."""
    share = likely_share(mean_log, sd_log, demand)
    assert variant.main is not None
    group = variant.main.group
    if variant.dose_kind == "hold":
        b0, b1 = curves.hold_curve(group)
        low, middle, high = (b0 * s**b1 for s in (share.high, share.middle, share.low))
    else:
        k = curves.k_of(group)
        low, middle, high = (
            0.0 if s > 1 else slopes.reps_at_log_share(math.log(s), k) for s in (share.high, share.middle, share.low)
        )
    return Likely(low, middle, high)


def possible_words(possible: Likely, *, hold: bool) -> str:
    """`9-14`, `none to 5`, `40 or more`; seconds to the nearest five."""
    if hold:
        low, high = (max(0, 5 * round(x / 5)) for x in (possible.low, possible.high))
        if low > 240:
            return "4 min or more"
        top = "4 min or more" if high > 240 else f"{number(high)} s"
        return top if low == high else f"{number(low)} s to {top}"
    low, high = math.floor(possible.low), math.floor(possible.high)
    if low >= MANY_REPS:
        return f"{MANY_REPS} or more"
    top = f"{MANY_REPS} or more" if high > MANY_REPS else number(high)
    if high < 1:
        return "not one yet"
    return top if low == high else f"{'none' if low < 1 else number(low)} to {top}"


def group_beliefs(
    capacity: Capacity,
    library: Library,
    runner: Runner,
    state: State | None = None,
    tests: Iterable[LoggedTest] = (),
    groups: Sequence[Group] = GROUPS,
) -> tuple[GroupBelief, ...]:
    """Each group in words; `state` tells from how many sets. Groups without an exercise in the library are left out."""
    tested = {t.kind for t in runner.tests} | {t.kind for t in tests}
    found = []
    for group in groups:
        variant = told_by(group, capacity, library)
        if variant is None or variant.main is None:
            continue
        mean, sd = capacity.of(variant)
        seen = [s for v, s in ({} if state is None else state.seen).items() if _group_of(v, library) == group]
        last = max((s.last for s in seen), default=None)
        informed = bool(seen) or any(kind in _TESTS[group] for kind in tested)
        found.append(
            GroupBelief(
                group, variant.name, likely_possible(mean, sd, variant.main.base, variant), variant.dose_kind == "hold",
                sure_of(sd), informed, sum(s.sets for s in seen), last, capacity.basis.get(group, ()),
            )
        )  # fmt: skip
    return tuple(found)


_TESTS: Final[Mapping[Group, tuple[str, ...]]] = {
    **dict.fromkeys(GROUPS, ()),
    "calf straight": ("heel raises",),
    "calf bent": ("heel raises",),
    "trunk side": ("side plank",),
    "trunk front": ("front plank",),
    "push": ("press-ups",),
    "knee and hip": ("chair rises",),
    "bridge and knee flexion": ("bridges one leg",),
}


def _group_of(variant_id: str, library: Library) -> Group | None:
    variant = library.variants.get(variant_id)
    return None if variant is None or variant.main is None else variant.main.group


def told_by(group: Group, capacity: Capacity, library: Library) -> Variant | None:
    """The exercise a group is told by: its anchor, else - where 30 or more or none are possible - the one nearest to twelve."""
    anchor = library.variants.get(library.anchors.get(group, ""))

    def middle(variant: Variant) -> float:
        assert variant.main is not None
        return likely_possible(*capacity.of(variant), variant.main.base, variant).middle

    if anchor is not None and anchor.main is not None and (anchor.dose_kind == "hold" or 1 <= middle(anchor) < 30):
        return anchor
    counted = [v for v in library.variants.values() if _group_of(v.id, library) == group and v.dose_kind == "reps"]
    return min(counted, key=lambda v: (abs(math.log(max(0.1, middle(v)) / 12)), v.id), default=anchor)


def exercise_belief(
    variant: Variant,
    capacity: Capacity,
    library: Library,
    mass_kg: float,
    *,
    loads: Sequence[tuple[float, Place]] = (),
    asked: AskedSet | None = None,
    sets: Iterable[LoggedSet] = (),
    telling: Telling | None = None,
) -> ExerciseBelief:
    """One exercise (with a main group) in its family. Raises ValueError where it is never dosed.

    loads     what the runner can make, each at its place: put on the axis where a variant takes it
    asked     the line of the week;  telling: what that line would tell;  sets: logged, all of them
    """
    if variant.main is None or variant.dose_kind not in ("reps", "hold"):
        raise ValueError(f"{variant.id} is never dosed")
    mean, sd = capacity.of(variant)
    kg, place = (0.0, None) if asked is None or asked.variant_id != variant.id else (asked.load_kg, asked.place)
    demand = variant.main.demand(kg, place, mass_kg)
    after = None
    if telling is not None and telling.asked.variant_id == variant.id and telling.sd_before > 0:
        after = likely_possible(mean, sd * telling.sd_after / telling.sd_before, demand, variant)
    own = capacity.variants.get(variant.id)
    return ExerciseBelief(
        variant.id, variant.name, variant.main.group, variant.dose_kind == "hold", kg,
        likely_possible(mean, sd, demand, variant), sure_of(sd), 0 if own is None else own.sets,
        tuple(_told(e, library, mass_kg) for e in sorted(sets, key=lambda e: (e.day, e.number)) if e.variant_id == variant.id),
        family_points(variant, capacity, library, mass_kg, loads, asked), after, _corrected(variant, capacity, kg),
    )  # fmt: skip


def _corrected(variant: Variant, capacity: Capacity, load_kg: float) -> str:
    if not capacity.calibration.version:
        return ""
    own = capacity.variants.get(variant.id)
    days = 0 if own is None else own.days
    return capacity.calibration.words(stratum_of(days, hold=variant.dose_kind == "hold", loaded=load_kg > 0))


def _told(entry: LoggedSet, library: Library, mass_kg: float) -> ToldSet:
    load = f" with {number(entry.load_kg)} kg" if entry.load_kg else ""
    side = "" if entry.side == "both" else f", {entry.side}"
    return ToldSet(entry.day, f"{observe(entry, library, mass_kg).why}{load}{side}")


def family_points(
    variant: Variant,
    capacity: Capacity,
    library: Library,
    mass_kg: float,
    loads: Sequence[tuple[float, Place]] = (),
    asked: AskedSet | None = None,
) -> tuple[Point, ...]:
    """Every variant of the family that loads the same group, in the family's order, without a load and with each of `loads`."""
    assert variant.main is not None
    family = library.families.get(variant.family)
    made: list[Point] = []
    for one in map(library.variants.get, (variant.id,) if family is None else family.variant_ids):
        if (
            one is None
            or one.main is None
            or one.main.group != variant.main.group
            or one.dose_kind not in ("reps", "hold")
        ):
            continue
        mean, sd = capacity.of(one)
        mine = asked is not None and asked.variant_id == one.id
        carried: list[tuple[float, Place | None]] = [(0.0, None)]
        carried += [(kg, place) for kg, place in loads if place in one.loading]
        if mine and asked is not None and asked.load_kg and (asked.load_kg, asked.place) not in carried:
            carried.append((asked.load_kg, asked.place))
        for kg, place in carried:
            share = likely_share(mean, sd, one.main.demand(kg, place, mass_kg))
            here = mine and asked is not None and kg == asked.load_kg and (place == asked.place or not kg)
            made.append(Point(one.id, one.name, kg, place, share, here))
    return tuple(made)
