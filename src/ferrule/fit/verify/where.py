"""Where each session is done, and the kit that is there, read again from the squad list."""

from __future__ import annotations

from dataclasses import replace

from ferrule.model.fitted import FittedSession, FittedWeek
from ferrule.model.squad import KitItem, Runner


def site_of(session: FittedSession, runner: Runner) -> int:
    """The number of the runner's site on the day of the session: the first where no site has that day."""
    day = session.day.weekday()
    for number, site in enumerate(runner.sites):
        if day in site.days:
            return number
    return 0


def name_there(session: FittedSession, runner: Runner) -> str:
    """What the squad list calls the site of the session; "" when it names none."""
    return runner.sites[site_of(session, runner)].name if runner.sites else ""


def runner_there(session: FittedSession, week: FittedWeek, runner: Runner) -> Runner:
    """The runner with the kit of that day: of a session with several times what is at hand at every one of them."""
    if not runner.sites:
        return runner
    key = session.key.partition(" (")[0]
    times = {site_of(s, runner) for s in week.sessions if s.key.partition(" (")[0] == key}
    first, *others = [runner.sites[n].kit for n in sorted(times)]
    kit = first
    for other in others:
        if set(other) != set(kit):
            kit = _in_both(kit, other)
    return replace(runner, kit=kit, sites=())


def _in_both(one: tuple[KitItem, ...], other: tuple[KitItem, ...]) -> tuple[KitItem, ...]:
    out = []
    for item in dict.fromkeys(replace(i, count=1) for i in one):
        mine, its = (sum(i.count for i in kit if replace(i, count=1) == item) for kit in (one, other))
        if mine and its:
            out.append(replace(item, count=min(mine, its)))
    return tuple(out)
