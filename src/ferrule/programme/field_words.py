"""The words of the prescription line: spellings that are understood, and the closed list of forms the fit does not model."""

from __future__ import annotations

from ferrule.model.words import Band, Place

SIDE_WORDS = frozenset(["side", "sides", "leg", "legs", "arm", "arms", "foot", "s"])
REP_WORDS = frozenset(["rep", "reps", "repetition", "repetitions", "steps", "strides"])
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
    "lowering only": ("lowering only", "eccentric only", "eccentric", "lower only", "negatives only"),
    "raising only": ("raising only", "concentric only"),
    "as fast as possible": ("as fast as possible", "max speed", "explosive", "fast", "quick"),
    "as high as possible": ("as high as possible", "max height", "for height"),
    "as far as possible": ("as far as possible", "max distance", "for distance"),
    "as long as possible": ("as long as possible",),
    "as slow as possible": ("as slow as possible", "as slowly as possible", "the slower the better"),
    "fast up": ("fast up", "explosive up", "explode up", "up fast", "quick up"),
    "slow lowering": ("slow lowering", "lower slowly", "lowering slow", "down slowly", "slow down"),
    "controlled lowering": ("controlled lowering", "lowering controlled", "controlled down", "down controlled"),
    "controlled": ("controlled", "with control", "under control"),
    "slow": ("slow", "slowly"),
    "easy": ("easy",),
    "hard": ("hard",),
    "all-out": ("all - out", "all out", "max effort", "maximal effort", "full effort", "flat out", "maximal"),
    "nearly all-out": ("nearly all - out", "nearly all out", "near maximal", "near max", "near all - out"),
    "technique weight": ("technique weight", "light weight", "light"),
    "heavy": ("heavy",),
    "light band then heavier": ("light band then heavier",),
    "last rep hard": ("last rep hard", "last rep exhausting", "the last rep hard"),
    "last set max": ("last set max", "last set to failure", "last set amrap"),
    "other leg lifts": ("other leg lifts", "other leg up", "two up one down", "up on two - down on one"),
    "hands help": ("hands help", "push up with the hands", "hands may help"),
    "hands let go": ("hands let go", "let go", "without hands", "no hands"),
    "assisted": ("assisted", "with help"),
    "with a partner": ("with a partner", "partner holds", "with partner"),
    "helper on the last rep": ("helper on the last rep", "help on the last rep", "spotter", "with a spotter", "spot the last rep"),
    "walk back": (
        "walk back to the start", "walk back", "recovery walk back", "recover walk back", "recover : walk back",
        "recovery : walk back", "walk back recovery",
    ),
    "jog back": ("jog back", "recover jog back", "recover : jog back", "jog back recovery"),
    "rolling start": ("rolling start", "with rolling start", "with a rolling start", "flying start"),
    "with a cuff": ("with a cuff", "with cuff", "bfr", "cuff"),
    "clinic only": ("clinic only", "in the clinic only", "only in the clinic"),
    "full range": ("full range", "full rom", "full range of motion"),
    "rising load": ("rising load", "load rising", "rising"),
    "as the coach says": ("as the coach says", "as the therapist says"),
    "on the minute": ("on the minute", "every minute", "emom"),
}  # fmt: skip
"""Forms that are read and printed but not fitted: canonical words -> spellings."""

KIT_WORDS: dict[str, str] = {
    "rucksack": "rucksack", "backpack": "rucksack", "pack": "rucksack", "water bottle": "water bottles",
    "water bottles": "water bottles", "bottles": "water bottles", "heavy book": "heavy books", "books": "heavy books",
    "book": "heavy books", "barbell": "barbell", "bar": "barbell", "dumbbell": "dumbbells", "dumbbells": "dumbbells", "db": "dumbbells",
    "dbs": "dumbbells", "kettlebell": "kettlebell", "kettlebells": "kettlebells", "kb": "kettlebell", "machine": "machine",
    "cable": "cable", "plate": "plate", "weight vest": "weight vest", "weighted vest": "weight vest", "vest": "weight vest",
    "flywheel": "flywheel", "medicine ball": "medicine ball", "sandbag": "sandbag", "trap bar": "trap bar", "chains": "chains",
    "leg press": "leg press", "chair": "chair", "wall": "wall", "towel": "towel", "sledge": "sledge",
}  # fmt: skip
KIT_WORDS |= {kit: kit for kit in KIT_WORDS.values()}
"""What a load is: spellings -> canonical words, printed as `with rucksack`."""
HEIGHT_WORDS = {
    "box": "box", "boxes": "box", "step": "step", "stool": "step", "hurdle": "hurdle", "hurdles": "hurdle", "bench": "bench",
    "drop": "drop",
}  # fmt: skip

FREE_BY_WORD: dict[str, list[tuple[tuple[str, ...], str]]] = {}
for _canonical, _spellings in FREE_FORMS.items():
    for _spelling in _spellings:
        _words = tuple(_spelling.split())
        FREE_BY_WORD.setdefault(_words[0], []).append((_words, _canonical))
for _forms in FREE_BY_WORD.values():
    _forms.sort(key=lambda form: -len(form[0]))
