"""The kit cell: what a runner owns, with weights and heights."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from ferrule.model.finding import Finding
from ferrule.model.quantity import number
from ferrule.model.squad import KitItem
from ferrule.model.words import KIT_KINDS, Band, KitKind
from ferrule.squad.cell import NUMBER, Cell, entries, fault, number_of, shown


@dataclass(frozen=True, slots=True)
class KitWord:
    """How one kind is written, and the measure that is likely (common practice, no source)."""

    kind: KitKind
    aliases: tuple[str, ...]
    kg: tuple[float, float] | None = None
    kg_needed: bool = False
    cm: tuple[float, float] | None = None


KIT_WORDS: tuple[KitWord, ...] = (
    KitWord("mat", ("exercise mat", "yoga mat", "mats")),
    KitWord("chair", ("chairs", "kitchen chair"), cm=(30, 70)),
    KitWord("bench", ("benches", "flat bench"), cm=(20, 70)),
    KitWord("step", ("steps", "low step"), cm=(4, 70)),
    KitWord("stair", ("stairs", "staircase"), cm=(10, 25)),
    KitWord("box", ("boxes", "crate"), cm=(8, 110)),
    KitWord("wall", ("walls",)),
    KitWord("towel", ("towels",)),
    KitWord("band", ("bands", "resistance band", "resistance bands", "loop band", "loop")),
    KitWord("dumbbell", ("dumbbells", "dumb-bell", "dumb-bells", "dumbell", "dumbells"), (0.25, 90), True),
    KitWord("kettlebell", ("kettlebells", "kettle bell", "kettle bells"), (1, 100), True),
    KitWord("barbell", ("barbells", "bar bell"), (1, 30), True),
    KitWord("plate", ("plates", "weight plate", "weight plates", "disc", "discs"), (0.25, 50), True),
    KitWord("rucksack", ("rucksacks", "backpack", "backpacks", "pack"), (0.5, 50)),
    KitWord("water bottle", ("water bottles", "bottle", "bottles", "water"), (0.2, 15), True),
    KitWord("heavy book", ("heavy books", "book", "books"), (0.1, 10), True),
    KitWord("sofa", ("sofas", "couch"), cm=(20, 70)),
    KitWord("doorway bar", ("pull-up bar", "door bar", "chin-up bar")),
    KitWord("rope", ("skipping rope", "jump rope", "ropes")),
    KitWord("ball", ("balls", "medicine ball"), (0.2, 20)),
)
_BY_WORD = {word: k for k in KIT_WORDS for word in (k.kind, *k.aliases)}
_ANY_KIND = re.compile(
    r"(?<![\w-])(" + "|".join(sorted(map(re.escape, _BY_WORD), key=len, reverse=True)) + r")(?![\w-])"
)
_BANDS: dict[str, Band] = {"thin": "thin", "light": "thin", "medium": "medium", "thick": "thick", "heavy": "thick"}
_FILLERS = frozenset(("a", "an", "one", "the", "of", "with", "each", "sturdy", "old", "in", "at", "my", "gym"))
_COUNTS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
MOST_PIECES = 40
_FIX = 'Write like "mat; dumbbell 8 kg x 2; kettlebell 12 kg; step 20 cm; rucksack to 12 kg; band thin".'


@dataclass(slots=True)
class _Piece:
    """An entry while it is taken apart: what is left of its text, and what was found."""

    left: str
    kgs: list[float] = field(default_factory=list)
    up_to_kg: float | None = None
    step_kg: float | None = None
    height_cm: float | None = None
    count: int = 1
    bands: list[Band] = field(default_factory=list)

    def take(self, pattern: str) -> re.Match[str] | None:
        found = re.search(pattern, self.left)
        if found:
            self.left = " ".join((self.left[: found.start()] + " " + self.left[found.end() :]).split())
        return found


def read_kit(cell: Cell) -> tuple[tuple[KitItem, ...], list[Finding]]:
    """What the runner owns, in the order written; a piece that cannot be read is told and left out.

    One piece an entry: kind, weight or height, `x 2` for how many. `2-20 kg in 2` is adjustable; `to 12 kg` is what a
    rucksack holds; a litre of water is 1 kg.
    """
    if cell.empty or cell.key in ("no kit", "no kit at all"):
        return (), []
    items: list[KitItem] = []
    findings: list[Finding] = []
    for part in entries(cell):
        for piece in re.split(r" (?:and|&|\+) ", part):
            made = _read_piece(piece)
            if isinstance(made, str):
                what = f"{shown(piece)} in the kit cannot be read: {made}"
                findings.append(fault(cell, "unreadable-kit", what, "This piece is left out; the rest is kept.", _FIX))
            else:
                items += made
    return tuple(items), findings


def _read_piece(text: str) -> list[KitItem] | str:
    """The items of one entry, or why it is none."""
    piece = _Piece(text.lower())
    adjustable = piece.take(r"\badjustable\b") is not None
    if re.search(r"\d ?(?:lbs?|pounds?)\b", piece.left):
        return "weights are in kg (1 lb is 0.45 kg)"
    _measures(piece)
    word = _take_kind(piece)
    for name in re.findall(r"[a-z]+", piece.left):
        if name in _BANDS:
            piece.take(rf"\b{name}\b")
            piece.bands.append(_BANDS[name])
    if word is None and piece.bands and not piece.kgs:
        word = _BY_WORD["band"]
    if word is None:
        return f"no kind is known in it (kinds: {', '.join(KIT_KINDS)})"
    left = [w for w in piece.left.split() if w not in _FILLERS]
    if left:
        return f"{shown(' '.join(left), 30)} means nothing here"
    trouble = _measure_trouble(piece, word, adjustable)
    return trouble or _items(piece, word)


def _measures(piece: _Piece) -> None:
    """Weights, heights, steps and counts, taken out of the text one after the other."""
    signed = rf"(-?{NUMBER})"
    if found := piece.take(rf"(?<![\w.,-]){signed} ?(?:kg)? ?(?:-|to) ?{signed} ?kg\b(?: max)?"):
        piece.kgs, piece.up_to_kg = [number_of(found[1])], number_of(found[2])
        if found := piece.take(rf"\bin (?:steps of )?({NUMBER})(?: ?kg)?(?: steps?)?"):
            piece.step_kg = number_of(found[1])
    elif found := piece.take(rf"\b(?:up to|to|holds|max) ({NUMBER}) ?(?:kg|l|litres?)\b"):
        piece.kgs, piece.up_to_kg = [0.0], number_of(found[1])
        if found := piece.take(rf"\bin (?:steps of )?({NUMBER})(?: ?kg)?(?: steps?)?"):
            piece.step_kg = number_of(found[1])
    elif found := piece.take(rf"(?<![\w.,-])({NUMBER}(?: ?/ ?{NUMBER})+) ?kg\b"):
        piece.kgs = [number_of(n.strip()) for n in found[1].split("/")]
    elif found := piece.take(rf"(?<![\d.,-]){signed} ?(?:kg|l|litres?)\b"):
        piece.kgs = [number_of(found[1])]
    if found := piece.take(rf"(?<![\d.,]){signed} ?cm\b(?: high)?"):
        piece.height_cm = number_of(found[1])
    if (found := piece.take(r"\bx ?(-?\d{1,6})\b")) or (
        found := piece.take(r"(?:^|\s)(-?\d{1,6})(?: ?x(?= |$)| (?=[a-z])|(?=$))")
    ):
        piece.count = int(found[1])
    elif found := piece.take(rf"\b({'|'.join(_COUNTS)})\b"):
        piece.count = _COUNTS[found[1]]
    elif piece.take(r"\bpair\b"):
        piece.count = 2


def names_kind(words: str) -> bool:
    """Is a kind of kit named in these words?"""
    return _ANY_KIND.search(words.lower()) is not None


def _take_kind(piece: _Piece) -> KitWord | None:
    found = _ANY_KIND.search(piece.left)
    if not found:
        return None
    piece.left = " ".join((piece.left[: found.start()] + " " + piece.left[found.end() :]).split())
    return _BY_WORD[found[1]]


def _measure_trouble(piece: _Piece, word: KitWord, adjustable: bool) -> str:
    """Why the measures do not suit the kind; empty when they do."""
    if not 1 <= piece.count <= MOST_PIECES:
        return f"{piece.count} is no number of pieces between 1 and {MOST_PIECES}"
    if word.kg is None and piece.kgs:
        return f"a {word.kind} has no weight here"
    if word.kg is not None:
        low, high = word.kg
        told = [kg for kg in (*piece.kgs, piece.up_to_kg) if kg is not None and (kg or piece.up_to_kg is None)]
        if any(not low <= kg <= high for kg in told):
            return f"a {word.kind} weighs between {number(low)} and {number(high)} kg"
        if word.kg_needed and not piece.kgs:
            return f"the weight of the {word.kind} is needed"
    if piece.up_to_kg is not None:
        if word.kind not in ("rucksack", "dumbbell", "kettlebell"):
            return f"a {word.kind} has one weight"
        if piece.up_to_kg <= piece.kgs[0]:
            return "the range runs backwards"
        if piece.step_kg is not None and not 0.1 <= piece.step_kg <= piece.up_to_kg:
            return "the steps do not suit the range"
        if word.kind != "rucksack" and piece.kgs[0] == 0:
            return 'an adjustable weight needs both ends, "2-20 kg in 2"'
    elif adjustable:
        return 'an adjustable weight needs both ends, "2-20 kg in 2"'
    if piece.height_cm is not None and (word.cm is None or not word.cm[0] <= piece.height_cm <= word.cm[1]):
        span = "" if word.cm is None else f" between {number(word.cm[0])} and {number(word.cm[1])} cm"
        return f"a {word.kind} has no such height; it would be{span}" if span else f"a {word.kind} has no height here"
    return "" if word.kind == "band" or not piece.bands else f"a {word.kind} is not thin, medium or thick"


def _items(piece: _Piece, word: KitWord) -> list[KitItem]:
    item = KitItem(word.kind, count=piece.count, height_cm=piece.height_cm)
    if word.kind == "rucksack":
        most = piece.up_to_kg if piece.up_to_kg is not None else (piece.kgs[0] if piece.kgs else None)
        return [replace(item, kg=0.0, up_to_kg=most, step_kg=piece.step_kg or 1.0)]
    if piece.up_to_kg is not None:
        return [replace(item, kg=piece.kgs[0], up_to_kg=piece.up_to_kg, step_kg=piece.step_kg or 2.0)]
    if piece.bands:
        return [replace(item, band=band) for band in piece.bands]
    return [replace(item, kg=kg) for kg in piece.kgs] or [item]
