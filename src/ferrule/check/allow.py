"""`<!-- allow rule: why -->`: the coach sets a check aside, and the reason is kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from difflib import get_close_matches

from ferrule.check.rule import Rule
from ferrule.model.finding import Finding
from ferrule.model.programme import Allow, Programme

_END = 10**9


@dataclass(frozen=True, slots=True)
class Scope:
    """What an allow covers: lines `first` to `last` of the file, and findings without a place when `whole`."""

    allow: Allow
    first: int
    last: int
    whole: bool

    def covers(self, finding: Finding) -> bool:
        if finding.code != self.allow.rule:
            return False
        if finding.span is None:
            return self.whole
        return self.whole or self.first <= finding.span.line <= self.last


def scopes(programme: Programme) -> tuple[Scope, ...]:
    """The reach of every allow: the block, session or cycle that begins next; the whole file above the first cycle."""
    parts = sorted(_parts(programme))
    top = parts[0][0] if parts else _END
    out = []
    for allow in programme.allows:
        line = allow.span.line
        following = next((p for p in parts if p[0] > line), None)
        if line < top or following is None:
            out.append(Scope(allow, 0, _END, line < top))
        else:
            out.append(Scope(allow, *following, False))
    return tuple(out)


def _parts(programme: Programme) -> Iterator[tuple[int, int]]:
    """First and last line of every cycle, session and block."""
    cycles = programme.cycles
    for cycle, cycle_end in zip(cycles, _ends([c.span.line for c in cycles], _END), strict=True):
        yield cycle.span.line, cycle_end
        ends = _ends([s.span.line for s in cycle.sessions], cycle_end)
        for session, session_end in zip(cycle.sessions, ends, strict=True):
            yield session.span.line, session_end
            block_lines = [b.span.line for b in session.blocks]
            yield from zip(block_lines, _ends(block_lines, session_end), strict=True)


def _ends(starts: list[int], last: int) -> list[int]:
    return [*(s - 1 for s in starts[1:]), last] if starts else []


def set_aside(
    findings: Iterable[Finding], programme: Programme, rules: Iterable[Rule], off: frozenset[str] = frozenset()
) -> Iterator[Finding]:
    """The findings with the allowed ones made notes that keep the reason; then what is to say of the allows.

    An error is never set aside: the allow itself is then told. An allow of an unknown rule is advice with the nearest
    name; one that sets nothing aside is a note, unless its rule is `off` anyway.
    """
    levels = {rule.name: rule.level for rule in rules}
    reach = scopes(programme)
    used: set[Allow] = set()
    elsewhere: dict[str, list[int]] = {}
    for finding in findings:
        scope = next((s for s in reach if s.covers(finding)), None)
        if scope is None:
            if finding.span is not None:
                elsewhere.setdefault(finding.code, []).append(finding.span.line)
            yield finding
            continue
        used.add(scope.allow)
        if finding.level == "error":
            yield finding
        else:
            why = scope.allow.why or "no reason written"
            yield replace(finding, level="note", what=f"{finding.what} (allowed: {why})")
    for allow in programme.allows:
        if allow.rule not in levels:
            near = get_close_matches(allow.rule, levels, 1)
            fix = f"Write `{near[0]}`." if near else "See docs/rules.md for the names of the rules."
            what = f"There is no rule called {allow.rule}"
            yield Finding("allow-unknown", "advice", what, "This line sets nothing aside.", fix, allow.span)
        elif levels[allow.rule] == "error":
            what = f"{allow.rule} cannot be set aside"
            why = "It finds what cannot be done or is unsafe."
            yield Finding("allow-error", "advice", what, why, "Mend the line it finds; take this one out.", allow.span)
        elif allow not in used and allow.rule not in off:
            what = f"There is nothing here for {allow.rule} to set aside"
            why = "A reason that outlives its line hides the next finding."
            lines = elsewhere.get(allow.rule, ())
            above = max((n for n in lines if n < allow.span.line), default=min(lines, default=None))
            fix = (
                "Take the line out."
                if above is None
                else f"{allow.rule} is found on line {above}: write this line before it."
            )
            yield Finding("allow-unused", "note", what, why, fix, allow.span)
