"""What had been foretold of a set before its week, beside what was told of it afterwards.

Foretold with the belief of the Sunday before and the offsets that counted then: nothing of the week itself is in it.
Completing is compared of first sets: later ones are done by who has felt the first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from ferrule.capacity.foretell import foretell
from ferrule.capacity.observation import observe
from ferrule.capacity.state import BIAS_MEAN
from ferrule.model.calibration import Stratum, stratum_of
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.squad import Capacity

Reading = Literal["exact", "at least", "nothing"]

FAR: Final = 4.0
FAR_BOUND: Final = 2.5
"""Spreads beyond which what was told is more likely a slip than news; for bounds above the middle. As in `update`."""


@dataclass(frozen=True, slots=True)
class Compared:
    """One set. All z count foretold spreads above the foretold middle, without any correction.

    finding   nothing of the runner was logged before: it was foretold from norms alone
    asked_z   of what was asked;  done: whether that was completed, as told; None where nobody said, and for later sets
    reading   what was told of how much was possible;  z, z_sd: how much, and the reading's error
    """

    entry_id: str
    runner_id: str
    day: date
    stratum: Stratum
    finding: bool
    asked_z: float
    done: bool | None
    reading: Reading
    z: float = 0.0
    z_sd: float = 0.0


def completed(entry: LoggedSet) -> bool | None:
    """Whether what was asked was completed, as told; None where that was not told, or pain, time or kit ended the set.

    A set ended on purpose below what was asked was completable when done + reserve, read as `observe` does, reach it.
    """
    if entry.stopped is not None or entry.outcome == "not said" or entry.asked is None:
        return None
    if entry.outcome == "tapped":
        return True
    if entry.done is None:
        return None
    if entry.done >= entry.asked or entry.outcome == "failed":
        return entry.done >= entry.asked
    if entry.reserve is None:
        return None
    left = entry.reserve.low
    return entry.done + left + 0.5 + BIAS_MEAN * min(1.0, (left + 1) / 2.5) >= entry.asked


def compared(
    entry: LoggedSet,
    z_of: Callable[[float], float],
    library: Library,
    mass_kg: float,
    stratum: Stratum,
    *,
    finding: bool,
) -> Compared | None:
    """`entry` beside what was foretold of a set with its load; None where nothing was asked, or the entry must be a slip.

    z_of   foretold spreads above the foretold middle, of repetitions or seconds (`Foretold.z_of`)
    """
    if not entry.asked:
        return None
    asked_z, done = z_of(entry.asked), completed(entry) if entry.number == 1 else None
    if done is not None and (asked_z > FAR if done else asked_z < -FAR):
        return None
    seen = observe(entry, library, mass_kg)
    nothing = Compared(entry.entry_id, entry.runner_id, entry.day, stratum, finding, asked_z, done, "nothing")
    if seen.kind == "nothing" or seen.amount is None:
        return nothing
    amount = seen.amount + (0.0 if seen.hold else BIAS_MEAN * seen.bias_weight)
    z, bound = z_of(amount), seen.kind == "at least"
    if z > (FAR_BOUND if bound else FAR) or (not bound and z < -FAR):
        return nothing
    more = amount * (1 + seen.amount_sd) if seen.hold else amount + seen.amount_sd
    return Compared(
        entry.entry_id, entry.runner_id, entry.day, stratum, finding, asked_z, done, "at least" if bound else "exact", z,
        z_of(more) - z,
    )  # fmt: skip


def compared_week(
    sets: Iterable[LoggedSet], before: Capacity, library: Library, mass_kg: float
) -> tuple[Compared, ...]:
    """The sets of one runner's week that tell something, beside what the belief `before` that week foretold of them."""
    found = []
    for entry in sets:
        variant = library.variants.get(entry.variant_id)
        if (
            (entry.number != 1 and not entry.effort_asked)
            or entry.side != "both"
            or entry.band is not None
            or variant is None
            or variant.main is None
        ):
            continue
        if variant.dose_kind not in ("reps", "hold") or (variant.dose_kind == "hold") != (entry.unit == "s"):
            continue
        said = foretell(before, variant, entry.load_kg, entry.place, mass_kg, entry.number - 1)
        own = before.variants.get(variant.id)
        stratum = stratum_of(0 if own is None else own.days, hold=said.hold, loaded=entry.load_kg > 0)
        one = compared(entry, said.z_of, library, mass_kg, stratum, finding=before.finding_week)
        found += [] if one is None else [one]
    return tuple(found)
