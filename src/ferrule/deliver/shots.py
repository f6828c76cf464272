"""The shot list: the fewest clips that show everything a cycle asks for.

What has to be shown is a *showing*: one exercise with its load at one place. A clip shows one exercise, or two that
differ only in load or hands. Being alike in that way is an equivalence, so the showings fall into classes and

    fewest clips = sum over the classes of ceil(showings / 2)

A clip covers at most two showings and never of two classes, so no list can be shorter; pairing inside each class reaches
it. No solver is needed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from ferrule.deliver.repeats import base_key
from ferrule.library.shot import shot_of
from ferrule.model.exercise import Library, Shot, Variant
from ferrule.model.fitted import FittedWeek, LoadChoice, SquadWeek
from ferrule.model.pose import Pose
from ferrule.model.programme import Cycle, Item, Named, Programme
from ferrule.model.words import Place
from ferrule.programme.weeks import week_of

HELD: Mapping[Place, str] = {
    "hands": "a weight in each hand",
    "opposite hand": "a weight in the hand of the other side",
    "same hand": "a weight in the hand of the working side",
    "chest": "a weight at the chest",
    "back": "a load on the back",
    "hips": "a weight on the hips",
    "ankle": "a weight at the ankle",
    "band": "a band",
}
ARMS_WORK = frozenset(("shoulder", "arm"))


@dataclass(frozen=True, slots=True)
class Showing:
    """One exercise as it has to be seen: its load at one place, or `band`; both empty without a load."""

    variant_id: str
    place: Place | None = None
    band: bool = False


@dataclass(frozen=True, slots=True)
class Clip:
    """One clip. `names` are the one or two things it shows, `used` the lines that need it, `fetch` what must be there."""

    showings: tuple[Showing, ...]
    names: tuple[str, ...]
    shot: Shot
    setup: str
    fetch: tuple[str, ...]
    used: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShotList:
    """The clips of a cycle in the order of their first use, and the lines no clip can be planned for yet.

    open_lines   leave the exercise open (`any hinge`), so what is seen is known only when the week is fitted
    unknown      name an exercise that the library does not have
    """

    cycle: str
    weeks: tuple[int, int]
    clips: tuple[Clip, ...]
    showings: int
    open_lines: tuple[str, ...]
    unknown: tuple[str, ...]


def shots_of(programme: Programme, cycle: Cycle, library: Library) -> ShotList:
    """The shot list of one cycle: every week of it, alternatives included, by-week tables applied."""
    used: dict[Showing, list[str]] = {}
    open_lines: dict[str, None] = {}
    unknown: dict[str, None] = {}
    for where, item in _lines(programme, cycle):
        if not isinstance(item.exercise, Named):
            legs = {1: ", one leg", 2: ", two legs"}.get(item.exercise.legs or 0, "")
            open_lines.setdefault(f"{where}: any {item.exercise.pattern}{legs}")
        elif (variant := library.variants.get(item.exercise.variant_id or "")) is None:
            unknown.setdefault(f"{where}: {item.exercise.text}")
        else:
            lines = used.setdefault(_showing(item, variant), [])
            if where not in lines:
                lines.append(where)
    last = cycle.repeat_to or cycle.last_week
    return ShotList(
        cycle.name or f"Cycle {cycle.key}",
        (cycle.first_week, last),
        _clips(used, library),
        len(used),
        tuple(open_lines),
        tuple(unknown),
    )


def shots_of_week(squad_week: SquadWeek, library: Library) -> ShotList:
    """The shot list of one fitted squad week: what anybody is given, lanes and exceptions, and the printed ways out."""
    used: dict[Showing, list[str]] = {}
    unknown: dict[str, None] = {}
    numbers = [w.programme_week for w in squad_week.outcomes if isinstance(w, FittedWeek)]
    for where, variant_id, name, load in _given(squad_week):
        variant = library.variants.get(variant_id)
        if variant is None:
            unknown.setdefault(f"{where}: {name}")
            continue
        showing = Showing(variant.id, None if load is None or load.band else load.place, bool(load and load.band))
        lines = used.setdefault(showing, [])
        if where not in lines:
            lines.append(where)
    title = f"{squad_week.programme}, fitted for the week of {squad_week.monday.isoformat()}"
    weeks = (min(numbers, default=0), max(numbers, default=0))
    return ShotList(title, weeks, _clips(used, library), len(used), (), tuple(unknown))


def _given(squad_week: SquadWeek) -> Iterator[tuple[str, str, str, LoadChoice | None]]:
    """(where, variant id, name, load) of every line of every runner first, then of their ways out."""
    items = [
        (f"session {base_key(s.key)}, {i.item_key}", i)
        for w in squad_week.outcomes if isinstance(w, FittedWeek)
        for s in w.sessions for b in s.blocks for i in b.items
    ]  # fmt: skip
    items.sort(key=lambda x: x[0])
    for where, item in items:
        yield where, item.variant_id, item.name, item.load
    for where, item in items:
        for way in (item.too_hard, item.too_easy):
            if way is not None:
                yield f"{where} (way out)", way.variant_id, way.name, way.load


def _clips(used: Mapping[Showing, list[str]], library: Library) -> tuple[Clip, ...]:
    """The fewest clips for these showings, in the order of their first use."""
    groups: dict[object, list[Showing]] = {}
    for showing in used:
        groups.setdefault(alike(library.variants[showing.variant_id]), []).append(showing)
    order = list(used)
    pairs = sorted(
        (tuple(group[i : i + 2]) for group in groups.values() for i in range(0, len(group), 2)),
        key=lambda pair: order.index(pair[0]),
    )
    return tuple(_clip(pair, used, library) for pair in pairs)


def alike(variant: Variant) -> object:
    """Equal for two exercises that differ only in load or hands: same family, supports, legs and trunk, and no arm work.

    Where the arms are the exercise, and where there is no pose, an exercise is alike only to itself.
    """
    movement = variant.movement
    if movement is None or ARMS_WORK & set(variant.regions):
        return variant.id

    def legs(pose: Pose | None) -> str:
        return "" if pose is None else repr(replace(pose, arms={}, lead_arm={}, rear_arm={}, head=None))

    ends = (legs(movement.hold), legs(movement.other), movement.contacts, movement.other_contacts, movement.props)
    return (variant.family, variant.dose_kind, movement.view, movement.starts, ends)


def _lines(programme: Programme, cycle: Cycle) -> Iterator[tuple[str, Item]]:
    for week in range(cycle.first_week, (cycle.repeat_to or cycle.last_week) + 1):
        laid = week_of(programme, week)
        if laid is None or laid.cycle_key != cycle.key:
            continue
        for session in laid.sessions:
            for block in session.blocks:
                for item in block.items:
                    for line in (item, *item.alternatives):
                        yield f"session {session.key}, {item.key}", line


def _showing(item: Item, variant: Variant) -> Showing:
    load = item.dose.load
    if load is None or load.none:
        return Showing(variant.id)
    if load.band is not None:
        return Showing(variant.id, band=True)
    return Showing(variant.id, load.place or next(iter(variant.loading), None))


def _clip(pair: tuple[Showing, ...], used: Mapping[Showing, list[str]], library: Library) -> Clip:
    variants = [library.variants[s.variant_id] for s in pair]
    names = tuple(_name(s, v) for s, v in zip(pair, variants, strict=True))
    fetch: dict[str, None] = dict.fromkeys(str(kind) for v in variants for kind in v.kit)
    fetch |= dict.fromkeys("band" if s.band else "weight" for s in pair if s.band or s.place is not None)
    lines = dict.fromkeys(line for s in pair for line in used[s])
    return Clip(pair, names, shot_of(variants[0]), variants[0].setup, tuple(fetch), tuple(lines))


def _name(showing: Showing, variant: Variant) -> str:
    if showing.band:
        return f"{variant.name}, with a band"
    return variant.name if showing.place is None else f"{variant.name}, {HELD[showing.place]}"
