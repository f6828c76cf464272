"""One fitted line in plain words. Sheet, page, calendar and terminal take it from here, so that they never differ.

No share of best, no chance and no demand comes out of this module: those are for the coach.
"""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.deliver import amounts
from ferrule.deliver.block_words import open_count
from ferrule.deliver.form_words import forms_words, offers
from ferrule.deliver.plain import clean, lowered, sentence
from ferrule.model.exercise import Variant
from ferrule.model.fitted import FittedBlock, FittedItem, Recourse
from ferrule.model.programme import LIGHT
from ferrule.model.quantity import Range, number

MOST_CUES = 3
ANSWERS = "0, 1, 2, 3, 4 or more, don't know"


@dataclass(frozen=True, slots=True)
class ItemWords:
    """What a runner reads about one line. Every field may be empty except `name` and `dose`.

    dose       count and stopping rule: "4 rounds: stop at 7 each side, sooner if only 2 good ones are left"
    each       the same without the count, for a page that shows the rounds as dots
    forms      what the fit left as written, a sentence after the dose: "Rest 20 s, then as many more as you can."
    load       "12 kg at the chest (12 kg dumbbell)", "no weight"
    how        sides, tempo, pauses, each a phrase
    rest       rest after a set, when the line has its own
    notes      what the coach wrote for the runner, and exercises to pick instead
    cues       the first two or three of the library
    too_hard, too_easy   whole sentences
    ask        the question about effort, after the last set
    """

    key: str
    name: str
    dose: str
    each: str
    forms: str
    load: str
    how: tuple[str, ...]
    rest: str
    notes: tuple[str, ...]
    cues: tuple[str, ...]
    too_hard: str
    too_easy: str
    ask: str
    optional: bool

    @property
    def title(self) -> str:
        """Name and load: `Step-up, 12 kg at the chest (12 kg dumbbell)`."""
        return f"{self.name}, {self.load}" if self.load else self.name


def item_words(item: FittedItem, block: FittedBlock, variant: Variant | None) -> ItemWords:
    """The words for `item` of `block`. `variant` may be None when the library no longer has it: cues are then empty."""
    each = _each(item, block, held=variant is not None and variant.dose_kind == "hold")
    count = _count(item, block)
    return ItemWords(
        key="" if block.kind in LIGHT else clean(item.item_key),
        name=clean(item.name),
        dose=_dose(count, each, plain=each[:1].isdigit() and not item.per_set and item.open_reps is None),
        each=each,
        forms=sentence(forms_words(item.extra)),
        load=amounts.load(item.load, takes_load=_could_carry(item)),
        how=_how(item),
        rest=_own_rest(item, block),
        notes=tuple(s for s in map(sentence, (*item.notes, *offers(item.extra))) if s),
        cues=() if variant is None else tuple(sentence(c) for c in variant.cues[:MOST_CUES]),
        too_hard=_recourse("Too hard today", item.too_hard, _floor(item)),
        too_easy=_recourse("Too easy", item.too_easy, ""),
        ask=_ask(item),
        optional=item.optional,
    )


def _dose(count: str, each: str, *, plain: bool) -> str:
    """`3 sets of 12 reps`, but `3 sets: stop at 7 ...` and `3 sets: 12, then 10, then 8`."""
    if not count:
        return each
    return f"{count} of {each}" if plain and count[0].isdigit() else f"{count}: {each}"


def _count(item: FittedItem, block: FittedBlock) -> str:
    sets = len(item.per_set) or item.sets
    if open_count(block) and sets == block.rounds:
        return ""
    if block.kind == "straight":
        return f"{sets} sets" if sets != 1 else "1 set"
    if sets != block.rounds and block.rounds > 1:
        return f"in {sets} of the {block.rounds} rounds" if sets > 1 else f"in one of the {block.rounds} rounds"
    if sets == 1:
        return "" if block.kind in LIGHT else "1 round"
    return f"{sets} rounds"


def _each(item: FittedItem, block: FittedBlock, *, held: bool) -> str:
    """held: the exercise is one that is held, so that timed work is a hold."""
    side = _side(item)
    if item.left_right is not None:
        left, right = item.left_right
        return f"left {left}, right {right}" + _reserve_tail(item)
    if item.per_set:
        return ", then ".join(str(n) for n in item.per_set) + side + _reserve_tail(item)
    if item.hold_s is not None:
        side = " each side" if item.per_side else ""
        return _work(item, side) if item.work and not held else _hold(item, side)
    if item.distance_m is not None:
        return f"{amounts.counted(item.distance_m)} m{side}" + _reserve_tail(item)
    if item.contacts is not None:
        landings = "landing" if item.contacts == Range.of(1) else "landings"
        foot = " on each foot" if item.per_side else ""
        return f"{amounts.counted(item.contacts)} {landings}{foot}; stop sooner if they get loud or heavy"
    if item.reps is None and item.open_reps is None:
        return _unsaid(item, block)
    return _reps(item, side)


