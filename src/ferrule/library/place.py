"""Exercises the coach places between two neighbours: demand between theirs, spread wide, marked as inferred.

base = sqrt(base of the easier neighbour * base of the harder one);  the same for each loading slope
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import log, sqrt

from ferrule.library.asks import without_bad_pose
from ferrule.library.draft import Draft
from ferrule.library.family_text import Unplaced
from ferrule.library.fields import Fields
from ferrule.library.names import nearest
from ferrule.library.variant_text import KEYS, read_variant
from ferrule.model.exercise import Ask, Library, Variant
from ferrule.model.finding import Finding
from ferrule.model.words import Place

ONE_STEP = 1.2
"""Ratio to the only neighbour named when the family has no next one (common practice, no source)."""
LEAST_SPREAD_LOG = 0.15
"""A placed demand is believed no better than this, SD on the log axis: about 15 % (our choice)."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A variant with its demands and where it goes: into `family`, right after `after` or before `before`."""

    variant: Variant
    draft: Draft
    family: str
    after: str | None
    before: str | None


def neighbours_known(unplaced: Unplaced, library: Library) -> bool:
    """True when every neighbour named is in the library."""
    named = [unplaced.raw.get(key) for key in ("harder_than", "easier_than")]
    return all(library.find(name) is not None for name in named if isinstance(name, str))


def place(unplaced: Unplaced, library: Library) -> tuple[Placed | None, tuple[Finding, ...]]:
    """The exercise placed, or None when neither neighbour is known; what is wrong in its table."""
    fields = unplaced.fields()
    easier, harder = (_neighbour(fields, key, library) for key in ("harder_than", "easier_than"))
    like = easier or harder
    if like is None:
        return None, tuple(fields.findings)
    if easier and harder and not _agree(fields, easier, harder):
        harder = None
    draft = read_variant(fields, like.family, 0, _draft(like, fields))
    fields.left_over(KEYS)
    if draft is None:
        return None, tuple(fields.findings)
    draft, faults = without_bad_pose(draft)
    fields.findings.extend(faults)
    if easier and not harder:
        harder = _next(easier, easier.harder, library)
    elif harder and not easier:
        easier = _next(harder, harder.easier, library)
    variant = _with_limits(draft, fields, easier, harder)
    variant = replace(
        variant,
        asks=_asks(draft, variant, easier, harder),
        source=_source(draft, fields, easier, harder),
        inferred=tuple(word for word, keys in _TAKEN.items() if not any(fields.has(key) for key in keys)),
        spread_log=_spread(draft, easier, harder),
    )
    after, before = (v.id if v and v.family == like.family else None for v in (easier, harder))
    placed = Placed(replace(variant, family=like.family), draft, like.family, after, before)
    return placed, tuple(fields.findings)


def _neighbour(fields: Fields, key: str, library: Library) -> Variant | None:
    name = fields.text(key)
    if not name:
        return None
    found = library.find(name)
    if found is None:
        near = " or ".join(f"`{v.name}`" for v in nearest(library, name, 2))
        what = f"`{key}` names `{name}`, which is not in the library"
        fields.fault("library-unknown-neighbour", key, what, f"write {near}" if near else "write a known exercise")
    return found


def _agree(fields: Fields, easier: Variant, harder: Variant) -> bool:
    """True when the two neighbours can have something between them; else a finding."""
    a, b = easier.main, harder.main
    if (a and a.group) != (b and b.group):
        what = f"{easier.name} and {harder.name} do not work the same group"
        fix = "name two neighbours of one family"
        fields.fault("library-crossed", "easier_than", what, fix, "a demand between them has no meaning")
        return False
    if a and b and a.base > b.base:
        what = f"{easier.name} is harder than {harder.name} in the library"
        fields.fault("library-crossed", "easier_than", what, "change the two names round", "nothing fits between them")
        return False
    return True


def _draft(like: Variant, fields: Fields) -> Draft:
    return Draft(like, like.main.group if like.main else None, "order", fields.span("name"))


def _next(of: Variant, ids: tuple[str, ...], library: Library) -> Variant | None:
    """The neighbour on the other side, when it works the same group."""
    group = of.main.group if of.main else None
    found = (library.variants[i] for i in ids)
    return next((v for v in found if (v.main.group if v.main else None) == group), None)


