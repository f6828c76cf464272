"""Demands of the first variants from the reference table of the mechanics, until the statics are connected."""

from __future__ import annotations

from collections.abc import Mapping

from ferrule.model.words import Place

GOLDEN: Mapping[str, tuple[float, Mapping[Place, float]]] = {
    "squat-half": (0.82, {"hands": 1.1, "chest": 1.1, "back": 1.1}),
    "chair-rise": (0.97, {"hands": 1.27, "chest": 1.27, "back": 1.27}),
    "squat": (1.0, {"hands": 1.3, "chest": 1.3, "back": 1.3}),
    "squat-deep": (1.0, {"hands": 1.3, "chest": 1.3, "back": 1.3}),
    "step-up-low": (1.3, {"hands": 1.55, "chest": 1.55, "back": 1.55, "opposite hand": 1.55}),
    "step-down": (1.6, {"hands": 1.9, "chest": 1.9, "opposite hand": 1.9}),
    "step-up": (1.95, {"hands": 2.21, "chest": 2.21, "back": 2.21, "opposite hand": 2.21, "same hand": 2.21}),
    "step-up-high": (2.2, {"hands": 2.5, "chest": 2.5, "back": 2.5, "opposite hand": 2.5}),
    "hinge-two-legs": (1.0, {"hands": 2.3, "chest": 2.1, "back": 1.9}),
    "hinge-staggered": (1.25, {"hands": 3.6, "opposite hand": 3.6, "same hand": 3.6, "back": 3.0}),
    "hinge-one-leg": (1.447, {"hands": 4.52, "opposite hand": 4.52, "same hand": 4.52}),
    "heel-raise-two-legs": (0.5, {"hands": 0.5, "back": 0.5}),
    "heel-raise-step-two-legs": (0.5, {"hands": 0.5, "back": 0.5}),
    "heel-raise-one-leg": (1.0, {"hands": 1.0, "same hand": 1.0, "opposite hand": 1.0, "back": 1.0}),
    "heel-raise-hold-one-leg": (1.0, {"hands": 1.0, "same hand": 1.0, "back": 1.0}),
    "heel-raise-step-one-leg": (1.0, {"hands": 1.0, "same hand": 1.0, "back": 1.0}),
    "heel-raise-bent-two-legs": (0.5, {"hands": 0.5, "back": 0.5}),
    "heel-raise-bent-one-leg": (1.0, {"hands": 1.0, "same hand": 1.0, "opposite hand": 1.0, "back": 1.0}),
    "heel-raise-bent-hold-one-leg": (1.0, {"hands": 1.0, "same hand": 1.0, "back": 1.0}),
    "press-up-hands-high": (0.582, {}),
    "press-up-hands-raised": (0.72, {}),
    "press-up-knees": (0.841, {}),
    "press-up": (1.0, {"back": 1.381}),
    "press-up-feet-raised": (1.02, {"back": 1.35}),
    "press-up-feet-high": (1.052, {"back": 1.3}),
}
"""base and slopes in anchor units; measured poses from the reference, the others read off beside them."""
