"""The muscles an exercise may name, in standard anatomical terms, with the plain word of each and the part it belongs to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ferrule.model.exercise import Variant
from ferrule.model.words import Region

_BY_REGION: Mapping[Region, Mapping[str, str]] = {
    "foot": {
        "flexor hallucis brevis": "short big-toe bender",
        "abductor hallucis": "inner arch",
        "flexor digitorum brevis": "sole",
        "flexor hallucis longus": "long big-toe bender",
    },
    "calf": {
        "gastrocnemius": "upper calf",
        "soleus": "deep calf",
        "tibialis posterior": "inner ankle",
        "fibularis longus": "outer ankle",
    },
    "shin": {"tibialis anterior": "front of the shin", "extensor digitorum longus": "toe lifters"},
    "thigh": {"quadriceps femoris": "front of the thigh", "rectus femoris": "front of the thigh, over the hip"},
    "hamstring": {
        "biceps femoris": "outer back of the thigh",
        "semitendinosus": "inner back of the thigh",
        "semimembranosus": "deep back of the thigh",
    },
    "hip": {
        "gluteus maximus": "seat",
        "gluteus medius": "side of the hip",
        "gluteus minimus": "deep side of the hip",
        "tensor fasciae latae": "front corner of the hip",
        "piriformis": "deep seat",
        "obturator internus": "deep seat",
        "quadratus femoris": "deep seat",
        "iliopsoas": "hip bender",
        "sartorius": "strap across the thigh",
    },
    "groin": {
        "adductor longus": "inner thigh",
        "adductor magnus": "large inner thigh",
        "gracilis": "inner thigh to the knee",
        "pectineus": "top of the inner thigh",
    },
    "back": {
        "erector spinae": "long back muscles",
        "multifidus": "deep back muscles",
        "quadratus lumborum": "side of the lower back",
    },
    "trunk": {
        "rectus abdominis": "front of the belly",
        "external oblique": "side of the belly",
        "internal oblique": "deep side of the belly",
        "transversus abdominis": "deep belly",
    },
    "shoulder": {
        "deltoid": "cap of the shoulder",
        "trapezius": "neck to mid back",
        "rhomboid major": "between the shoulder blades",
        "serratus anterior": "side of the ribs",
        "latissimus dorsi": "wide back",
        "pectoralis major": "chest",
        "infraspinatus": "back of the shoulder blade",
        "supraspinatus": "top of the shoulder",
    },
    "arm": {
        "biceps brachii": "front of the upper arm",
        "brachialis": "deep front of the upper arm",
        "triceps brachii": "back of the upper arm",
        "flexor digitorum profundus": "grip",
    },
}
MUSCLES: tuple[str, ...] = tuple(m for part in _BY_REGION.values() for m in part)
"""The closed list. Terms: the international anatomical nomenclature; which muscle does what: anatomy textbooks, from memory."""
PLAIN: Mapping[str, str] = {m: word for part in _BY_REGION.values() for m, word in part.items()}
"""A plain word or two for each."""
REGION_OF: Mapping[str, Region] = {m: region for region, part in _BY_REGION.items() for m in part}
"""The part of the body each is counted with."""


def worked(variants: Iterable[Variant]) -> Mapping[str, tuple[int, int]]:
    """For each muscle of the list: in how many of these exercises it does most of the work, and in how many it helps."""
    counts = {m: [0, 0] for m in MUSCLES}
    for variant in variants:
        for place, names in enumerate((variant.muscles, variant.helping)):
            for name in names:
                counts[name][place] += 1
    return {m: (main, helps) for m, (main, helps) in counts.items()}


HELPING = 0.5
"""What a set counts for a muscle that helps: Pelland 2024 (seen), as for the groups."""


def sets_of(lines: Iterable[tuple[Variant, float]]) -> Mapping[str, float]:
    """Sets for each muscle of the list, from (exercise, its sets): whole where it does most of the work, half where it helps."""
    sums = dict.fromkeys(MUSCLES, 0.0)
    for variant, sets in lines:
        for names, share in ((variant.muscles, 1.0), (variant.helping, HELPING)):
            for name in names:
                sums[name] += share * sets
    return sums
