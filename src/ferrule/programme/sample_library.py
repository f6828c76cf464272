"""A small library for the tests of the notation, so that they do not move with the real one."""

from __future__ import annotations

from ferrule.model.exercise import Library, Variant
from ferrule.model.words import Pattern

_ROWS: tuple[tuple[str, Pattern, tuple[str, ...]], ...] = (
    ("Step-up", "step", ("box step",)),
    ("Step-up, low", "step", ()),
    ("Heel raise", "heel raise", ("calf raise",)),
    ("Heel raise, knee bent", "heel raise", ()),
    ("Press-up", "push", ()),
    ("Press-up, hands raised", "push", ("incline press-up",)),
    ("Plank", "trunk front", ("front plank",)),
    ("Side plank", "trunk side", ()),
    ("Dead bug", "trunk moving", ()),
    ("Ankle rock", "mobility", ()),
    ("Lateral lunge", "lunge", ()),
    ("Split squat", "split squat", ()),
    ("Squat", "squat", ("air squat",)),
    ("Hinge, one leg", "hinge", ("one-leg deadlift",)),
    ("Bridge, two legs", "bridge", ()),
    ("Drop jump", "landing", ()),
    ("Skip, low", "skip", ()),
    ("Carry", "carry", ()),
    ("Towel row", "pull", ()),
    ("Heel drop", "heel raise", ()),
)


def sample_library() -> Library:
    """Twenty variants with names, other names and nothing else of note."""
    variants = {}
    names: dict[str, str] = {}
    for name, pattern, aliases in _ROWS:
        key = name.lower().replace(",", "").replace(" ", "-")
        variants[key] = Variant(
            id=key, name=name, family=pattern, rank=0, pattern=pattern, dose_kind="reps", one_leg=False, sided=False,
            kit=(), loading=(), cues=(), faults=(), setup="", asks=(), regions=(), spoken=name, aliases=aliases,
        )  # fmt: skip
        names |= dict.fromkeys((name.lower(), key, *aliases), key)
    return Library(variants, {}, {}, names)


SAMPLE = sample_library()
