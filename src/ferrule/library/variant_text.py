"""One `[[variant]]` table -> Draft. A field left out takes the neighbour's value when there is a neighbour."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import get_args

from ferrule.body.pose_reader import MOVEMENT_KEYS, read_movement
from ferrule.library.draft import Draft, PoseAsk
from ferrule.library.fields import Fields
from ferrule.library.muscles import MUSCLES
from ferrule.library.shot import read_shot
from ferrule.model.exercise import DoseKind, Variant
from ferrule.model.pose import Movement
from ferrule.model.words import GROUPS, KIT_KINDS, PATTERNS, PLACES, REGIONS, TAGS, Place, Trust

DOSE_KINDS: tuple[DoseKind, ...] = get_args(DoseKind)
PULLS: tuple[Place, ...] = get_args(Place)
"""Where a slope may be written: the places of weights, and a band."""
TRUSTS: tuple[Trust, ...] = get_args(Trust)
POSE_ASKS: tuple[PoseAsk, ...] = get_args(PoseAsk)
KEYS: tuple[str, ...] = (
    "id", "name", "aliases", "spoken", "pattern", "dose", "one_leg", "sided", "kit", "needs", "step_cm", "loading",
    "cues", "faults", "setup", "balance_help", "group", "trust", "difficulty", "per_kg", "also", "also_pose",
    "regions", "tags", "impact", "contacts_per_rep", "end_range", "below_level", "lifts", "rep_s", "setup_s", "cautions",
    "easier", "harder", "harder_than", "easier_than", "source", "order_note", "gap_note", "muscles", "helping", "shot",
    *MOVEMENT_KEYS,
)  # fmt: skip
_NEEDED = ("name", "pattern", "cues", "setup", "regions")


def slug(name: str) -> str:
    """The id a name gives when its author wrote none: `Step-up, high` -> `step-up-high`."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def read_variant(fields: Fields, family: str, rank: int, like: Draft | None = None) -> Draft | None:
    """The draft of one table; None when it has no name. Faults go to `fields.findings`.

    like   a neighbour whose values stand in for the fields that are not written
    """
    name = fields.text("name")
    if not name:
        fields.fault("library-missing-key", "name", "this exercise has no name", 'write `name = "..."`')
        return None
    if like is None:
        for key in _NEEDED:
            if not fields.has(key):
                fix = f"write `{key}`, or place the exercise with `harder_than` and `easier_than`"
                fields.fault("library-missing-key", key, f"{name} has no `{key}`", fix)
    old = like.variant if like else None
    group = fields.choice("group", GROUPS, like.group if like else None)
    one_leg = fields.flag("one_leg", old.one_leg if old else False)
    kit = fields.choices("kit", KIT_KINDS, old.kit if old and not fields.has("needs") else ())
    kit = tuple(dict.fromkeys(kit + fields.choices("needs", KIT_KINDS)))
    variant = Variant(
        id=fields.text("id", slug(name)),
        name=name,
        family=family,
        rank=rank,
        pattern=fields.choice("pattern", PATTERNS, old.pattern if old else None) or "mobility",
        dose_kind=fields.choice("dose", DOSE_KINDS, old.dose_kind if old else None) or "reps",
        one_leg=one_leg,
        sided=fields.flag("sided", old.sided if old else one_leg),
        kit=kit,
        loading=fields.choices("loading", PLACES, old.loading if old else ()),
        cues=fields.texts("cues"),
        faults=fields.fault_list("faults", ()),
        setup=fields.text("setup"),
        asks=(),
        regions=fields.choices("regions", REGIONS, old.regions if old else ()),
        spoken=fields.text("spoken", name.replace(",", "")),
        aliases=fields.texts("aliases"),
        tags={t: int(n) for t, n in fields.numbers("tags", TAGS, 1, 3).items()} or (dict(old.tags) if old else {}),
        impact=fields.whole("impact", old.impact if old else 0, 0, 4),
        contacts_per_rep=fields.whole("contacts_per_rep", old.contacts_per_rep if old else 0, 0, 20),
        end_range=fields.flag("end_range", old.end_range if old else False),
        below_level=fields.flag("below_level", old.below_level if old else False),
        lifts=fields.flag("lifts", old.lifts if old else False),
        step_cm=fields.span_cm("step_cm", None),
        rep_s=fields.number("rep_s", old.rep_s if old else 3.0, 0.2, 60) or 3.0,
        setup_s=fields.number("setup_s", old.setup_s if old else 20.0, 0, 600) or 0.0,
        cautions=fields.texts("cautions", old.cautions if old else ()),
        balance_help=fields.text("balance_help", old.balance_help if old else ""),
        easier=fields.texts("easier"),
        harder=fields.texts("harder"),
        movement=_movement(fields, name),
        source=fields.text("source", "common practice, no source"),
        muscles=fields.choices("muscles", MUSCLES, old.muscles if old else ()),
        helping=fields.choices("helping", MUSCLES, old.helping if old else ()),
        order_note=fields.text("order_note"),
        gap_note=fields.text("gap_note"),
    )
    variant = replace(variant, shot=read_shot(fields, variant, old.shot if old else None))
    return Draft(
        variant=variant,
        group=group,
        trust=fields.choice("trust", TRUSTS, "order" if group else None),
        span=fields.span("name"),
        difficulty=fields.number("difficulty", None, 0.01, 20),
        per_kg=fields.numbers("per_kg", PULLS, 0, 20),
        also=fields.numbers("also", GROUPS, 0.01, 20),
        also_pose=fields.choices("also_pose", POSE_ASKS),
        order_note=variant.order_note,
    )


def _movement(fields: Fields, name: str) -> Movement | None:
    """The pose of the table; None when it has none or cannot be read."""
    table = {key: fields.value(key) for key in MOVEMENT_KEYS if fields.has(key)}
    if not fields.has("hold"):
        fields.taken.update(MOVEMENT_KEYS)
        return None
    movement, findings = read_movement(table, name, span=fields.span("hold"))
    for finding in findings:
        key = next((k for k in MOVEMENT_KEYS if f"`{k}" in finding.what and fields.has(k)), "hold")
        fields.findings.append(replace(finding, span=fields.span(key)))
    return movement
