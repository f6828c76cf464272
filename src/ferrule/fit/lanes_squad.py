"""Lanes coupled with the runners' own fits: chosen over the squad, then every runner outside them is fitted again inside."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Protocol, TypeVar

from ferrule.fit.lanes import Allowed, Lanes, LineKey, Price, choose_lanes
from ferrule.model.fitted import FittedItem, FittedWeek, LineLanes, Outcome, SquadLanes

LinePrices = Mapping[LineKey, Mapping[str, Price]]
"""What each variant would cost one runner on each line (`build.offered`)."""
Line = tuple[str, str]
"""Session key (once, however often it is done in the week) and line key."""


class Fitted(Protocol):
    """One runner's outcome, and the prices of what they could have done."""

    @property
    def outcome(self) -> Outcome: ...
    @property
    def prices(self) -> LinePrices: ...


F = TypeVar("F", bound=Fitted)
Refit = Callable[[Mapping[str, Allowed]], Iterable[tuple[str, F]]]
"""Fits the runners named again, each held to what is allowed; yields (runner id, result)."""


@dataclass(frozen=True, slots=True)
class Plan:
    """The lanes of every line. allowed: line -> variants;  chosen: lines that wanted more than `most`, with their lanes."""

    most: int
    allowed: Mapping[LineKey, frozenset[str]] = field(default_factory=dict)
    chosen: Mapping[LineKey, Lanes] = field(default_factory=dict)

    def for_runner(self, runner_id: str) -> Allowed:
        """What one runner is held to: a line none of whose lanes serves them is free."""
        free = {k for k, lanes in self.chosen.items() if runner_id in lanes.exceptions}
        return {k: v for k, v in self.allowed.items() if k not in free}


def plan_lanes(fitted: Mapping[str, Fitted], most: int) -> Plan:
    """Lanes for the squad as it was fitted one by one.

    A line that wants no more than `most` variants has what it wants, and the written one where there is room: that is
    the least departure there can be. Every other line's lanes are chosen exactly, over the runners who do the line.
    """
    wants: dict[LineKey, dict[str, str]] = {}
    for runner_id, one in fitted.items():
        for key, variant_id in _done(one).items():
            wants.setdefault(key, {})[runner_id] = variant_id
    allowed: dict[LineKey, frozenset[str]] = {}
    chosen: dict[LineKey, Lanes] = {}
    for key, wanted in wants.items():
        variants = frozenset(wanted.values()) - {""}
        if len(variants) > most:
            chosen[key] = choose_lanes({r: fitted[r].prices[key] for r in wanted}, most)
            allowed[key] = frozenset(chosen[key].variants)
        elif len(variants) == most:
            allowed[key] = variants
        else:
            first = [_cheapest(fitted[r].prices[key]) for r in wanted if fitted[r].prices[key]]
            allowed[key] = variants | frozenset(sorted(first, key=lambda f: f[0])[0][1:] if first else ())
    return Plan(most, allowed, chosen)


def _cheapest(prices: Mapping[str, Price]) -> tuple[Price, str]:
    """The variant nearest to the text that this runner may do."""
    return min((price, variant_id) for variant_id, price in prices.items())


def hold_to_lanes(fitted: Mapping[str, F], refit: Refit[F], most: int) -> tuple[dict[str, F], dict[str, Allowed], Plan]:
    """(outcomes inside the lanes, what each runner is held to, the plan).

    Only runners who do something outside the lanes are fitted again: for the others the best of all choices is the best
    of the lanes too. Where the lanes would cost a runner a line, that line becomes an exception; where that does not
    help, the runner keeps the week they had.
    """
    plan = plan_lanes(fitted, most)
    out = dict(fitted)
    held = {r: plan.for_runner(r) for r in fitted}
    todo = {r: held[r] for r, one in fitted.items() if _outside(one, held[r])}
    for last in (False, True):
        freed: dict[str, Allowed] = {}
        for runner_id, result in refit(todo) if todo else ():
            lost = lines_of(fitted[runner_id].outcome) - lines_of(result.outcome)
            if not lost:
                out[runner_id] = result
            elif last:
                held[runner_id] = {}
            else:
                freed[runner_id] = {k: v for k, v in held[runner_id].items() if k[1:] not in lost}
        held |= freed
        todo = freed
    return out, held, plan


def lines_of(outcome: Outcome) -> frozenset[Line]:
    """The lines a fitted week holds."""
    return frozenset((s, i.item_key) for s, i in _items(outcome))


def _items(outcome: Outcome) -> Iterator[tuple[str, FittedItem]]:
    if isinstance(outcome, FittedWeek):
        for session in outcome.sessions:
            for block in session.blocks:
                for item in block.items:
                    yield session.key.split(" (")[0], item


def _done(one: Fitted) -> dict[LineKey, str]:
    """Line -> the variant this runner does."""
    full = {k[1:]: k for k in one.prices}
    return {full[s, i.item_key]: i.variant_id for s, i in _items(one.outcome) if (s, i.item_key) in full}


def _outside(one: Fitted, allowed: Allowed) -> bool:
    return any(v and key in allowed and v not in allowed[key] for key, v in _done(one).items())


def told(plan: Plan, before: Mapping[str, Fitted], after: Mapping[str, Fitted]) -> SquadLanes:
    """What the lanes come to, for the coach. before: each runner fitted alone."""
    return SquadLanes(
        most=plan.most,
        lines=tuple(_line(key, lanes, before, after) for key, lanes in plan.chosen.items()),
        text=_level(after, "coach's text"), effort=_level(after, "effort"), departures=_departures(after),
        free_text=_level(before, "coach's text"), free_effort=_level(before, "effort"),
        free_departures=_departures(before),
    )  # fmt: skip


def _line(key: LineKey, lanes: Lanes, before: Mapping[str, Fitted], after: Mapping[str, Fitted]) -> LineLanes:
    who: dict[str, list[str]] = {v: [] for v in lanes.variants}
    names: dict[str, str] = {}
    written, exceptions = "", []
    wanted = {v for one in before.values() for k, v in _done(one).items() if k == key and v}
    for runner_id, one in after.items():
        full = {k[1:]: k for k in one.prices}
        item = next((i for s, i in _items(one.outcome) if full.get((s, i.item_key)) == key), None)
        if item is None:
            continue
        written, names[item.variant_id] = item.written, item.name
        if item.variant_id in who:
            who[item.variant_id].append(runner_id)
        elif item.variant_id:
            exceptions.append((runner_id, item.name))
    done = tuple((v, names[v], tuple(ids)) for v, ids in who.items() if ids)
    return LineLanes(*key, written, done, len(wanted), tuple(exceptions), lanes.gap)


def _level(fitted: Mapping[str, Fitted], level: str) -> float:
    weeks = [one.outcome for one in fitted.values() if isinstance(one.outcome, FittedWeek)]
    return round(sum(p.value for w in weeks for p in w.prices if p.level == level), 2)


def _departures(fitted: Mapping[str, Fitted]) -> int:
    return len({(r, s, i.item_key) for r, one in fitted.items() for s, i in _items(one.outcome) if i.departs})
