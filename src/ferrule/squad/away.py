"""Time away and a race moved as edits of the place: what they make of a runner, and before and after in words."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby

from ferrule.model.entry import TimeAway
from ferrule.model.finding import Finding
from ferrule.model.squad import Absence, KitItem, Runner, Site
from ferrule.model.words import DAYS
from ferrule.squad.cell import Cell
from ferrule.squad.kit_cell import read_kit
from ferrule.squad.place import first_monday, last_monday, lost_days, monday_of, programme_week, week_away
from ferrule.squad.sites import site_on

_WEEK = timedelta(weeks=1)
_SHORT = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def with_away(runner: Runner, aways: Iterable[TimeAway]) -> tuple[Runner, tuple[Finding, ...]]:
    """The runner with these times away, in order of day. Kit in words is read as in the squad list ("": their own)."""
    made: list[Absence] = []
    findings: list[Finding] = []
    for away in sorted(aways, key=lambda a: (a.first, a.last, a.kit or "")):
        if away.runner_id != runner.id:
            continue
        kit, found = meanwhile(away.kit, runner)
        findings += found
        made.append(Absence(away.first, away.last, kit))
    return replace(runner, away=tuple(made)), tuple(findings)


def meanwhile(words: str | None, runner: Runner) -> tuple[tuple[KitItem, ...] | None, list[Finding]]:
    """The kit at hand while away: None without training, the runner's own for "", `no kit` for nothing at all."""
    if words is None:
        return None, []
    return read_kit(Cell(words, runner.span)) if words.strip() else (runner.kit, [])


def in_week(runner: Runner, monday: date) -> Runner:
    """The runner as the week of `monday` finds them: without the days lost, and with the kit that is at hand then.

    A week of which only some of the possible days fall into a time with another kit is laid with what is at hand on
    every one of them; a runner with sites has on each day what is at hand on that day. A runner who is not away in that week is returned as they are.
    """
    monday = monday_of(monday)
    here = [a for a in runner.away if a.first <= monday + timedelta(days=6) and a.last >= monday]
    lost = lost_days(runner, monday)
    left = [d for d in runner.days or range(7) if d not in lost]
    if not here or not left:
        return runner
    if runner.sites:
        return _with_sites(runner, here, monday, tuple(left))
    kits = [_kit_on(runner, here, monday + timedelta(days=d)) for d in left]
    kit = tuple(item for item in kits[0] if all(item in other for other in kits[1:]))
    return replace(runner, days=tuple(left) if lost else runner.days, kit=kit)


def _with_sites(runner: Runner, here: Sequence[Absence], monday: date, left: tuple[int, ...]) -> Runner:
    """The sites with the days that are left to them, and one without a name for each kit at hand while away."""
    days: dict[tuple[str, tuple[KitItem, ...]], list[int]] = {}
    for day in left:
        on = monday + timedelta(days=day)
        away = next((a.kit for a in here if a.kit is not None and a.first <= on <= a.last), None)
        own = site_on(runner, day)
        days.setdefault((own.name, own.kit) if away is None else ("", away), []).append(day)
    sites = tuple(Site(name, kit, tuple(d)) for (name, kit), d in days.items())
    return replace(runner, days=left, kit=sites[0].kit, sites=sites)


def _kit_on(runner: Runner, here: Sequence[Absence], day: date) -> tuple[KitItem, ...]:
    return next((a.kit for a in here if a.kit is not None and a.first <= day <= a.last), runner.kit)


def days_away(runner: Runner) -> frozenset[date]:
    """The days on which this runner does not train because they are away."""
    return frozenset(
        a.first + timedelta(days=n) for a in runner.away if a.kit is None for n in range((a.last - a.first).days + 1)
    )


