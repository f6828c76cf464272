"""How much more than the held demand a moving repetition asks at its peak.

peak / static = 1 + 4 * rise / (g * T^2), half of a phase of T seconds speeding up and half slowing down (constant
acceleration, so the mean over the phase stays the static value). At 1.5 s a phase or slower the factor is below 1.08
and is left out of every dose; jumps are outside the model.
"""

from __future__ import annotations

from typing import Literal

from ferrule.body.path import path_of
from ferrule.body.segments import GRAVITY, REFERENCE, Person
from ferrule.model.pose import Movement
from ferrule.model.quantity import Tempo

FAST_PHASE_S = 0.5
"""Seconds a phase written `x` counts (common practice, no source)."""


def peak_factor(rise_m: float, phase_s: float) -> float:
    """Peak force over static force when the mass centre rises `rise_m` in `phase_s` seconds (both above 0)."""
    if rise_m < 0 or phase_s <= 0:
        raise ValueError(f"a rise of {rise_m} m in {phase_s} s is not a movement")
    return 1.0 + 4.0 * rise_m / (GRAVITY * phase_s * phase_s)


def rise_of(movement: Movement, *, person: Person = REFERENCE) -> float:
    """How far the mass centre travels up or down in one repetition, m; 0 when it is held still."""
    if movement.other is None:
        return 0.0
    path = path_of(movement, person=person)
    return abs(path.start.centre.imag - path.end.centre.imag)


def tempo_factor(movement: Movement, tempo: Tempo, *, person: Person = REFERENCE) -> float:
    """The larger peak factor of the way down and the way up at a written tempo; a phase of 0 s counts as fast."""
    rise = rise_of(movement, person=person)
    return max(peak_factor(rise, _seconds(phase)) for phase in (tempo.down, tempo.up))


def _seconds(phase: float | Literal["x"]) -> float:
    return FAST_PHASE_S if phase == "x" or phase <= 0 else phase
