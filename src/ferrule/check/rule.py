"""A rule as a value: what it says, why, where it comes from, and the function that finds where it is broken."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from ferrule.check.course import Course
from ferrule.model.finding import Edit, Finding, Level, Span
from ferrule.model.quantity import Range

Strength = Literal["high", "moderate", "low", "common practice"]
"""How strong the evidence is, in the words of docs/rules.md."""

_SESSION = re.compile(r"session ([^:]+): (.+)", re.S)
"""How a hit names its session; the same in several sessions that share their lines is told once."""


@dataclass(frozen=True, slots=True)
class Hit:
    """One place where a rule is broken in one week; equal `what` at one place is told once, with all its weeks.

    what   the sentence, without the week and without a capital: "session 2: ... "
    """

    week: int
    span: Span
    what: str
    fix: str
    related: tuple[Span, ...] = ()
    edits: tuple[Edit, ...] = ()


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule.

    name        kebab-case, stable: the code of its findings and the word in `allow` and `off`
    level       error only for what cannot be done or is unsafe
    says        the rule in one sentence;  why: what it protects
    source      citation with its provenance (seen, from memory), or "common practice, no source"
    thresholds  keys of house rules it reads
    find        Course -> Findings or Hits, in any order; pure
    mends       its findings may carry edits that `ferrule check --fix` makes
    """

    name: str
    level: Level
    says: str
    why: str
    source: str
    strength: Strength
    thresholds: tuple[str, ...]
    find: Callable[[Course], Iterable[Finding | Hit]]
    mends: bool = False

    def run(self, course: Course) -> Iterator[Finding]:
        """The rule's findings, hits of several weeks folded into one, and of several sessions at one place."""
        hits: dict[tuple[Span, str], tuple[Hit, list[int], list[str]]] = {}
        for found in self.find(course):
            if isinstance(found, Finding):
                yield found
                continue
            said = _SESSION.match(found.what)
            key, what = (said[1], said[2]) if said else ("", found.what)
            _, weeks, sessions = hits.setdefault((found.span, what), (found, [], []))
            weeks.append(found.week)
            if key and key not in sessions:
                sessions.append(key)
        for (_, what), (hit, weeks, sessions) in hits.items():
            word = "session" if len(sessions) == 1 else "sessions"
            where = f" {word} {joined(sessions)}:" if sessions else ""
            told = f"{weeks_text(weeks).capitalize()},{where} {what}"
            yield self.finding(told, hit.fix, hit.span, hit.related, hit.edits)

    def finding(
        self, what: str, fix: str, span: Span | None, related: tuple[Span, ...] = (), edits: tuple[Edit, ...] = ()
    ) -> Finding:
        """A finding of this rule."""
        return Finding(self.name, self.level, what, self.why, fix, span, self.source, related, self.strength, edits)


def spread(values: Iterable[float]) -> str:
    """The smallest and the largest of the values in whole numbers: `41`, `41-44`; halves are kept."""
    rounded = [round(2 * v) / 2 for v in values]
    return str(Range(min(rounded), max(rounded)))


def weeks_text(weeks: Iterable[int]) -> str:
    """`week 4`, `weeks 1-3`, `weeks 1, 2 and 5`; numbers sorted, each once."""
    numbers = sorted(set(weeks))
    runs: list[list[int]] = []
    for n in numbers:
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    parts: list[str] = []
    for run in runs:
        parts += [f"{run[0]}-{run[-1]}"] if len(run) > 2 else [str(n) for n in run]
    word = "week" if len(numbers) == 1 else "weeks"
    return f"{word} {joined(parts)}"


def joined(parts: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    words = list(parts)
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else ""
