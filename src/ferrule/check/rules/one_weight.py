"""One dumbbell has one weight."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import groupby

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.check.rules.kit_needs import kinds_in
from ferrule.model.quantity import number

_ONE = re.compile(r"^\s*(?:one|a|an|1)\s+(?!.*\badjustable\b)", re.I)


def _find(course: Course) -> Iterator[Hit]:
    weights = [n for n in course.programme.needs if kinds_in(n) & {"dumbbell", "kettlebell", "rucksack"}]
    if len(weights) != 1 or not _ONE.match(weights[0]):
        return
    if len({line.item.dose.load.total_kg for line in course.lines if line.item.dose.load}) < 2:
        return
    for week, _, lines in course.sessions():
        for _, same in groupby(lines, key=lambda line: id(line.block)):
            part = list(same)
            if part[0].block.kind not in ("pair", "circuit"):
                continue
            loads = {}
            for line in part:
                kg = line.item.dose.load.total_kg if line.item.dose.load else None
                if kg is not None:
                    loads[line.name] = kg.high
            if len(set(loads.values())) > 1:
                said = " and ".join(f"{number(kg)} kg for {name}" for name, kg in loads.items())
                what = f"{part[0].where}: one round asks {said}, with {weights[0].strip()}"
                fix = "Write one load for the round, straight sets, or a second weight in `needs:`."
                yield Hit(week, part[0].block.span, what, fix)


RULE = Rule(
    name="one-weight",
    level="advice",
    says="A pair or circuit asks one load where `needs:` names one weight.",
    why="Changing plates between two exercises takes the rest that the round is built on.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
