"""What a coach reads before signing, as plain values: page and terminal show the same."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from ferrule.deliver.plain import clean, sentence
from ferrule.deliver.repeats import dayless
from ferrule.model.finding import Finding
from ferrule.model.fitted import (
    Away,
    FittedWeek,
    Held,
    Impossible,
    LineSpread,
    Outcome,
    SquadWeek,
)

_NUMBERS = re.compile(r"(.*?): (\d.*)")


@dataclass(frozen=True, slots=True)
class Look:
    """A runner to look at first. kind: a few words; lines: why; ways: ways out, with whether each was tried."""

    who: str
    kind: str
    lines: tuple[str, ...]
    ways: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Moved:
    """Runners who do the same thing instead, for the same reason."""

    instead: str
    why: str
    who: tuple[str, ...]
    way: str = ""

    @property
    def said(self) -> str:
        """`6 to Press-up, hands raised (easier)`, `1 left out`."""
        if self.instead == "left out":
            return f"{len(self.who)} left out"
        return f"{len(self.who)} to {self.instead}" + (f" ({self.way})" if self.way else "")


def who(outcome: Outcome) -> str:
    """`R07 Runner 07`, or one of the two when they say the same."""
    name, key = clean(outcome.runner_name), clean(outcome.runner_id)
    return name if not key or key == name else f"{key} {name}"


def weeks(squad: SquadWeek) -> tuple[FittedWeek, ...]:
    """The outcomes that are a week, in the order of the squad."""
    return tuple(o for o in squad.outcomes if isinstance(o, FittedWeek))


def counts(squad: SquadWeek) -> str:
    """`12 runners: 9 with a week, 1 without a possible week, 1 held, 1 away.`"""
    n = Counter(type(o) for o in squad.outcomes)
    parts = [
        f"{n[kind]} {word}"
        for kind, word in (
            (FittedWeek, "with a week"),
            (Impossible, "without a possible week"),
            (Held, "held"),
            (Away, "away"),
        )
        if n[kind]
    ]
    return f"{_many(len(squad.outcomes), 'runner')}: {', '.join(parts)}." if parts else "No runners."


def budget(squad: SquadWeek) -> str:
    """Departures against the number the coach is willing to read."""
    over = squad.departures - squad.change_budget
    said = f"{_many(squad.departures, 'departure')} from your text; you are willing to read {squad.change_budget}"
    return f"{said}: {over} too many." if over > 0 else f"{said}."


def _many(n: int, noun: str) -> str:
    return f"{n} {noun}" + ("" if n == 1 else "s")


def first_looks(squad: SquadWeek) -> tuple[Look, ...]:
    """Impossible, then held, then sessions without a day, then away; in the squad's order inside each."""
    none, held, some, away = [], [], [], []
    for outcome in squad.outcomes:
        if isinstance(outcome, Impossible):
            lines = tuple(_reason(f, with_fix=not outcome.ways_out) for f in outcome.reasons)
            ways = tuple(f"{clean(w.text)} ({'tried: it works' if w.tried else 'not tried'})" for w in outcome.ways_out)
            none.append(Look(who(outcome), "no possible week", lines, ways))
        elif isinstance(outcome, Held):
            held.append(Look(who(outcome), "held: you write", (sentence(outcome.reason),)))
        elif isinstance(outcome, Away):
            away.append(Look(who(outcome), "away", (sentence(outcome.reason),)))
        elif outcome.rest_sessions:
            lines = tuple(f"{d.said}: {sentence(d.why)}" for d in dayless(outcome.rest_sessions, by_reason=True))
            some.append(Look(who(outcome), "a session has no day", lines))
    return (*none, *held, *some, *away)


def _reason(finding: Finding, *, with_fix: bool) -> str:
    """What and why; what to do only where no way out was worked out, for those say it better."""
    said = (finding.what, finding.why, finding.fix if with_fix else "")
    return " ".join(s for s in map(sentence, said) if s)


def moved(spread: LineSpread) -> tuple[Moved, ...]:
    """Who was moved to what, and why; those with the same answer together, in the order they come.

    Reasons that differ only in their numbers are one, told without them: each runner's own are under the departures.
    The line's own name stands above them and is not said again.
    """
    groups: dict[tuple[str, str, str], list[tuple[str, str]]] = {}
    ways = dict(spread.ways)
    named = re.compile(re.escape(clean(spread.written).split(":")[0]) + r"(?:: | left out: | left out, )")
    for runner, instead, why in spread.moved:
        said = named.sub("", clean(why), count=1) if named.match(clean(why)) else clean(why)
        key = (clean(instead), kind_and_numbers(said)[0], ways.get(runner, ""))
        groups.setdefault(key, []).append((clean(runner), said))
    return tuple(
        Moved(
            instead,
            sentence(told[0][1] if len({why for _, why in told}) == 1 else kind),
            tuple(runner for runner, _ in told),
            way,
        )
        for (instead, kind, way), told in groups.items()
    )


def kind_and_numbers(why: str) -> tuple[str, str]:
    """`too hard: 1-24 likely possible` as its kind and its numbers; a reason of another build has no numbers."""
    found = _NUMBERS.fullmatch(why)
    return (found[1], found[2]) if found else (why, "")


def cycle_words(week: FittedWeek) -> str:
    """The name of the runner's cycle, to tell lines apart where the squad is not in one cycle."""
    return clean(week.cycle_name)


def by_cycle(squad: SquadWeek) -> tuple[tuple[str, LineSpread], ...]:
    """The lines, each with the name of its cycle; the name is empty while the whole squad is in one cycle."""
    cycles = {w.runner_id: cycle_words(w) for w in weeks(squad)}
    if len(set(cycles.values())) < 2:
        return tuple(("", spread) for spread in squad.spread)
    told = []
    for spread in squad.spread:
        here = (*spread.too_easy, *spread.right, *spread.too_hard, *spread.cannot)
        told.append((next((cycles[r] for r in here if r in cycles), ""), spread))
    return tuple(told)


def right_for_all(spread: LineSpread) -> bool:
    """Nobody meets the line otherwise than meant, and nobody was moved."""
    return bool(spread.right) and not (spread.too_easy or spread.too_hard or spread.cannot or spread.moved)


def right_lines(spreads: Iterable[LineSpread]) -> str:
    """`Right for all 20: W1 Ankle rock: 8/side; W2 Foot dome: 6.`; empty when there are none."""
    groups: dict[int, list[str]] = {}
    for s in spreads:
        if right_for_all(s):
            groups.setdefault(len(s.right), []).append(f"{clean(s.item_key)} {clean(s.written)}")
    return " ".join(f"Right for all {n}: {'; '.join(lines)}." for n, lines in groups.items())
