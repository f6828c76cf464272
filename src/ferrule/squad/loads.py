"""Every load a runner's kit can make at one loading place, made of the plainest pieces; and every band."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from ferrule.library.bands import beyond_thin_kg
from ferrule.model.fitted import LoadChoice
from ferrule.model.quantity import number
from ferrule.model.squad import KitItem
from ferrule.model.words import BANDS, KitKind, Place
from ferrule.squad.stand_in import missing_kit as missing_kit
from ferrule.squad.stand_in import pieces_for as pieces_for

ONE_PIECE: dict[Place, tuple[KitKind, ...]] = {
    "hands": ("dumbbell", "kettlebell", "plate", "ball", "heavy book", "water bottle"),
    "opposite hand": ("dumbbell", "kettlebell", "water bottle"),
    "same hand": ("dumbbell", "kettlebell", "water bottle"),
    "chest": ("dumbbell", "kettlebell", "plate", "ball", "heavy book"),
    "back": (),
    "hips": ("dumbbell", "plate"),
    "ankle": (),
    "band": (),
}
"""What one can carry as one piece at each place (common practice, no source). `hands` is one piece in both hands. A
kettlebell is not laid on the hips: it tips. Nothing here is tied to an ankle."""
TWO_PIECES: dict[Place, tuple[KitKind, ...]] = {
    "hands": ("dumbbell", "kettlebell", "heavy book", "water bottle"),
    "chest": ("heavy book",),
}
"""What is carried as two equal pieces, one in each hand; two books are hugged (common practice, no source)."""
BARBELL_PLACES: tuple[Place, ...] = ("back", "hips", "hands")
RUCKSACK_PLACES: tuple[Place, ...] = ("back", "chest", "hips")
"""A rucksack is worn on the back, worn in front, or laid across the hips."""
FILLS: tuple[KitKind, ...] = ("heavy book", "water bottle")
"""What fills a rucksack when nothing is told about what it holds."""
RUCKSACK_KG = 12.0
"""The most put in a rucksack of which nothing is told (common practice, no source)."""
ADJUSTABLE_STEP_KG = 2.0
MOST_CHOICES = 40
MOST_TOTALS = 4000
"""A bound on the work for a whole gym of plates: beyond it the lightest totals are kept."""
_PLAINEST: tuple[KitKind, ...] = (
    *("dumbbell", "kettlebell", "barbell", "plate", "ball", "rucksack", "heavy book", "water bottle"),
)
_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")

_Made = tuple[float, tuple[str, ...], tuple[int, int]]
"""kg in all, the pieces in words, and how plain it is: (pieces to fetch, rank of the kind)."""


@lru_cache(maxsize=1024)
def load_choices(kit: tuple[KitItem, ...], place: Place, mass_kg: float | None = None) -> tuple[LoadChoice, ...]:
    """Every load `kit` can make at `place`, lightest first, each total once, of the fewest and plainest pieces.

    The empty load is not among them. Above 40 totals the lightest and heaviest are kept and those between are thinned
    evenly, after leaving out what is heavier than one and a half times `mass_kg` (taken as 65 kg when None).

    At the place `band`: each band whose thickness is known, thinnest first; its kg is the pull beyond the thin one's, so
    that the thin band is there with 0 kg.
    """
    if place == "band":
        owned = {item.band for item in kit if item.kind == "band"}
        return tuple(LoadChoice(beyond_thin_kg(b), "band", (f"{b} band",), b) for b in BANDS if b in owned)
    plainest: dict[int, _Made] = {}
    for made in _all(_merged(kit), place):
        grams = round(made[0] * 1000)
        if grams > 0 and (grams not in plainest or made[2] < plainest[grams][2]):
            plainest[grams] = made
    choices = [LoadChoice(kg=grams / 1000, place=place, pieces=plainest[grams][1]) for grams in sorted(plainest)]
    if len(choices) > MOST_CHOICES:
        most = 1.5 * (mass_kg or 65.0)
        choices = _thinned([c for c in choices if c.kg <= most] or choices)
    return tuple(choices)


def _thinned(choices: list[LoadChoice]) -> list[LoadChoice]:
    """At most MOST_CHOICES of them: both ends, and those nearest to even spacing between."""
    if len(choices) <= MOST_CHOICES:
        return choices
    low, high = choices[0].kg, choices[-1].kg
    marks = [low + (high - low) * i / (MOST_CHOICES - 1) for i in range(MOST_CHOICES)]
    kept = {min(range(len(choices)), key=lambda i: (abs(choices[i].kg - mark), i)) for mark in marks}
    return [choices[i] for i in sorted(kept)]


def _merged(kit: Iterable[KitItem]) -> list[KitItem]:
    """Equal pieces written twice, counted together."""
    counts: dict[KitItem, int] = {}
    for item in kit:
        one = KitItem(item.kind, 1, item.kg, item.up_to_kg, item.step_kg)
        counts[one] = counts.get(one, 0) + item.count
    return [KitItem(i.kind, n, i.kg, i.up_to_kg, i.step_kg) for i, n in counts.items()]


def _all(kit: list[KitItem], place: Place) -> Iterator[_Made]:
    for item in kit:
        if item.kind not in ("rucksack", "barbell"):
            yield from _in_pieces(item, place)
    if place in BARBELL_PLACES:
        yield from _barbells(kit)
    if place in RUCKSACK_PLACES:
        yield from _rucksacks(kit)


def _in_pieces(item: KitItem, place: Place) -> Iterator[_Made]:
    """One piece, or two equal ones, of this item."""
    rank = _PLAINEST.index(item.kind) if item.kind in _PLAINEST else len(_PLAINEST)
    adjustable = item.up_to_kg is not None
    for kg in _weights(item):
        name = f"adjustable {item.kind} at {number(kg)} kg" if adjustable else f"{number(kg)} kg {item.kind}"
        many = f"two adjustable {item.kind}s at {number(kg)} kg" if adjustable else _many(2, kg, item.kind)
        if item.kind in ONE_PIECE[place]:
            yield kg, (name,), (1, 2 * rank + adjustable)
        if item.count >= 2 and item.kind in TWO_PIECES.get(place, ()):
            yield 2 * kg, (many,), (2, 2 * rank + adjustable)


def _weights(item: KitItem) -> Iterator[float]:
    """What one piece may weigh, kg."""
    if item.kg is None:
        return
    if item.up_to_kg is None:
        yield item.kg
        return
    step = item.step_kg or ADJUSTABLE_STEP_KG
    for i in range(int((item.up_to_kg - item.kg) / step + 1e-6) + 1):
        yield item.kg + i * step


def _many(count: int, kg: float, kind: KitKind) -> str:
    word = _WORDS[count] if count < len(_WORDS) else str(count)
    return f"{number(kg)} kg {kind}" if count == 1 else f"{word} {number(kg)} kg {kind}s"


def _barbells(kit: list[KitItem]) -> Iterator[_Made]:
    """Each bar alone and with pairs of equal plates, one on each end."""
    bars = [item for item in kit if item.kind == "barbell" and item.kg]
    if not bars:
        return
    pairs = [(i.kg, i.count // 2) for i in kit if i.kind == "plate" and i.kg and i.count >= 2]
    fewest = _fewest([(2 * kg, n) for kg, n in pairs])
    rank = 2 * _PLAINEST.index("barbell")
    for bar in bars:
        for total, counts in fewest.items():
            plates = tuple(_many(2 * n, kg, "plate") for (kg, _), n in zip(pairs, counts, strict=True) if n)
            yield (
                (bar.kg or 0) + total / 1000,
                (f"{number(bar.kg or 0)} kg barbell", *plates),
                (1 + 2 * sum(counts), rank),
            )


def _rucksacks(kit: list[KitItem]) -> Iterator[_Made]:
    """A rucksack with the stated kilograms, or filled with the books and bottles that are owned."""
    rank = 2 * _PLAINEST.index("rucksack")
    for sack in (item for item in kit if item.kind == "rucksack"):
        if sack.up_to_kg:
            step = sack.step_kg or 1.0
            for i in range(1, int(sack.up_to_kg / step + 1e-6) + 1):
                yield i * step, (f"rucksack with {number(i * step)} kg",), (2, rank)
            continue
        fills = [(i.kg, i.count, i.kind) for i in kit if i.kind in FILLS and i.kg]
        for total, counts in _fewest([(kg, n) for kg, n, _ in fills], RUCKSACK_KG).items():
            inside = [_many(n, kg, kind) for (kg, _, kind), n in zip(fills, counts, strict=True) if n]
            if inside:
                yield total / 1000, (f"rucksack with {' and '.join(inside)}",), (1 + sum(counts), rank)


def _fewest(pieces: list[tuple[float, int]], most_kg: float = 400.0) -> dict[int, tuple[int, ...]]:
    """Total in g -> how many of each piece, the fewest in all; every total the pieces can make, 0 among them."""
    totals: dict[int, tuple[int, ...]] = {0: ()}
    for kg, count in pieces:
        following: dict[int, tuple[int, ...]] = {}
        for total, counts in totals.items():
            for n in range(count + 1):
                grams = total + round(n * kg * 1000)
                if grams > most_kg * 1000:
                    break
                made = (*counts, n)
                if grams not in following or sum(made) < sum(following[grams]):
                    following[grams] = made
        totals = dict(sorted(following.items())[:MOST_TOTALS])
    return totals
