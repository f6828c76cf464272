"""The way from one end of a repetition to the other."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.body.angles import Affine, Angles
from ferrule.body.posture import Plan, Posture, plan_of, posture, settle
from ferrule.body.segments import REFERENCE, Person
from ferrule.model.pose import Movement
from ferrule.model.words import Place


@dataclass(frozen=True, slots=True)
class Path:
    """A repetition from `other` (t = 0) to `hold` (t = 1), with a load.

    Between the ends the written angles blend evenly and the "~" angles of `hold` are solved again, so that the supports
    stay where they are and the balance (or the imposed share) holds all the way.
    """

    movement: Movement
    start: Posture
    end: Posture
    plan: Plan
    load_kg: float
    place: Place | None
    person: Person

    def at(self, t: float) -> Posture:
        """The posture at `t`. Raises NoSuchPosture where the way is barred."""
        if t >= 1.0:
            return self.end
        parts: dict[str, Affine | None] = {}
        unknowns = self._unknowns_at_start()
        for name, bound in self.plan.angles.parts.items():
            first, last = self.start.angles[name], self.end.angles[name]
            if bound is None or first is None or last is None:
                parts[name] = bound
            elif bound.unknown:
                miss = first - (bound.fixed + bound.factor * unknowns[bound.unknown])
                parts[name] = bound.plus((1 - t) * miss)
            else:
                parts[name] = Affine((1 - t) * first + t * last)
        starts = {name: (1 - t) * unknowns[name] + t * end for name, end in self._unknowns_at_end().items()}
        reach = None if self.plan.reach is None else self.plan.reach * t
        plan = Plan(Angles(parts, starts), self.plan.contacts, reach)
        return settle(plan, self.movement, load_kg=self.load_kg, place=self.place, person=self.person)

    def _unknowns_at_start(self) -> dict[str, float]:
        """What each unknown of `hold` would be at the other end, from the first part bound to it."""
        return self._unknowns(self.start)

    def _unknowns_at_end(self) -> dict[str, float]:
        return self._unknowns(self.end)

    def _unknowns(self, solved: Posture) -> dict[str, float]:
        found: dict[str, float] = {}
        for name, bound in self.plan.angles.parts.items():
            angle = solved.angles[name]
            if bound is not None and bound.unknown and bound.unknown not in found and angle is not None:
                found[bound.unknown] = (angle - bound.fixed) / bound.factor
        return found


def path_of(
    movement: Movement, *, load_kg: float = 0.0, place: Place | None = None, person: Person = REFERENCE
) -> Path:
    """Both ends solved and the way between them. Raises NoSuchPosture when an end is not there."""
    start = posture(movement, at="other", load_kg=load_kg, place=place, person=person)
    end = posture(movement, at="hold", load_kg=load_kg, place=place, person=person)
    plan = plan_of(movement, "hold", place if load_kg > 0 else None)
    return Path(movement, start, end, plan, load_kg, place, person)


def between(movement: Movement, t: float, *, person: Person = REFERENCE) -> Posture:
    """The posture at `t` of the way from `other` (0) to `hold` (1), for drawing it moving."""
    if movement.other is None:
        return posture(movement, person=person)
    return path_of(movement, person=person).at(t)
