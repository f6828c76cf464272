"""Which kit a line may be done with: that of the site of its day, or, for a session done at several sites, what all of
them have."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from ferrule.fit.choice import LineChoices
from ferrule.fit.setting import Setting
from ferrule.model.squad import KitItem, Runner
from ferrule.squad.sites import common_kit, site_on, sites_of


@dataclass(frozen=True, slots=True)
class Scope:
    """The sites a line is done at, by number, all of them and no other; none when there is one kit only.

    setting   with the kit that is at hand at each of them
    """

    sites: tuple[int, ...]
    setting: Setting


@dataclass(frozen=True, slots=True)
class Part:
    """The choices of one line in one scope; `first` is the place of the first of them among the options of the line."""

    scope: Scope
    choices: LineChoices
    first: int = 0


def kits_of(runner: Runner) -> tuple[tuple[KitItem, ...], ...]:
    """The kits that differ, in the order of the sites: equal ones are one site to the fit."""
    return tuple({frozenset(s.kit): s.kit for s in reversed(sites_of(runner))}.values())[::-1]


def site_number(runner: Runner, day: int) -> int:
    """The number of the kit that is at hand on that weekday; -1 when there is one kit only."""
    kits = kits_of(runner)
    if len(kits) < 2:
        return -1
    here = frozenset(site_on(runner, day).kit)
    return next(n for n, kit in enumerate(kits) if frozenset(kit) == here)


def scopes_of(setting: Setting, times: int) -> tuple[Scope, ...]:
    """The scopes of a session done so many times a week: each site, then those that it may be done at together."""
    runner = setting.runner
    kits = kits_of(runner)
    if len(kits) < 2:
        return (Scope((), setting),)
    return tuple(
        Scope(sites, _at(setting, [kits[n] for n in sites]))
        for count in range(1, min(times, len(kits)) + 1)
        for sites in combinations(range(len(kits)), count)
    )


def _at(setting: Setting, kits: Sequence[tuple[KitItem, ...]]) -> Setting:
    """The same with this kit, called by all sites that have it."""
    names = [s.name for s in sites_of(setting.runner) if frozenset(s.kit) in {frozenset(k) for k in kits} and s.name]
    there = replace(setting.runner, kit=common_kit(kits), sites=())
    return replace(setting, runner=there, where=" and ".join(dict.fromkeys(names)), _screened={}, _loads={})


def joined(parts: Sequence[Part]) -> LineChoices:
    """The choices of all parts as those of one line: the written one of the first part that may do it."""
    if len(parts) == 1:
        return parts[0].choices
    first = next((p for p in parts if p.choices.written.barred is None), parts[0]).choices
    return LineChoices(
        first.written,
        tuple(c for p in parts for c in p.choices.choices),
        tuple(o for p in parts for o in p.choices.offers),
        min((p.choices.best for p in parts if p.choices.best is not None), default=None),
        first.only,
    )
