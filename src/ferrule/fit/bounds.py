"""How far a line may go this week by what the record says: the seam between `ferrule.next` and the fit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ferrule.fit.draft import Draft
from ferrule.fit.growth import Before, ceiling
from ferrule.fit.setting import Setting
from ferrule.model.bound import Bound, Bounds
from ferrule.model.fitted import Reason
from ferrule.model.programme import Programme

HAIR = 1e-9
NOTHING_LESS = "nothing that may be done asks less"


@dataclass(frozen=True, slots=True)
class Own:
    """What the record makes of one runner's week: the programme with its doses as they now are, bounds, and lines that
    keep the text whatever the effort (session key, line key), because the coach said so."""

    programme: Programme
    bounds: Bounds = field(default_factory=dict)
    pinned: frozenset[tuple[str, str]] = field(default_factory=frozenset)


NO_OWN: Mapping[str, Own] = {}


def keep_within(drafts: Sequence[Draft], bound: Bound | None, before: Before | None, setting: Setting) -> None:
    """Bar what asks more of the main group than `bound` allows, counted from what was sent the week before.

    Where that leaves nothing that is dosed, the least of it may be done after all - unless the bound is strict.
    Lines that were no dose last week are not held. A firm bound at last week's demand keeps the exercise, where it may be.
    """
    most = limit(bound, before, setting)
    if bound is None or most is None or before is None:
        return
    main = setting.library.variants[before.variant_id].main
    assert main is not None  # it has a limit
    held = [d for d in drafts if d.barred is None and d.group in (None, main.group) and d.demand > most[1] * (1 + HAIR)]
    for d in held:
        d.barred = Reason(bound.code, bound.reason)
    same = [d for d in drafts if d.barred is None and d.variant is not None and d.variant.id == before.variant_id]
    if bound.firm and bound.most == 1 and same:
        for d in drafts:
            if d.barred is None and all(d is not s for s in same):
                d.barred = Reason(bound.code, bound.reason)
    if held and not bound.strict and all(d.barred is not None for d in drafts):
        min(held, key=lambda d: d.demand).barred = None


def limit(bound: Bound | None, before: Before | None, setting: Setting) -> tuple[float, float] | None:
    """(demand of last week's line, most demand now) on its main group, anchor units; None where nothing is held."""
    if bound is None or before is None or (bound.most is None and not bound.step):
        return None
    variant = setting.library.variants.get(before.variant_id)
    if variant is None or variant.main is None:
        return None
    kg, place = (0.0, None) if before.load is None else (before.load.kg, before.load.place)
    was = variant.main.demand(kg, place, setting.mass_kg)
    most = ceiling(before, setting) if bound.step else None
    return was, min(x for x in (most, None if bound.most is None else was * bound.most) if x is not None)


def bound_reason(
    bound: Bound | None, demand: float, before: Before | None, setting: Setting, *, grouped: bool
) -> tuple[Reason, ...]:
    """A word on a line that is held: why, and where nothing less was to be had that too."""
    most = limit(bound, before, setting)
    if bound is None:
        return ()
    over = most is not None and grouped and demand > most[1] * (1 + HAIR)
    if bound.quiet and not over:
        return ()
    return (Reason(bound.code, f"{bound.reason}; {NOTHING_LESS}" if over else bound.reason),)
