"""The written week that a fitted week claims to be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import timedelta

from ferrule.fit.verify.refused import refused
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek
from ferrule.model.programme import Programme, ProgrammeWeek
from ferrule.model.squad import Runner
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
    if first + timedelta(days=7 * (week.programme_week - 1)) != week.monday:
        raise WrongWeek(refused("place", week, f"week {week.programme_week} does not begin on {week.monday}"))
    times = {o.session.key: o for o in occurrences(programme, written)}
    return Written(replace(written, sessions=tuple(o.session for o in times.values())), times)
