"""The written week that a fitted week claims to be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from ferrule.fit.verify.refused import refused
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek
from ferrule.model.programme import Programme, ProgrammeWeek
from ferrule.model.squad import Absence, Runner, Site
from ferrule.programme.occurrences import Occurrence, occurrences
from ferrule.programme.weeks import week_of


class WrongWeek(Exception):  # noqa: N818 - carried inside verify only
    """The week is not the one the anchor gives."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.what)
        self.finding = finding


@dataclass(frozen=True, slots=True)
class Written:
    """The written week with a session for each time it is done, and the times by session key."""

    week: ProgrammeWeek
    times: Mapping[str, Occurrence]


def written_week(week: FittedWeek, programme: Programme, runner: Runner) -> Written:
    """The programme's week of that number. Raises WrongWeek when the anchor or the runner's holds say otherwise."""
    if week.runner_id != runner.id:
        raise WrongWeek(refused("runner", week, f"made for {week.runner_id}, checked for {runner.id}"))
    if any(h.cleared_by is None for h in runner.holds):
        raise WrongWeek(refused("held", week, "the runner is held, nothing may be fitted"))
    written = week_of(programme, week.programme_week)
    anchor = runner.anchor
    if written is None or anchor is None:
        raise WrongWeek(refused("place", week, f"there is no programme week {week.programme_week} for them"))
    start = anchor.day - timedelta(days=anchor.day.weekday())
    first = start if anchor.kind == "from" else start - timedelta(days=7 * (programme.weeks - 1))
    waits = len(_weeks_lost(runner, first, week.monday)) if anchor.kind == "from" else 0
    if first + timedelta(days=7 * (week.programme_week - 1 + waits)) != week.monday:
        raise WrongWeek(refused("place", week, f"week {week.programme_week} does not begin on {week.monday}"))
    times = {o.session.key: o for o in occurrences(programme, written)}
    return Written(replace(written, sessions=tuple(o.session for o in times.values())), times)


def here_in(week: FittedWeek, runner: Runner) -> Runner:
    """The runner with the kit and the days they have in that week: time away takes days, or changes what is at hand."""
    days = [week.monday + timedelta(days=n) for n in range(7) if not runner.days or n in runner.days]
    there = {day: [a for a in runner.away if a.first <= day <= a.last] for day in days}
    if not any(there.values()):
        return runner
    left = [day for day in days if all(a.kit is not None for a in there[day])]
    if not left:
        raise WrongWeek(refused("place", week, "the runner is away in all of that week"))
    if runner.sites:
        return _sites_in(runner, left, there)
    kit = runner.kit
    for n, day in enumerate(left):
        here = next((a.kit for a in there[day] if a.kit is not None), runner.kit)
        kit = here if n == 0 else tuple(k for k in kit if k in here)
    return replace(runner, kit=kit, days=tuple(d.weekday() for d in left))


def _sites_in(runner: Runner, left: list[date], there: Mapping[date, list[Absence]]) -> Runner:
    """Day by day: where they are away the kit of that, at a site without a name, else what their own site has."""
    by_day = []
    for day in left:
        away = next((a.kit for a in there[day] if a.kit is not None), None)
        own = next((s for s in runner.sites if day.weekday() in s.days), runner.sites[0])
        by_day.append(Site(own.name, own.kit, (day.weekday(),)) if away is None else Site("", away, (day.weekday(),)))
    return replace(runner, kit=by_day[0].kit, days=tuple(d.weekday() for d in left), sites=tuple(by_day))


def _weeks_lost(runner: Runner, first: date, before: date) -> set[date]:
    """Mondays from `first` to `before` of weeks without one possible day at home."""
    begins = first if runner.starts is None else max(first, runner.starts)
    lost = set()
    for n in range((before - first).days // 7):
        monday = first + timedelta(days=7 * n)
        days = (monday + timedelta(days=d) for d in (runner.days or range(7)))
        if monday >= begins and all(any(a.kit is None and a.first <= d <= a.last for a in runner.away) for d in days):
            lost.add(monday)
    return lost