def _work(item: FittedItem, side: str) -> str:
    span = item.hold_s
    assert span is not None
    if item.open_reps == "max":
        return f"as many good ones as you can in {amounts.seconds(span)}{side}; stop when the form goes"
    tail = "" if item.rir is None else f", sooner if {_left(item.rir)}"
    return f"work for {amounts.seconds(span)}{side}{tail}"


def _unsaid(item: FittedItem, block: FittedBlock) -> str:
    """A line without any number: the block's clock rules, else the runner does, and never to the end."""
    side = " each side" if item.per_side else ""
    if block.on_s is not None:
        return f"work for {amounts.seconds(block.on_s)}{side}"
    if block.kind in LIGHT:
        return f"as long as it does you good{side}"
    left = _left(item.rir) or "the form begins to go"
    return f"your coach gave no number{side and ', ' + side.strip()}: stop when {left}"


def _hold(item: FittedItem, side: str) -> str:
    span = item.hold_s
    assert span is not None
    if item.open_reps == "max":
        return f"hold as long as you keep the position{side}"
    least = "at least " if item.open_reps == "at least" else "up to " if item.open_reps == "up to" else ""
    tail = "" if item.rir is None else ", sooner if the position starts to go"
    return f"hold {least}{amounts.seconds(span)}{side}{tail}"


def _reps(item: FittedItem, side: str) -> str:
    left = _left(item.rir)
    if item.reps is None or item.open_reps == "max":
        most = f"as many good ones as you can{side}"
        return f"{most}, until {left}" if item.rir is not None else f"{most}; stop when the form goes"
    count = amounts.counted(item.reps)
    if item.open_reps == "at least":
        more = f"; go on until {left}" if item.rir is not None else ", more if they are good ones"
        return f"at least {count}{side}{more}"
    if item.rir is not None:
        return f"stop at {number(item.reps.high)}{side}, sooner if {left}"
    return f"{'up to ' if item.open_reps == 'up to' else ''}{count}{side or _reps_word(item.reps)}"


def _reps_word(reps: Range) -> str:
    return " rep" if reps == Range.of(1) else " reps"


def _left(rir: Range | None) -> str:
    if rir is None:
        return ""
    if rir.high == 0:
        return "you have no good one left"
    if rir == Range.of(1):
        return "only 1 good one is left"
    if rir.low == 0:
        return f"only {number(rir.high)} good {'one is' if rir.high == 1 else 'ones are'} left, or none"
    return f"only {amounts.either(rir)} good ones are left"


def _reserve_tail(item: FittedItem) -> str:
    return "" if item.rir is None else f", sooner if {_left(item.rir)}"


def _side(item: FittedItem) -> str:
    if item.per_side:
        return " each side"
    return " in all" if item.alternating else ""


def _how(item: FittedItem) -> tuple[str, ...]:
    said: list[str] = []
    if item.alternating:
        said.append("left and right in turn")
    elif sides_words(item):
        said.append(sides_words(item))
    if item.tempo is not None:
        said.append(amounts.tempo(item.tempo))
    if item.pause_s:
        said.append(f"wait {amounts.seconds(item.pause_s)} in every rep")
    return tuple(said)


def sides_words(item: FittedItem) -> str:
    """`left, all reps, then right`; empty when the sides are not done one after the other."""
    if item.alternating or not (item.per_side or item.left_right is not None):
        return ""
    rest = "" if not item.side_rest_s else f", rest {amounts.seconds(item.side_rest_s)}"
    return f"{'left' if item.hold_s is not None else 'left, all reps'}{rest}, then right"


def _own_rest(item: FittedItem, block: FittedBlock) -> str:
    if item.rest_s is None or item.rest_s == block.rest_s:
        return ""
    return amounts.rest_words(item.rest_s, "set" if block.kind == "straight" else "exercise")


def _could_carry(item: FittedItem) -> bool:
    """Whether "no weight" tells a runner anything: only where a way out of this line is the same with a weight."""
    ways = (item.too_hard, item.too_easy)
    return any(w is not None and w.load is not None and w.variant_id == item.variant_id for w in ways)


def _ask(item: FittedItem) -> str:
    if not item.ask_effort:
        return ""
    if item.hold_s is not None:
        done = "gone on" if item.work else "held"
        return f"After the last set: how many more seconds could you have {done}?"
    return f"After the last set: how many more good ones? {ANSWERS}"


def _floor(item: FittedItem) -> str:
    """Under the least of the range the line is too hard: `under 5 each side`."""
    if item.rir is None or item.reps is None or item.reps.single or item.open_reps is not None:
        return ""
    return f"under {number(item.reps.low)}{_side(item)}"


def _recourse(head: str, way: Recourse | None, when: str) -> str:
    if way is None:
        return ""
    text = clean(way.text) or clean(way.name)
    text = f"with {text}" if text[:1].isdigit() else text
    lead = f"{head} ({when})" if when else head
    return sentence(f"{lead}: {lowered(text)}")
