"""As many sessions as promised."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding


def _find(course: Course) -> Iterator[Finding]:
    said = course.programme.sessions_per_week
    if said is None:
        return
    entry = next((e.span for e in course.programme.front if e.key == "sessions"), None)
    for cycle in course.programme.cycles:
        first = next((w for w in course.weeks if w.week == cycle.first_week), None)
        count = int(sum(course.often[first.week, x.key] for x in first.sessions)) if first else len(cycle.sessions)
        if cycle.times_a_week is not None or (course.programme.sessions_at_least and count >= said.low):
            continue
        if not said.low <= count <= said.high:
            what = f"Cycle {cycle.key} has {count} session{'' if count == 1 else 's'}; {said} a week are promised"
            fix = f"Write each session as often as it is done, or `{count} a week` in the head of the cycle."
            yield RULE.finding(what, fix, cycle.span, (entry,) if entry else ())


RULE = Rule(
    name="session-count",
    level="advice",
    says="Each cycle has as many sessions as `sessions:` promises.",
    why="Runners keep that many evenings free, and the fit looks for that many days.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
