"""A session laid along time: which part of the body is asked how much, when, on which side. The values of the picture."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final, Literal

from ferrule.capacity import curves
from ferrule.capacity.norms import NORMS
from ferrule.check.course import AREA_OF, AREAS, GROUP_OF_PATTERN, Area
from ferrule.check.minutes import BETWEEN_S, REST_S, SETUP_S, SIDE_S, WALK_S, block_seconds, dose_seconds, sets_of
from ferrule.check.minutes import variant_of as variant_in
from ferrule.deliver.plain import lowered
from ferrule.fit.intent import NO_CEILING, intent_of
from ferrule.model.exercise import Library, Variant
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedItem, FittedSession
from ferrule.model.programme import Block, Dose, Item, Named, Session
from ferrule.model.quantity import Range
from ferrule.model.words import REGION_GROUPS, Group
from ferrule.programme.compare_sessions import session_title
from ferrule.programme.text import name_text

Asked = Literal["main", "on the way", "easy", "counted"]
Half = Literal["left", "right", "both"]

ROWS: Final[tuple[Area, ...]] = ("calf", "knee and hip", "back of the leg", "trunk", "arms")
"""Rows that are always drawn; `hip sides` comes in where a session works them."""
TYPICAL: Final[Mapping[Group, float]] = {n.group: math.exp((n.female + n.male) / 2) for n in NORMS}
"""Capacity half-way between the norms of women and men, anchor units: for what no runner and no effort tells."""
ON_THE_WAY_LEAST: Final = 0.1
"""A secondary demand under this share of best is not drawn; one above the main demand is drawn as high as that."""
EASY: Final = ("warm-up", "cool-down")


@dataclass(frozen=True, slots=True)
class Mark:
    """One side of one set in one row.

    share   of best, 1 is the most that can be done once; None for what is counted and never dosed
    line    number of the line in the session
    """

    area: Area
    half: Half
    start_s: float
    end_s: float
    share: float | None
    asked: Asked
    line: int


@dataclass(frozen=True, slots=True)
class Label:
    """What stands above a block: in full, by its kind and letter, and by one letter, for the room there is."""

    start_s: float
    full: str
    short: str
    letter: str
    easy: bool
    clash: tuple[Area, ...] = ()


@dataclass(frozen=True, slots=True)
class Score:
    """A session as the picture shows it.

    rows     areas from top to bottom
    limits   areas in which a runner's share of best is known; empty without a runner
    lines    what each line works, in words, for those who do not see the picture
    unknown  names of which no demand is known: they take their time and show no mark
    """

    title: str
    end_s: float
    marks: tuple[Mark, ...]
    labels: tuple[Label, ...]
    rows: tuple[Area, ...]
    limits: frozenset[Area]
    lines: tuple[str, ...]
    unknown: tuple[str, ...]


def score_marks(
    session: Session, library: Library, known: Mapping[str, float] | None = None
) -> Score:  # fmt: skip
    """The session (by-week table applied) laid out by the minutes model; ranges at their middle, half rounds drawn whole.

    known   a runner's share of best by item key, from the prediction. Without it the share is what the written effort
            means (8 reps with 2 left: the share at which 10 are possible), and where no effort is written the demand
            without a load over the capacity half-way between the norms.
    """
    shares = known or {}
    marks: list[Mark] = []
    labels: list[Label] = []
    said: list[str] = []
    unknown: list[str] = []
    limits: set[Area] = set()
    start_s, line = 0.0, 0
    for block in session.blocks:
        if not block.items:
            continue
        start_s += WALK_S if labels else 0.0
        laid = _stretched(block, library)
        firsts: dict[int, float] = {}
        for n, item in enumerate(block.items):
            asked = _asked(item, block, library, shares.get(item.key))
            if item.key in shares and asked and asked[0][1] == "main":
                limits.add(asked[0][0])
            if not asked:
                unknown.append(name_text(item.exercise))
            for half, begin, end in laid[n]:
                firsts.setdefault(n, begin)
                marks += [Mark(a, half, start_s + begin, start_s + end, s, k, line) for a, k, s in asked]
            said.append(_in_words(item, block, asked, item.key in shares))
            line += 1
        mains = [m.area for k in range(line - len(block.items), line) for m in _firsts(marks, k)]
        clash = tuple(a for a in AREAS if mains.count(a) > 1) if block.kind in ("pair", "circuit") else ()
        labels += _labels(block, start_s, firsts, clash)
        start_s += block_seconds(block, library)
    worked = {m.area for m in marks}
    rows = tuple(a for a in AREAS if a in ROWS or a in worked)
    title = session_title(session)
    return Score(title, start_s, tuple(marks), tuple(labels), rows, frozenset(limits), tuple(said), tuple(unknown))


def fitted_marks(session: FittedSession, library: Library) -> Score:
    """A fitted session with its runner's shares of best."""
    shares = {
        i.item_key: i.prediction.share for b in session.blocks for i in b.items if i.prediction is not None
    }  # fmt: skip
    return score_marks(as_written(session), library, shares)


