"""Tiny Problems for the tests of single constraints, and the brute force that the solver is held to."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from ferrule.fit.objective import DAY_LOST, SHORTFALL
from ferrule.fit.problem import Answer, BlockOfWeek, Line, Option, Problem, SessionOfWeek, Slot, slot_tie
from ferrule.model.words import Group


def option(
    name: str = "a", *, text: int = 0, effort: int = 0, same: int = 0, seconds: int = 60, contacts: int = 0,
    settings: tuple[tuple[str, str], ...] = (), group: Group | None = None, new: bool = False, place: int = 0, cuts: int = 1,
    grown: bool = False,
) -> Option:  # fmt: skip
    """One choice; its seconds and contacts are the same for every number of rounds taken away."""
    return Option(
        name,
        text,
        effort,
        same,
        (place << 24) + place,
        (seconds,) * cuts,
        (contacts,) * cuts,
        settings,
        group,
        new,
        grown,
    )


def line(*options: Option, session: int = 0, block: int = 0, omit: int = 2000) -> Line:
    """A line with these choices."""
    return Line(f"{session}/{block}", session, block, options, omit)


def slots(days: Sequence[int], blocked: tuple[str, ...] = (), cost: int = 0) -> tuple[Slot, ...]:
    """An evening slot on each day."""
    return tuple(Slot(day, day * 1440 + 1080, cost, 0, blocked) for day in days)


def session(
    days: Sequence[int] = (0,), *, promised_s: int = 3600, limit_s: int = 3600, drop: int = 5000, track: str = "",
    gap_min: int = 2400,
) -> SessionOfWeek:  # fmt: skip
    """A session that may be on any of these days."""
    return SessionOfWeek("1", promised_s, limit_s, drop, slots(days), track, gap_min)


def block(session_index: int = 0, kind: str = "straight", *cuts: tuple[int, int], clash: bool = False) -> BlockOfWeek:
    """A block; cuts are (price, own seconds) for each number of rounds taken away."""
    return BlockOfWeek(session_index, kind, cuts or ((0, 0),), clash)


def problem(
    lines: Sequence[Line] = (), sessions: Sequence[SessionOfWeek] = (), blocks: Sequence[BlockOfWeek] = (), *,
    free_days: tuple[int, ...] = (), rest_days: int = 0, cover: tuple[Group, ...] = (),
    contacts: int = 1000, new_cap: int | None = None,
) -> Problem:  # fmt: skip
    """A week of these parts; one session with one straight block when none is given."""
    return Problem(
        tuple(sessions) or (session(),), tuple(blocks) or (block(),), tuple(lines),
        free_days, rest_days, cover, contacts, new_cap,
    )  # fmt: skip


def brute_force(p: Problem) -> tuple[Answer, int]:
    """(the lexicographic optimum by trying everything, how many answers reach it). For a few thousand combinations."""
    best: tuple[int, ...] | None = None
    found: list[Answer] = []
    for answer in _everything(p):
        values = _values(p, answer)
        if values is None:
            continue
        if best is None or values < best:
            best, found = values, [Answer(answer.option, answer.reduction, answer.slot, values, True)]
        elif values == best:
            found.append(answer)
    assert found  # the ground state always exists
    return found[0], len(found)


def _everything(p: Problem) -> Iterator[Answer]:
    options = [[None, *range(len(x.options))] for x in p.lines]
    cuts = [list(range(len(b.reductions))) for b in p.blocks]
    times = [[None, *range(len(s.slots))] for s in p.sessions]
    for slot in itertools.product(*times):
        for cut in itertools.product(*cuts):
            for choice in itertools.product(*options):
                yield Answer(choice, cut, slot, (), False)


def _values(p: Problem, a: Answer) -> tuple[int, ...] | None:
    """The levels of an answer; None when it breaks a rule. Written from the rules, not from the model."""
    chosen = [(x, None if k is None else x.options[k]) for x, k in zip(p.lines, a.option, strict=True)]
    at = [None if t is None else s.slots[t] for s, t in zip(p.sessions, a.slot, strict=True)]
    if any(t is not None and t.blocked for t in at):
        return None
    placed = [t for t in at if t is not None]
    for n, (one, t) in enumerate(zip(p.sessions, at, strict=True)):
        for other, w in list(zip(p.sessions, at, strict=True))[n + 1 :]:
            if t is None or w is None or one.track != other.track:
                continue
            if (one.gap_min >= 1440 and (w.day - t.day) * 1440 < one.gap_min) or (
                one.gap_min < 1440 and (w.at_min <= t.at_min or w.at_min - t.at_min < one.gap_min)
            ):
                return None
    for written, o in chosen:
        if o is None or not o.sites:
            continue
        times = [n for n, one in enumerate(p.sessions) if (n if one.base is None else one.base) == written.session]
        there = {t.site for n in times if (t := at[n]) is not None and t.site >= 0}
        if (there - set(o.sites)) or (len(o.sites) > 1 and there != set(o.sites)):
            return None
    lost = 0
    if p.free_days and p.rest_days > 0:
        on_free = sum(
            t is not None and t.day in p.free_days and not s.track for s, t in zip(p.sessions, at, strict=True)
        )
        lost = max(0, on_free - max(0, len(p.free_days) - p.rest_days))
    over = 0
    for s, it in enumerate(p.sessions):
        if at[s] is None:
            continue
        seconds = sum(b.reductions[a.reduction[n]][1] for n, b in enumerate(p.blocks) if b.session == s)
        seconds += sum(o.line_s[a.reduction[x.block]] for x, o in chosen if o is not None and x.session == s)
        if seconds > it.limit_s:
            return None
        over += max(0, seconds - it.promised_s)
        if sum(o.contacts[0] for x, o in chosen if o is not None and x.session == s) > p.contacts:
            return None
    for n, b in enumerate(p.blocks):
        inside = [o for x, o in chosen if o is not None and x.block == n]
        if b.kind != "straight":
            settings: dict[str, set[str]] = {}
            for o in inside:
                for piece, setting in o.settings:
                    settings.setdefault(piece, set()).add(setting)
            if any(len(v) > 1 for v in settings.values()):
                return None
        if b.kind == "pair" and not b.written_clash:
            groups = [o.group for o in inside if o.group is not None]
            if len(groups) != len(set(groups)):
                return None
    if any(o.grown for _, o in chosen if o is not None):
        return None
    if p.new_cap is not None and sum(o.new for _, o in chosen if o is not None) > p.new_cap:
        return None
    short = 0
    for g in p.cover:
        worked = {x.session for x, o in chosen if o is not None and o.group == g and at[x.session] is not None}
        short += max(0, 2 - len(worked))
    text = sum(x.omit if o is None else o.text for x, o in chosen) + SHORTFALL * short + DAY_LOST * lost
    text += sum(s.drop for s, t in zip(p.sessions, at, strict=True) if t is None)
    text += sum(b.reductions[k][0] for b, k in zip(p.blocks, a.reduction, strict=True))
    taken = [o for _, o in chosen if o is not None]
    moved = sum(x.moved if o is None else o.moved for x, o in chosen) + sum(t.moved for t in placed)
    moved += sum(b.given is not None and b.given != k for b, k in zip(p.blocks, a.reduction, strict=True))
    order = sum(o.tie for o in taken) + sum(slot_tie(s, t) for s, t in enumerate(a.slot) if t is not None)
    return (
        text, moved, over, sum(o.effort for o in taken), sum(t.cost for t in placed),
        sum(o.same for o in taken) + sum(t.same for t in placed), order,
    )  # fmt: skip
