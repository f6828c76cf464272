"""One exercise as its author wrote it: a variant whose demands are still to be worked out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from ferrule.model.exercise import Variant
from ferrule.model.finding import Span
from ferrule.model.words import Group, Place, Trust

PoseAsk = Literal["calf", "knee and hip", "hinge"]
"""A second demand read from the same solved pose; `calf` is straight or bent by the knee of the pose."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A variant without its asks, and what its author said about them.

    group        the main group, None for what is never a dose
    trust        how far its demand is believed; `order` needs `difficulty`
    difficulty   demand without load, anchor 1.0;  per_kg: slope by place, anchor units per (kg load / kg body)
    also         second demands written by hand;  also_pose: second demands from the pose
    order_note   why the order stands although the pose model contradicts it
    """

    variant: Variant
    group: Group | None
    trust: Trust | None
    span: Span
    difficulty: float | None = None
    per_kg: Mapping[Place, float] = field(default_factory=dict)
    also: Mapping[Group, float] = field(default_factory=dict)
    also_pose: tuple[PoseAsk, ...] = ()
    order_note: str = ""


@dataclass(frozen=True, slots=True)
class DraftFamily:
    """A family file, read: its variants in the author's order."""

    id: str
    name: str
    order_source: str
    file: str
    drafts: tuple[Draft, ...]
    kit_note: str = ""
