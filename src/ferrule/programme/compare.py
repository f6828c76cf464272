"""Two versions of a programme beside each other: what a runner will do differently, week by week."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import PurePath
from typing import Final

from ferrule.model.programme import Condition, Programme, ProgrammeWeek
from ferrule.programme.change import Change, WeekChange, Where
from ferrule.programme.compare_sessions import session_title, sessions_changes
from ferrule.programme.compare_texts import text_changes
from ferrule.programme.meaning import COMPARED_ELSEWHERE, NOT_STATED, field_changes, field_word, meaning
from ferrule.programme.weeks import cycle_of, week_of

MOST_WEEKS: Final = 520
"""Weeks that are compared, as many as a programme may state."""


def compare(old: Programme, new: Programme) -> tuple[WeekChange, ...]:
    """What differs in meaning, by-week tables applied. Empty exactly when every week asks the same of a runner.

    Not told: the wording of what is read as the same, words for the coach, checks set aside, places in the file, letters
    and numbers that follow from the order, RPE for the RIR it means. Each change is told once, with all its weeks.
    """
    weeks_of: dict[tuple[Change, int], list[int]] = {}
    known: dict[object, tuple[Change, ...]] = {}
    everywhere = tuple(_throughout(old, new))
    for week in weeks_there(old) | weeks_there(new):
        before, after = week_of(old, week), week_of(new, week)
        pair = (_asked(before), _asked(after))
        if pair not in known:
            known[pair] = tuple(_week(before, after)) if pair[0] != pair[1] else ()
        cycle = _cycle(old, new, week) if before and after else ()
        counts: Counter[Change] = Counter()
        for change in (*(everywhere if before and after else ()), *cycle, *known[pair]):
            counts[change] += 1  # two lines of one exercise may go at once
            weeks_of.setdefault((change, counts[change]), []).append(week)
    groups: dict[tuple[int, ...], list[Change]] = {}
    for (change, _), weeks in weeks_of.items():
        groups.setdefault(tuple(sorted(weeks)), []).append(change)
    ordered = sorted(groups.items(), key=lambda g: (g[0][0], -len(g[0]), g[0]))
    return tuple(WeekChange(weeks, tuple(changes)) for weeks, changes in ordered)


def weeks_there(programme: Programme) -> set[int]:
    """The weeks that a cycle holds, within what the programme states."""
    return {w for w in range(1, min(programme.weeks, MOST_WEEKS) + 1) if cycle_of(programme, w) is not None}


def _asked(week: ProgrammeWeek | None) -> object:
    """What a week asks, whatever its number; None for a week that is not there."""
    if week is None:
        return None
    return meaning((week.cycle_name, week.aim, week.sessions, week.notes, week.conditions))


def _throughout(old: Programme, new: Programme) -> Iterator[Change]:
    """What holds in every week: fields of the programme itself."""
    was, now = _stated_title(old), _stated_title(new)
    if was != now:
        yield Change("changed", Where(), "title", was or NOT_STATED, now or NOT_STATED)
    for what, before, after in field_changes(old, new, besides=COMPARED_ELSEWHERE[Programme]):
        yield Change("changed", Where(), what, before, after)


def _stated_title(programme: Programme) -> str:
    """The title, unless it is only the name of the file."""
    return "" if programme.title == PurePath(programme.file).stem else programme.title


def _cycle(old: Programme, new: Programme, week: int) -> Iterator[Change]:
    before, after = cycle_of(old, week), cycle_of(new, week)
    if before is not None and after is not None:
        for what, was, now in field_changes(before, after, besides=COMPARED_ELSEWHERE[type(after)]):
            yield Change("changed", Where(), what, was, now)


def _week(old: ProgrammeWeek | None, new: ProgrammeWeek | None) -> Iterator[Change]:
    if old is None or new is None:
        if new is not None:
            yield Change("added", Where(), "week", "", _in_brief(new))
        elif old is not None:
            yield Change("gone", Where(), "week", _in_brief(old), "")
        return
    for name in ("cycle_name", "aim"):
        was, now = getattr(old, name), getattr(new, name)
        if was != now:
            yield Change("changed", Where(), field_word(name), was or NOT_STATED, now or NOT_STATED)
    yield from text_changes("note", old.notes, new.notes, Where())
    yield from text_changes("condition", _wide(old), _wide(new), Where())
    yield from sessions_changes(old.sessions, new.sessions)


def _wide(week: ProgrammeWeek) -> tuple[str, ...]:
    """Conditions of the week that stand outside its sessions and blocks; those inside are told at their place."""
    inside: Counter[Condition] = Counter()
    for session in week.sessions:
        inside.update(session.conditions)
        for block in session.blocks:
            inside.update(block.conditions)
    out: list[str] = []
    for condition in week.conditions:
        if inside[condition] > 0:
            inside[condition] -= 1
        else:
            out.append(condition.text)
    return tuple(out)


def _in_brief(week: ProgrammeWeek) -> str:
    return "; ".join(map(session_title, week.sessions)) or "no session"
