"""Sites: which kit is at hand on which day, and what several sites have in common."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from ferrule.model.squad import KitItem, Runner, Site

ANY_DAY = (0, 1, 2, 3, 4, 5, 6)


def sites_of(runner: Runner) -> tuple[Site, ...]:
    """The runner's sites, at least one: without names a single one, called "", on every possible day."""
    return runner.sites or (Site("", runner.kit, runner.days or ANY_DAY),)


def site_on(runner: Runner, day: int) -> Site:
    """Where the runner trains on that weekday (Monday 0); the first site on a day that none has."""
    sites = sites_of(runner)
    return next((s for s in sites if day in s.days), sites[0])


def at_site(runner: Runner, site: Site) -> Runner:
    """The runner with the kit of one site on every day."""
    return replace(runner, kit=site.kit, sites=())


def common_kit(kits: Sequence[tuple[KitItem, ...]]) -> tuple[KitItem, ...]:
    """Pieces that each of the kits has, as many as the one with the fewest, in the order of the first.

    Only equal pieces count: a 20 cm step and a 30 cm step have nothing in common.
    """
    if len(kits) == 1:
        return kits[0]
    counts = [_counted(kit) for kit in kits]
    least = {one: min(c[one] for c in counts) for one in counts[0]}
    return tuple(replace(one, count=n) for one, n in least.items() if n)


def _counted(kit: tuple[KitItem, ...]) -> Counter[KitItem]:
    out: Counter[KitItem] = Counter()
    for item in kit:
        out[replace(item, count=1)] += item.count
    return out


def with_pieces(runner: Runner, pieces: Sequence[KitItem], name: str = "") -> Runner:
    """The runner with more kit at the site called `name`; "" is the first. Raises ValueError where they have no such site."""
    sites = sites_of(runner)
    number = 0 if not name else next((n for n, s in enumerate(sites) if s.name.lower() == name.lower()), None)
    if number is None:
        raise ValueError(f"{runner.name} does not train at {name!r}")
    more = replace(sites[number], kit=(*sites[number].kit, *pieces))
    kit = more.kit if number == 0 else runner.kit
    if not runner.sites:
        return replace(runner, kit=kit)
    return replace(runner, kit=kit, sites=(*sites[:number], more, *sites[number + 1 :]))