def moved_race(runner: Runner, to: date, was: date | None = None) -> tuple[Runner, date | None]:
    """The runner with a race moved to `to`, and the day it was on; (runner, None) when it cannot be told which.

    was   the race that moved; None: that of the anchor, else the only one there is. A race that is not there is none.
    """
    anchor = runner.anchor
    if was is None and anchor is not None and anchor.kind == "to race":
        was = anchor.day
    if was is None and len(runner.races) == 1:
        was = runner.races[0]
    if was is None or (was not in runner.races and (anchor is None or was != anchor.day)):
        return runner, None
    if anchor is not None and anchor.kind == "to race" and anchor.day == was:
        anchor = replace(anchor, day=to)
    races = tuple(sorted({to if day == was else day for day in runner.races} | {to}))
    return replace(runner, anchor=anchor, races=races), was


@dataclass(frozen=True, slots=True)
class _Week:
    """One calendar week before and after. away: all of it is lost;  lost: weekdays lost of one that is not all away."""

    monday: date
    before: int | None
    after: int | None
    lost: tuple[int, ...]
    away: bool
    sent: bool

    @property
    def same(self) -> bool:
        return self.before == self.after and not self.lost

    @property
    def kind(self) -> tuple[object, ...]:
        shift = None if self.before is None or self.after is None else self.after - self.before
        return self.before is None, self.after is None, shift, self.lost, self.away, self.sent


def difference(before: Runner, after: Runner, programme_weeks: int, sent: Collection[date] = ()) -> tuple[str, ...]:
    """Which programme week falls on which calendar week now, and which did: one sentence for weeks that change alike.

    sent   Mondays of which a copy was sent: it stays as it is, and that is said. Empty when nothing moves.
    """
    weeks = [w for w in _weeks(before, after, programme_weeks, sent) if not w.same]
    said: list[str] = []
    for _, alike in groupby(enumerate(weeks), key=lambda iw: (iw[1].monday - _WEEK * iw[0], iw[1].kind)):
        said.append(_sentence([week for _, week in alike]))
    ends = [last_monday(r, programme_weeks) for r in (before, after)]
    if ends[0] is not None and ends[1] is not None and ends[0] != ends[1]:
        said.append(f"The programme ends in the week of {_day(ends[1])} (was {_day(ends[0])}).")
    return tuple(said)


def _weeks(before: Runner, after: Runner, programme_weeks: int, sent: Collection[date]) -> list[_Week]:
    firsts = [m for r in (before, after) if (m := first_monday(r, programme_weeks)) is not None]
    lasts = [m for r in (before, after) if (m := last_monday(r, programme_weeks)) is not None]
    if not firsts:
        return []
    made = []
    for n in range((max(lasts) - min(firsts)).days // 7 + 1):
        monday = min(firsts) + n * _WEEK
        now = programme_week(after, programme_weeks, monday)
        possible = set(after.days or range(7))
        lost = sorted((lost_days(after, monday) - lost_days(before, monday)) & possible) if now is not None else []
        was = programme_week(before, programme_weeks, monday)
        made.append(_Week(monday, was, now, tuple(lost), week_away(after, monday), monday in sent))
    return made


def _sentence(weeks: list[_Week]) -> str:
    first, last = weeks[0], weeks[-1]
    one = len(weeks) == 1
    when = f"Week of {_day(first.monday)}" if one else f"Weeks of {_day(first.monday)} to {_day(last.monday)}"
    was = _numbers(first.before, last.before)
    if first.after is None:
        now = "away" if first.away else "no week of the programme"
        text = f"{when}: {now}" + (f" ({'was' if one else 'were'} {_label(one)} {was})" if was else "")
    elif first.before == first.after:
        text = f"{when}: {_label(one)} {was} as before"
    else:
        were = f" ({'was' if one else 'were'} {was})" if was else " (was none)"
        text = f"{when}: {_label(one)} {_numbers(first.after, last.after)}{were}"
    if first.lost:
        text += f", without {', '.join(DAYS[d] for d in first.lost)}"
    if first.sent:
        text += ". Already sent: the copy stays as it is" if one else ". Already sent: the copies stay as they are"
    return text + "."


def _label(one: bool) -> str:
    return "programme week" if one else "programme weeks"


def _numbers(low: int | None, high: int | None) -> str:
    if low is None or high is None:
        return ""
    return str(low) if low == high else f"{low} to {high}"


def _day(day: date) -> str:
    return f"{day.day} {_SHORT[day.month - 1]} {day.year}"
