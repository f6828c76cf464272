"""Closed lists of words that the whole project shares. The glossary (docs/glossary.md) owns their meaning."""

from __future__ import annotations

from typing import Literal, get_args

Group = Literal[
    "calf straight",
    "calf bent",
    "knee and hip",
    "hinge",
    "bridge and knee flexion",
    "hip abduction",
    "hip adduction",
    "trunk front",
    "trunk side",
    "trunk back",
    "push",
    "pull",
]
"""What is dosed: one log capacity each. `knee and hip` is the sum the statics can tell."""
GROUPS: tuple[Group, ...] = get_args(Group)

Region = Literal[
    "foot", "calf", "shin", "knee", "thigh", "hamstring", "hip", "groin", "back", "trunk", "shoulder", "arm"
]
"""Where it can be sore; a limit or a sore place names a region."""
REGIONS: tuple[Region, ...] = get_args(Region)

Tag = Literal["foot", "shin", "hip rotation", "hip flexion", "balance", "mobility"]
"""Ordinal things an exercise works on: they limit and they count, they are never a dose."""
TAGS: tuple[Tag, ...] = get_args(Tag)

Pattern = Literal[
    "squat",
    "split squat",
    "lunge",
    "step",
    "hinge",
    "bridge",
    "knee flexion",
    "heel raise",
    "shin raise",
    "foot",
    "hip flexion",
    "hip abduction",
    "hip adduction",
    "hip rotation",
    "trunk front",
    "trunk side",
    "trunk back",
    "trunk moving",
    "push",
    "pull",
    "carry",
    "balance",
    "landing",
    "jump",
    "hop",
    "skip",
    "mobility",
    "easy movement",
]
"""What a slot may ask for: `any hinge, one leg`."""
PATTERNS: tuple[Pattern, ...] = get_args(Pattern)

Place = Literal["hands", "opposite hand", "same hand", "chest", "back", "hips", "ankle", "band"]
"""Where a load is carried. `opposite` and `same` are seen from the working leg. `band` carries no weight: it is the pull
of a band beyond that of the thin one (ferrule.library.bands)."""
PLACES: tuple[Place, ...] = tuple(p for p in get_args(Place) if p != "band")
"""The places of weights."""

Band = Literal["thin", "medium", "thick"]
BANDS: tuple[Band, ...] = get_args(Band)

Trust = Literal["number", "ratio", "order"]
"""How far a computed demand may be believed: across families, within a family, or as an order only."""

Side = Literal["left", "right", "both"]

KitKind = Literal[
    "mat",
    "chair",
    "bench",
    "step",
    "stair",
    "box",
    "wall",
    "towel",
    "band",
    "dumbbell",
    "kettlebell",
    "barbell",
    "plate",
    "rucksack",
    "water bottle",
    "heavy book",
    "sofa",
    "doorway bar",
    "rope",
    "ball",
]
"""What a runner may own. `wall` and `towel` are taken as owned by everybody."""
KIT_KINDS: tuple[KitKind, ...] = get_args(KitKind)

Level4 = Literal["never", "some", "regular", "strong"]
"""Level of strength training: never trained; now and then; twice a week for half a year; years of loaded work."""
LEVELS: tuple[Level4, ...] = get_args(Level4)

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
"""Weekday names by number, Monday 0, as `datetime.date.weekday()`."""

REGION_GROUPS: dict[Region, tuple[Group, ...]] = {
    "foot": ("calf straight", "calf bent"),
    "calf": ("calf straight", "calf bent"),
    "shin": ("calf straight", "calf bent"),
    "knee": ("knee and hip",),
    "thigh": ("knee and hip",),
    "hamstring": ("hinge", "bridge and knee flexion"),
    "hip": ("knee and hip", "hinge", "hip abduction"),
    "groin": ("hip adduction",),
    "back": ("hinge", "trunk back"),
    "trunk": ("trunk front", "trunk side", "trunk back"),
    "shoulder": ("push", "pull"),
    "arm": ("push", "pull"),
}
"""Which groups load a region (common practice, no source). Impact loads every region from foot to back."""

IMPACT_REGIONS: tuple[Region, ...] = ("foot", "calf", "shin", "knee", "thigh", "hamstring", "hip", "groin", "back")
