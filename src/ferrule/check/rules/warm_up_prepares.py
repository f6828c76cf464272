"""A warm-up that prepares what follows."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import AREA_OF, LEG_AREAS, Area, Course, Line
from ferrule.check.rule import Hit, Rule, joined
from ferrule.model.words import REGION_GROUPS


def _areas(line: Line) -> set[Area]:
    """Every area a line moves: its own, those it asks of, and those of its regions."""
    out = {line.area} if line.area else set()
    if line.variant:
        out |= {AREA_OF[a.group] for a in line.variant.asks}
        out |= {AREA_OF[g] for r in line.variant.regions for g in REGION_GROUPS[r]}
    return out


def _find(course: Course) -> Iterator[Hit]:
    moved: dict[str, set[Area]] = {}
    for week, session, lines in course.sessions():
        warm = [line for line in lines if line.block.kind == "warm-up"]
        work = [line for line in lines if not line.warm]
        if not any(line.hard_leg or line.impact for line in work):
            continue
        if not warm and not course.warm_ups:
            continue
        if any(line.unknown for line in warm) or course.warm_ups.get(session.span) is False:
            continue  # a jog, some minutes: it may prepare everything
        if not warm:
            yield Hit(week, session.span, f"session {session.key} has no warm-up", "Begin with a round of easy drills.")
            continue
        ready: set[Area] = set()
        for line in warm:
            key = line.variant.id if line.variant else line.name
            if key not in moved:
                moved[key] = _areas(line)
            ready |= moved[key]
        needed = [
            a for a in LEG_AREAS if any(line.hard and line.area == a for line in work[: len(work[0].block.items)])
        ]
        if any(line.impact >= 2 for line in work) and "calf" not in needed:
            needed.append("calf")
        missing = [a for a in needed if a not in ready]
        if missing:
            what = f"session {session.key}: the warm-up does not prepare {joined(missing)}, which come first"
            yield Hit(week, warm[0].block.span, what, "Add a drill for it, such as an easier variant without weight.")


RULE = Rule(
    name="warm-up-prepares",
    level="advice",
    says="Where warm-ups are written, each session with leg work has one, and it moves the parts of the leg its first block works.",
    why="The first hard set should not be the first time the joint moves under load that day.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
