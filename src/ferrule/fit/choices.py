"""The choices of one line: what was written, its alternatives, its family, other loads; each with its cost."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import takewhile

from ferrule.check import minutes
from ferrule.fit.bounds import keep_within
from ferrule.fit.candidates import OPEN_LOAD as OPEN_LOAD
from ferrule.fit.candidates import SAME_DEMAND, Candidate, candidates, first_of, is_easier, with_loads
from ferrule.fit.choice import Choice as Choice
from ferrule.fit.choice import LineChoices as LineChoices
from ferrule.fit.choice import Offer as Offer
from ferrule.fit.choice import Step as Step
from ferrule.fit.choice import text_price
from ferrule.fit.draft import Draft, choice_of
from ferrule.fit.growth import Before, climb, least_of, mark_grown, nearest_grown
from ferrule.fit.recourse import add_recourse
from ferrule.fit.setting import Setting as Setting
from ferrule.fit.weigh import weigh
from ferrule.model.bound import Bound
from ferrule.model.programme import Block, Item

LOADS_KEPT = 6
"""Loads of one variant kept for the solver: the best by expected loss, and the recourses of those."""
VARIANTS_KEPT = 8
"""Variants the text does not name that are kept for the solver: the cheapest (slots keep as many)."""


def choices_of(
    item: Item, block: Block, setting: Setting, only: frozenset[str] | None = None, before: Before | None = None,
    bound: Bound | None = None,
) -> LineChoices:  # fmt: skip
    """All choices of `item`, the written ones first, each once, with expected losses and recourses filled in.

    only   ids of the variants the choices are held to (the lanes of the line); recourses and `best` are not held to them
    before  what was sent for the line the week before: more than a step above it is `grown`, and no offer
    bound   how far the line may go by what the record says; what asks more is barred
    """
    every = _drafted(candidates(item, setting.library), item, block, setting)
    if bound is not None and bound.firm:
        keep_within(every, bound, before, setting)
    written = _written(every)
    free = [d for d in every if d.barred is None and not _pointless(d, written)]
    add_recourse(free)
    if bound is not None and not bound.firm:  # the printed ways out stay
        keep_within(free, bound, before, setting)
        free, written = [d for d in free if d.barred is None], _written(every)
    mark_grown(free, before, setting)
    if bound is not None and bound.climb:
        climb(free, before, setting)
        free, written = [d for d in free if d.barred is None], _written(every)
    inside = [d for d in free if only is None or d.variant is None or d.variant.id in only]
    least_of(inside)
    offers = tuple(
        Offer("" if d.variant is None else d.variant.id, d.distance, d.expected_loss) for d in free if not d.grown
    )
    best = min((d.expected_loss for d in free), default=0.0)
    kept = [
        *_thin([d for d in inside if not d.grown], best + setting.house.value("hysteresis")),
        *nearest_grown(inside),
    ]
    return LineChoices(
        choice_of(written),
        tuple(choice_of(d) for d in kept),
        offers,
        best,
        only,
    )


def written_of(item: Item, block: Block, setting: Setting) -> Choice:
    """`choices_of(item, block, setting).written` alone: its recourses and what might be done instead are not looked at."""
    named = list(takewhile(lambda c: c[3] in ("written", "slot"), candidates(item, setting.library)))
    return choice_of(_written(_drafted(named or candidates(item, setting.library), item, block, setting)))


def _drafted(found: Iterable[Candidate], item: Item, block: Block, setting: Setting) -> list[Draft]:
    """The candidates with every load to try, each once, weighed."""
    drafts: dict[tuple[str, float, str], Draft] = {}
    first = first_of(item, setting)
    for variant, name, dose, origin, distance in found:
        bare = origin not in ("written", "slot") and first is not None and is_easier(variant, first)
        for draft in with_loads(variant, name, dose, origin, distance, bare, setting):
            place = "" if draft.load is None else draft.load.place
            key = ("" if variant is None else variant.id, 0.0 if draft.load is None else draft.load.kg, place)
            drafts.setdefault(key, draft)
    every = list(drafts.values())
    weigh(every, block, max(1, round(minutes.sets_of(item, block))), setting)
    return every


def _written(every: list[Draft]) -> Draft:
    """The written one: with the best open load, barred only when every way of it is."""
    named = [d for d in every if d.origin in ("written", "slot") and d.distance <= OPEN_LOAD] or every[:1]
    return min(named, key=lambda d: (d.barred is not None, d.distance > OPEN_LOAD, d.expected_loss, d.distance))


def _pointless(d: Draft, written: Draft) -> bool:
    """Another exercise that asks the same as the written one, to what the statics can tell, is no reason to leave it."""
    if d.origin not in ("family", "pattern", "group") or written.barred is not None or d.variant is None:
        return False
    mine, its = d.variant.main, None if written.variant is None else written.variant.main
    return mine is not None and its is not None and abs(mine.base / its.base - 1) < SAME_DEMAND


def _thin(drafts: Sequence[Draft], band: float) -> list[Draft]:
    """Keep the best few loads of each variant, the written one and none at all, and of the variants that the text does not
    name the few that cost least by the order of levels, with the one nearest to the effort."""

    def loss(d: Draft) -> tuple[float, int]:
        return d.expected_loss, d.distance

    def price(d: Draft) -> tuple[int, float]:
        return text_price(d.distance, d.expected_loss, band), d.expected_loss

    by_variant: dict[str, list[Draft]] = {}
    for d in drafts:
        by_variant.setdefault("" if d.variant is None else d.variant.id, []).append(d)
    best = {v: sorted(m, key=loss)[:LOADS_KEPT] for v, m in by_variant.items()}
    named = {v for v, m in best.items() if any(d.origin in ("written", "alternative") for d in m)}
    rest = sorted((v for v in best if v not in named), key=lambda v: (min(map(price, by_variant[v])), v))
    nearest = sorted(rest, key=lambda v: (loss(best[v][0]), v))
    kept = named | set(rest[:VARIANTS_KEPT]) | set(nearest[:1])
    best = {v: [*m, min(by_variant[v], key=price)] for v, m in best.items()}
    ids = {id(d) for v in kept for d in best[v]} | {
        id(d) for v in kept for d in by_variant[v] if d.load is None or d.distance == 0
    }
    return [d for d in drafts if id(d) in ids]


def best_loss(choices: Iterable[Choice]) -> float:
    """The least expected loss among `choices`, repetitions; 0 when there are none."""
    return min((c.expected_loss for c in choices), default=0.0)