def as_written(session: FittedSession) -> Session:
    """The fitted session in the form of a written one, as far as time and demand go."""
    nowhere = Span("", 1)
    blocks = tuple(
        Block(
            b.kind,
            b.label,
            Range.of(b.rounds),
            b.rest_s,
            b.between_s,
            tuple(Item(i.item_key, Named(i.name, i.variant_id), _dose(i), nowhere) for i in b.items),
            nowhere,
            minutes=b.minutes,
            every_s=b.every_s,
            on_s=b.on_s,
            off_s=b.off_s,
            max_sets=b.max_sets,
            exercises=b.exercises,
        )
        for b in session.blocks
    )
    return Session(session.key, session.name, None, blocks, nowhere)


def _dose(item: FittedItem) -> Dose:
    left, right = item.left_right or (None, None)
    return Dose(
        sets=Range.of(item.sets),
        per_set=item.per_set,
        reps=item.reps,
        left=left,
        right=right,
        sides="each" if item.per_side else "total",
        hold_s=item.hold_s,
        distance_m=item.distance_m,
        contacts=item.contacts,
        rir=item.rir,
        tempo=item.tempo,
        pause_s=None if item.pause_s is None else Range.of(item.pause_s),
        rest_s=item.rest_s,
        side_rest_s=None if item.side_rest_s is None else Range.of(item.side_rest_s),
    )


def _firsts(marks: list[Mark], line: int) -> Iterator[Mark]:
    """The main mark of a line, once."""
    yield from [m for m in marks if m.line == line and m.asked == "main"][:1]


Laid = dict[int, list[tuple[Half, float, float]]]
"""Line of the block -> (side, begin, end), seconds from the start of the block."""


def _stretched(block: Block, library: Library) -> Laid:
    """The sets of a block; stretched to the block's time where that counts what is not laid out here (a given time)."""
    laid, end_s = _sets(block, library)
    whole_s = block_seconds(block, library)
    by = whole_s / end_s if end_s > 0 and whole_s > 0 else 1.0
    return {n: [(half, a * by, b * by) for half, a, b in sides] for n, sides in laid.items()}


def _sets(block: Block, library: Library) -> tuple[Laid, float]:
    laid: Laid = {n: [] for n in range(len(block.items))}
    rest_s = block.rest_s.middle if block.rest_s else REST_S[block.kind]
    between_s = block.between_s.middle if block.between_s else BETWEEN_S[block.kind]
    setups = [SETUP_S if (v := variant_in(i, library)) is None else v.setup_s for i in block.items]
    own = [i.dose.rest_s.middle if i.dose.rest_s else None for i in block.items]
    counts = [max(1, math.floor(sets_of(i, block) + 0.5)) for i in block.items]
    now = 0.0
    if block.kind == "straight":
        for n, item in enumerate(block.items):
            now += setups[n] + (between_s if n else 0.0)
            for k in range(counts[n]):
                now += (rest_s if own[n] is None else own[n] or 0.0) if k else 0.0
                now = _set(laid[n], item, library, now)
        return laid, now
    now = sum(setups)
    for k in range(max(1, math.floor((block.sets.middle if block.sets else max(counts)) + 0.5))):
        last = own[-1]
        now += (rest_s if last is None or block.rest_s else last) if k else 0.0
        for n, item in enumerate(block.items):
            before = own[n - 1]
            now += (between_s if before is None else before) if n else 0.0
            sides: list[tuple[Half, float, float]] = []
            now = _set(sides, item, library, now)
            if k < counts[n]:
                laid[n] += sides
    return laid, now