def _with_limits(draft: Draft, fields: Fields, easier: Variant | None, harder: Variant | None) -> Variant:
    """Where nothing is written, the stricter of the two neighbours counts for impact, range and loads."""
    variant, both = draft.variant, [v for v in (easier, harder) if v]
    if not fields.has("impact"):
        variant = replace(variant, impact=max(v.impact for v in both))
    if not fields.has("end_range"):
        variant = replace(variant, end_range=any(v.end_range for v in both))
    if not fields.has("below_level"):
        variant = replace(variant, below_level=any(v.below_level for v in both))
    if not fields.has("loading"):
        shared = tuple(p for p in both[0].loading if all(p in v.loading for v in both))
        variant = replace(variant, loading=shared)
    if not fields.has("cautions"):
        variant = replace(variant, cautions=tuple(dict.fromkeys(c for v in both for c in v.cautions)))
    return variant


def _asks(draft: Draft, variant: Variant, easier: Variant | None, harder: Variant | None) -> tuple[Ask, ...]:
    low, high = (v.main if v else None for v in (easier, harder))
    main = low or high
    if main is None or draft.group is None:
        return ()
    base = draft.difficulty or _between(low.base if low else None, high.base if high else None)
    slopes: dict[Place, float] = {}
    for place_ in (*variant.loading, *_band_places(variant)):
        at = (_slope(low, place_), _slope(high, place_))
        if place_ in draft.per_kg:
            slopes[place_] = draft.per_kg[place_]
        elif any(at):
            slopes[place_] = round(_between(*at), 4)
    asks = [Ask(main.group, round(base, 4), slopes, "order", main=True)]
    asks += [Ask(g, b, {}, "order", main=False) for g, b in draft.also.items() if g != main.group]
    seen = {a.group for a in asks}
    for ask in sorted(
        (a for v in (easier, harder) if v for a in v.asks if not a.main and a.group not in seen),
        key=lambda a: -a.base,
    ):
        if ask.group not in seen:
            seen.add(ask.group)
            asks.append(replace(ask, trust="order"))
    return tuple(asks)


def _band_places(variant: Variant) -> tuple[Place, ...]:
    return ("band",) if "band" in variant.kit else ()


def _slope(ask: Ask | None, place_: Place) -> float | None:
    return ask.per_kg.get(place_) if ask else None


def _between(low: float | None, high: float | None) -> float:
    if low and high:
        return sqrt(low * high)
    return low * ONE_STEP if low else (high or 0.0) / ONE_STEP


def _source(draft: Draft, fields: Fields, easier: Variant | None, harder: Variant | None) -> str:
    """Where the demand comes from; what the coach wrote stays in front."""
    written = [draft.variant.source] if fields.has("source") else []
    if draft.difficulty is not None:
        return "; ".join(written) or "difficulty as the coach wrote it"
    names = " and ".join(v.name for v in (easier, harder) if v)
    told = f"placed between {names}" if easier and harder else f"one step {'above' if easier else 'below'} {names}"
    return "; ".join([*written, f"inferred: {told}"])


_TAKEN: Mapping[str, tuple[str, ...]] = {
    "demand": ("difficulty",),
    "pattern": ("pattern",),
    "one leg or two": ("one_leg", "sided"),
    "counted in": ("dose",),
    "needs": ("needs", "kit"),
    "loading places": ("loading",),
    "regions": ("regions",),
    "muscles": ("muscles",),
    "helping muscles": ("helping",),
    "impact": ("impact", "contacts_per_rep"),
    "range": ("end_range", "below_level"),
    "tags": ("tags",),
    "balance help": ("balance_help",),
    "cautions": ("cautions",),
    "time": ("rep_s", "setup_s"),
    "shot": ("shot",),
}
"""What a placed exercise takes from its neighbours, in words, and the keys that would have said it."""


def _spread(draft: Draft, easier: Variant | None, harder: Variant | None) -> float:
    """How little the demand is known, SD on the log axis: half the way between the neighbours, at least LEAST_SPREAD_LOG.

    Both neighbours then lie one SD away: the exercise may well be as easy or as hard as they are.
    """
    main = next((v.main for v in (easier, harder) if v and v.main), None)
    if main is None or draft.group is None:
        return 0.0
    if draft.difficulty is not None:
        return LEAST_SPREAD_LOG
    low, high = (v.main.base if v and v.main else None for v in (easier, harder))
    return max(LEAST_SPREAD_LOG, log(high / low) / 2 if low and high else log(ONE_STEP))


def ordered(ids: tuple[str, ...], placed: Placed, variants: Mapping[str, Variant]) -> tuple[str, ...]:
    """The family's ids with the new one in its place: after the easier neighbour, by its demand, before the harder one."""
    first = ids.index(placed.after) + 1 if placed.after in ids else 0
    last = ids.index(placed.before) if placed.before in ids else len(ids)
    main = placed.variant.main
    at = first
    for index in range(first, last):
        other = variants[ids[index]].main
        if main and other and other.group == main.group:
            if other.base > main.base:
                break
            at = index + 1
    return (*ids[:at], placed.variant.id, *ids[at:])
