"""The effort of drafts, worked out together; and the tail where failing can hurt."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ferrule.fit.calibrated import calibrated, way_of
from ferrule.fit.draft import Draft
from ferrule.fit.effort import loss, possible
from ferrule.fit.intent import Intent, intent_of
from ferrule.fit.setting import Setting
from ferrule.model.exercise import Variant
from ferrule.model.fitted import LoadChoice, Reason
from ferrule.model.house import House
from ferrule.model.programme import Block, Dose
from ferrule.model.words import Group, Place

WHERE: dict[Place, str] = {
    "hands": "in the hands", "opposite hand": "in the opposite hand", "same hand": "in the same hand",
    "chest": "at the chest", "back": "on the back", "hips": "on the hips", "ankle": "at the ankle",
    "band": "with the band",
}  # fmt: skip
HEAVY_SHARE = 0.1
"""A load above this share of body mass is heavy: failing with it can hurt (common practice, no source)."""


def weigh(drafts: Sequence[Draft], block: Block, sets: int, setting: Setting) -> None:
    """Effort of all drafts, worked out together for those that share a group and an intent; fills the drafts in."""
    intents: dict[tuple[int, Group], Intent] = {}
    batches: dict[tuple[Group, Intent], list[Draft]] = {}
    for d in drafts:
        main = None if d.variant is None else d.variant.main
        if main is None:
            continue
        key = (id(d.dose), main.group)
        if key not in intents:
            intents[key] = intent_of(d.dose, block, main.group, setting.margin_rir)
        d.group, d.intent = main.group, intents[key]
        if d.intent.unit != "none":
            kg, place = (0.0, None) if d.load is None else (d.load.kg, d.load.place)
            d.demand = main.demand(kg, place, setting.mass_kg)
            batches.setdefault((main.group, d.intent), []).append(d)
    for (group, intent), members in batches.items():
        own = np.array([_believed(d.variant, d, setting) for d in members if d.variant is not None]).T
        n = possible(np.array([d.demand for d in members]), sets, intent, group, setting.nodes, (own[0], own[1]))
        lost = loss(n, intent)
        means = lost.mean(axis=1)
        fails = (n < intent.work).mean(axis=1) if intent.unit == "reps" else np.zeros(len(members))
        for d, n_row, lost_row, mean, fail in zip(members, n, lost, means, fails, strict=True):
            d.possible, d.lost, d.expected_loss = n_row, lost_row, float(mean)
            if d.barred is None and d.load is not None and _may_hurt(d.load, d.dose, setting.mass_kg):
                d.barred = _risk(d.load, float(fail), setting.house)


def _believed(variant: Variant, d: Draft, setting: Setting) -> tuple[float, float]:
    return calibrated(setting.capacity, way_of(d), setting.believed(variant))


def _may_hurt(load: LoadChoice, dose: Dose, mass_kg: float) -> bool:
    """Failing under a load on the back or hips can hurt; so can one of our choosing that is heavy for the runner. A band
    lets go by itself."""
    if load.band is not None:
        return False
    return load.place in ("back", "hips") or (dose.load is None and load.kg > HEAVY_SHARE * mass_kg)


def _risk(load: LoadChoice, fails: float, house: House) -> Reason | None:
    """The tail is limited where failing can hurt, and only there. fails: chance of not completing the set."""
    if fails <= house.value("fail-risk"):
        return None
    return Reason("risk", f"{load.kg:g} kg {WHERE[load.place]}: too likely to fail under it ({100 * fails:.0f} of 100)")