def _set(sides: list[tuple[Half, float, float]], item: Item, library: Library, begin: float) -> float:
    """Adds the sides of one set that begins at `begin`; returns its end, seconds."""
    dose, variant = item.dose, variant_in(item, library)
    end = begin + dose_seconds(dose, variant)
    apart = dose.left is not None or dose.right is not None
    if not apart and not _sided(dose, variant):
        sides.append(("both", begin, end))
        return end
    gap = dose.side_rest_s.middle if dose.side_rest_s else SIDE_S
    left = (dose.left or 0) / max(1, (dose.left or 0) + (dose.right or 0)) if apart else 0.5
    change = begin + max(0.0, end - begin - gap) * left
    sides += [("left", begin, change), ("right", min(end, change + gap), end)]
    return end


def _sided(dose: Dose, variant: Variant | None) -> bool:
    return dose.sides == "each" or (dose.sides is None and variant is not None and variant.sided)


def _asked(
    item: Item, block: Block, library: Library, known: float | None
) -> list[tuple[Area, Asked, float | None]]:  # fmt: skip
    """What one line asks: (row, how, share of best), the main one first, one for each row."""
    variant, easy = variant_in(item, library), block.kind in EASY
    group, base = _main(item, variant)
    if group is None:
        regions = () if variant is None else variant.regions
        areas = dict.fromkeys(AREA_OF[REGION_GROUPS[r][0]] for r in regions)
        return [(a, "easy" if easy else "counted", None) for a in list(areas)[:1]]
    share = known if known is not None else _meant(item.dose, block, group)
    plain = base / TYPICAL[group]
    share = plain if share is None else share
    found: dict[Area, tuple[Asked, float]] = {AREA_OF[group]: ("easy" if easy else "main", share)}
    for ask in variant.asks if variant is not None and not easy else ():
        way = min(share, share * ask.base / TYPICAL[ask.group] / plain) if plain > 0 else 0.0
        if not ask.main and way >= ON_THE_WAY_LEAST:
            before = found.get(AREA_OF[ask.group])
            if before is None or (before[0] != "main" and before[1] < way):
                found[AREA_OF[ask.group]] = ("on the way", way)
    return [(area, how, s) for area, (how, s) in found.items()]


def _main(item: Item, variant: Variant | None) -> tuple[Group | None, float]:
    if variant is not None:
        return (variant.main.group, variant.main.base) if variant.main else (None, 0.0)
    if isinstance(item.exercise, Named):
        return None, 0.0
    return GROUP_OF_PATTERN.get(item.exercise.pattern), 1.0


def _meant(dose: Dose, block: Block, group: Group) -> float | None:
    """The share of best at which what the coach wrote is what is possible; None where no effort is written."""
    if block.kind in EASY:
        return None
    intent = intent_of(dose, block, group, 0.0)
    if not intent.stated or intent.high >= NO_CEILING:
        return None
    middle = (intent.low + intent.high) / 2
    if intent.unit == "hold":
        return curves.share_at_hold(intent.hold_s * middle / 10, group)
    return curves.share_at(max(1.0, middle), curves.k_of(group)) if intent.unit == "reps" else None


def _labels(block: Block, start_s: float, firsts: Mapping[int, float], clash: tuple[Area, ...]) -> Iterator[Label]:
    kind = block.kind.capitalize()
    easy = block.kind in EASY
    if block.kind == "straight":
        for n, item in enumerate(block.items):
            name = lowered(name_text(item.exercise))
            full = f"{kind}: {name}" if n == 0 else name[:1].upper() + name[1:]
            yield Label(
                start_s + (firsts.get(n, 0.0) if n else 0.0), full, kind if n == 0 else "", "S" if n == 0 else "", easy
            )
        return
    short = f"{kind} {block.label}".strip()
    names = "; ".join(lowered(name_text(i.exercise)) for i in block.items)
    full = short if easy else f"{short}: {names}"
    yield Label(start_s, full, short, block.label or kind[:1], easy, clash)


def _in_words(
    item: Item, block: Block, asked: list[tuple[Area, Asked, float | None]], runner: bool
) -> str:  # fmt: skip
    name = name_text(item.exercise)
    if not asked:
        return f"{name}: its demand is not known"
    area, how, share = asked[0]
    words = {"main": "works", "easy": "warms up" if block.kind == "warm-up" else "eases", "counted": "counts for"}[how]
    best = f", {round(100 * share)} % of best" if runner and how == "main" and share is not None else ""
    way = [a for a, h, _ in asked if h == "on the way"]
    return f"{name} {words} the {area}{best}" + (f", on the way {' and '.join(way)}" if way else "")
