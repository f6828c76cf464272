"""Minutes, foot contacts, and one setting of a piece inside a pair."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check import minutes
from ferrule.fit.verify.refused import refused
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import ProgrammeWeek
from ferrule.model.squad import Runner

ROUNDING_MIN = 0.15


def check_amounts(
    week: FittedWeek, written: ProgrammeWeek, runner: Runner, library: Library, house: House
) -> tuple[Finding, ...]:
    """Each session within its minutes and contacts; the printed minutes are those of the printed plan."""
    out = []
    promised = {s.key: s.minutes for s in written.sessions}
    for session in week.sessions:
        took = session_min(session, library)
        if abs(took - session.minutes) > ROUNDING_MIN:
            out.append(
                refused("minutes", week, f"session {session.key} says {session.minutes:g} min and takes {took:.1f}")
            )
        caps = [m for m in (promised.get(session.key), runner.minutes) if m is not None]
        if caps and took > min(caps) + house.value("minutes-over") + ROUNDING_MIN:
            out.append(refused("minutes", week, f"session {session.key} takes {took:.1f} min of {min(caps)}"))
        landings = sum(_contacts(i, library) * i.sets for b in session.blocks for i in b.items)
        if landings > house.value("contacts-a-session"):
            out.append(refused("contacts", week, f"session {session.key} has {landings:g} foot contacts"))
        out += [
            refused("pair-kit", week, f"session {session.key}: {why}") for b in session.blocks for why in _settings(b)
        ]
    return tuple(out)


def session_min(session: FittedSession, library: Library) -> float:
    """Minutes of a fitted session, from what is printed."""
    return minutes.session_minutes([_block_min(b, library) for b in session.blocks])


def _block_min(block: FittedBlock, library: Library) -> float:
    clock = minutes.clock_seconds(block, block.rounds, len(block.items))
    if clock is not None:
        return clock / 60
    items = []
    for item in block.items:
        variant = library.variants.get(item.variant_id)
        setup_s = minutes.SETUP_S if variant is None else variant.setup_s
        items.append((_set_s(item, library), setup_s, None if item.rest_s is None else item.rest_s.middle))
    return minutes.block_minutes(
        block.kind,
        [i.sets for i in block.items] if block.kind == "straight" else block.rounds,
        items,
        None if block.rest_s is None else block.rest_s.middle,
        None if block.between_s is None else block.between_s.middle,
    )


def _set_s(item: FittedItem, library: Library) -> float:
    variant = library.variants.get(item.variant_id)
    rep_s = item.tempo.rep_s() if item.tempo else (minutes.REP_S if variant is None else variant.rep_s)
    rep_s += item.pause_s or 0.0
    if item.left_right is not None:
        return sum(item.left_right) * rep_s + (minutes.SIDE_S if item.side_rest_s is None else item.side_rest_s)
    held = (
        item.hold_s.middle
        if item.hold_s
        else item.distance_m.middle / minutes.PACE_M_PER_S
        if item.distance_m
        else None
    )
    if item.contacts is not None and held is None and item.reps is None:
        one = variant.rep_s if variant is not None and variant.dose_kind == "contacts" else minutes.CONTACT_S
        return minutes.set_seconds(item.contacts.middle, one, 2 if item.per_side else 1, None, item.side_rest_s)
    reps = sum(item.per_set) / len(item.per_set) if item.per_set else item.reps.middle if item.reps else None
    parts = next((e for e in item.extra if e.startswith("in parts of ")), None)
    more = next((e for e in item.extra if e.startswith("then ") and e.endswith(" more with less load")), None)
    if more is not None and reps is not None:
        reps += float(more.split()[1])
    if reps is None and held is None:
        held = minutes.UNSTATED_S
    if parts is not None:
        held = (held or 0.0) + parts.count("+") * minutes.CLUSTER_S
    return minutes.set_seconds(reps, rep_s, 2 if item.per_side else 1, held, item.side_rest_s)


def _contacts(item: FittedItem, library: Library) -> float:
    variant = library.variants.get(item.variant_id)
    if variant is None or not variant.contacts_per_rep:
        return 0.0
    sides = 2 if item.per_side else 1
    if item.contacts is not None:
        return item.contacts.high * sides
    return 0.0 if item.reps is None else item.reps.high * variant.contacts_per_rep * sides


def _settings(block: FittedBlock) -> Iterator[str]:
    if block.kind == "straight":
        return
    seen: dict[str, str] = {}
    for item in block.items:
        for piece in () if item.load is None else item.load.pieces:
            words = piece.removeprefix("two ").replace("dumbbells", "dumbbell").replace("kettlebells", "kettlebell")
            name = words.split(" at ")[0] if words.startswith("adjustable") else words.split(" with ")[0]
            setting = words if words.startswith(("adjustable", "rucksack")) else None
            if words.endswith("barbell"):
                setting = " and ".join(item.load.pieces) if item.load else None
            if setting is not None and seen.setdefault(name, setting) != setting:
                yield f"{name} is wanted as {seen[name]} and as {setting} in one {block.kind}"
