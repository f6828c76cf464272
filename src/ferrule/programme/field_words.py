"""The words of the prescription line: spellings that are understood, and the closed list of forms the fit does not model."""

from __future__ import annotations

from ferrule.model.words import Band, Place

SIDE_WORDS = frozenset(["side", "sides", "leg", "legs", "arm", "arms", "foot", "s"])
REP_WORDS = frozenset(["rep", "reps", "repetition", "repetitions"])
KG_WORDS = frozenset(["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"])
POUND_WORDS = frozenset(["lb", "lbs", "pound", "pounds"])
SET_WORDS = frozenset(["set", "sets", "round", "rounds"])
MAX_WORDS = frozenset(["max", "amrap", "maximum", "failure"])
PLACES: dict[str, Place] = {
    "hands": "hands", "hand": "hands", "chest": "chest", "back": "back", "shoulders": "back", "hips": "hips", "hip": "hips",
    "ankle": "ankle", "ankles": "ankle",
}  # fmt: skip
BANDS: dict[str, Band] = {
    "thin": "thin", "light": "thin", "medium": "medium", "thick": "thick", "heavy": "thick", "strong": "thick",
}  # fmt: skip
COLOURS = frozenset(
    ["red", "green", "blue", "black", "yellow", "grey", "gray", "gold", "orange", "purple", "silver", "white"]
)

KEYWORDS = (
    "tempo", "rest", "pause", "hold", "work", "side", "left", "right", "drop", "cluster", "sets", "reps", "alternating",
    "total", "band", "optional", "contacts", "rounds", "weight",
)  # fmt: skip
"""Words a misspelt word is held against."""

UNITS = ("seconds", "sec", "minutes", "min", "metres", "reps", "contacts", "side", "total", "rounds", "sets", "kg")

FREE_FORMS: dict[str, tuple[str, ...]] = {
    "lowering only": ("lowering only", "eccentric only", "eccentric", "lower only"),
    "raising only": ("raising only", "concentric only"),
    "as fast as possible": ("as fast as possible", "max speed", "explosive", "fast"),
    "as high as possible": ("as high as possible", "max height"),
    "as many sets as possible": ("as many sets as possible", "max sets"),
    "slow": ("slow", "slowly"),
    "easy": ("easy",),
    "hard": ("hard",),
    "technique weight": ("technique weight", "light weight", "light"),
    "heavy": ("heavy",),
    "affected side only": ("affected side only", "sore side only"),
    "assisted": ("assisted", "with help", "with a partner"),
    "walk back": ("walk back",),
    "as the coach says": ("as the coach says", "as the therapist says"),
    "on the minute": ("on the minute", "every minute"),
}
"""Forms that are read and printed but not fitted: canonical words -> spellings."""

FREE_BY_WORD: dict[str, list[tuple[tuple[str, ...], str]]] = {}
for _canonical, _spellings in FREE_FORMS.items():
    for _spelling in _spellings:
        _words = tuple(_spelling.split())
        FREE_BY_WORD.setdefault(_words[0], []).append((_words, _canonical))
for _forms in FREE_BY_WORD.values():
    _forms.sort(key=lambda form: -len(form[0]))
