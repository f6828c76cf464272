"""What one variant asks: the demand a dose or a limit is reckoned with.

demand(kg) = d0 + d1 * kg / body mass        (N·m/kg, or a share of the body weight)

The largest value along the repetition counts, not the value at its end: a squat to a thigh of 110 degrees ends at 1.52
but passes 1.62 on the way (hip + knee). So more depth, more load or less support never lowers it.
"""

from __future__ import annotations

from collections.abc import Iterable

from ferrule.body.path import Path, path_of
from ferrule.body.posture import NoSuchPosture, posture
from ferrule.body.segments import REFERENCE, Person
from ferrule.body.statics import solve_posture
from ferrule.model.pose import Movement
from ferrule.model.words import Place

_STEPS = 8
_PROBE_KG = 20.0
"""The slope is the same at 5, 10, 20 and 30 kg where the lean is not solved again, within 1 % where it is."""


def demand_of(movement: Movement, *, place: Place | None = None, person: Person = REFERENCE) -> tuple[float, float]:
    """(d0, d1): demand without load, and its slope per (kg of load / kg of body mass) at `place` (0 without a place).

    d1 is never negative: where a load takes work away (held on the working side in one-leg standing) it counts 0.
    Raises NoSuchPosture when the pose cannot be taken, has no demand, or cannot hold a load there.
    """
    bare, slopes = demands_of(movement, () if place is None else (place,), person=person)
    return bare, slopes[place] if place is not None else 0.0


def demands_of(
    movement: Movement, places: Iterable[Place], *, person: Person = REFERENCE
) -> tuple[float, dict[Place, float]]:
    """The demand without load, and the slope of each place; as `demand_of`, the unloaded way solved once."""
    bare = _largest(movement, 0.0, None, person)
    slopes: dict[Place, float] = {}
    for place in places:
        _can_carry(movement, place)
        loaded = _largest(movement, _PROBE_KG, place, person)
        slopes[place] = max(0.0, (loaded - bare) * person.mass_kg / _PROBE_KG)
    return bare, slopes


def held_demand(movement: Movement, *, load_kg: float = 0.0, place: Place | None = None) -> float:
    """The demand of the held end alone, for exercises that are held still and not repeated."""
    if load_kg > 0 and place is not None:
        _can_carry(movement, place)
    return _named(solve_posture(posture(movement, load_kg=load_kg, place=place)).demand)


def _named(demand: float | None) -> float:
    if demand is None:
        raise NoSuchPosture("this movement names no demand")
    return demand


def _can_carry(movement: Movement, place: Place) -> None:
    busy = {
        side
        for contact in movement.contacts
        if contact.at in ("hand", "elbow", "forearm")
        for side in ("lead", "rear")
        if contact.limb in (side, "both")
    }
    wanted = {"hands": {"lead", "rear"}, "opposite hand": {"rear"}, "same hand": {"lead"}}.get(place, set())
    if busy & wanted:
        raise NoSuchPosture(f"the hands hold the body up: no load can be carried at {place}")


def _largest(movement: Movement, load_kg: float, place: Place | None, person: Person) -> float:
    """The largest demand from `other` to `hold`; as far back from `hold` as it can be taken."""
    end = _named(solve_posture(posture(movement, load_kg=load_kg, place=place, person=person)).demand)
    if movement.other is None:
        return end
    try:
        path = path_of(movement, load_kg=load_kg, place=place, person=person)
    except NoSuchPosture:
        return end
    best, t = end, 1.0
    for i in reversed(range(_STEPS)):
        found = _demand_at(path, i / _STEPS)
        if found is None:
            break
        best, t = max((best, t), (found, i / _STEPS))
    return max(best, _top(path, max(0.0, t - 1 / _STEPS), min(1.0, t + 1 / _STEPS)))


def _demand_at(path: Path, t: float) -> float | None:
    try:
        return solve_posture(path.at(t)).demand
    except NoSuchPosture:
        return None


def _top(path: Path, low: float, high: float) -> float:
    """The demand at the top of a parabola through both ends and the middle; 0 where there is none."""
    middle, half = (low + high) / 2, (high - low) / 2
    left, mid, right = (_demand_at(path, t) for t in (low, middle, high))
    if left is None or mid is None or right is None:
        return 0.0
    bend = left - 2 * mid + right
    if bend >= 0:
        return 0.0
    top = middle + half * (left - right) / (2 * bend)
    return _demand_at(path, top) or 0.0 if low < top < high else 0.0
