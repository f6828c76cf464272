"""A condition can come true."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding
from ferrule.model.quantity import number

_WHEN = ("all reps", "reps over", "easy")


def _find(course: Course) -> Iterator[Finding]:
    times: dict[str, float] = {}
    for line in course.lines:
        if not line.warm:
            times[line.name] = times.get(line.name, 0.0) + line.times
    seen: set[int] = set()
    for line in course.lines:
        if id(line.item) in seen or not line.item.conditions:
            continue
        seen.add(id(line.item))
        for condition in line.item.conditions:
            wanted, comes = condition.sessions, times[line.name]
            if condition.acts and condition.when in _WHEN and wanted >= comes and wanted > 1:
                what = f"{line.name} comes {number(comes)} times in all, so {wanted} sessions never count"
                fix = "Ask for fewer sessions, or bring the exercise more often."
                yield RULE.finding(what, fix, condition.span, (line.item.span,))


RULE = Rule(
    name="condition-reached",
    level="advice",
    says="`when all reps for N sessions` stands under an exercise that comes more than N times.",
    why="A progression that can never begin looks like one and is none.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
