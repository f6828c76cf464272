"""Totals that the words state are the totals of the lines."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence

from ferrule.check.course import Course, Line
from ferrule.check.rule import Rule, weeks_text
from ferrule.model.finding import Finding, Span
from ferrule.model.quantity import Range, number

_NUMBERS = {
    w: n
    for n, w in enumerate(
        ["two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"], 2
    )
}
_TOTAL = re.compile(
    rf"\b(\d{{1,5}}|{'|'.join(_NUMBERS)})(?:\s*(?:-|to)\s*(\d{{1,5}}))?\s+(sessions|reps|repetitions|contacts|contractions|sets|seconds|s|min|minutes)\s+"
    r"(?:of work\s+)?(in all|in total|altogether|a session|per session|each session|every session|a day|per day|"
    r"every day|a week|per week|each week|every week|in \d{1,3} weeks)\b",
    re.I,
)
_SLACK = 0.05
"""Share of a stated time that is let through: seconds are rounded when they are told."""


def _reps(line: Line) -> Range | None:
    dose = line.item.dose
    sided = dose.sides is None and line.variant is not None and line.variant.sided
    sides = 2 if dose.sides == "each" or sided else 1
    if dose.sore_side_only:
        sides = 1
    if dose.per_set:
        return Range.of(sum(dose.per_set) * sides)
    if dose.left is not None or dose.right is not None:
        return Range.of(line.sets * ((dose.left or 0) + (dose.right or 0)))
    if dose.reps is None or dose.reps_open == "max":
        return None
    return Range(line.sets * dose.reps.low * sides, line.sets * dose.reps.high * sides)


def _contacts(line: Line) -> Range | None:
    if line.unknown:
        return None
    return Range.of(line.contacts) if line.impact else Range.of(0)


def _sets(line: Line) -> Range | None:
    return Range.of(line.sets)


def _seconds(line: Line) -> Range | None:
    """Work and the rest behind each set, as trials of short bouts count it."""
    dose = line.item.dose
    rest = dose.rest_s or line.block.rest_s
    if not (dose.work_s or dose.hold_s) or rest is None:
        return None
    return Range.of(line.sets * (line.seconds + rest.middle))


_COUNT: dict[str, Callable[[Line], Range | None]] = {
    "reps": _reps, "repetitions": _reps, "contractions": _reps, "contacts": _contacts, "sets": _sets,
    "s": _seconds, "seconds": _seconds, "min": _seconds, "minutes": _seconds,
}  # fmt: skip


def _sum(lines: Iterable[Line], count: Callable[[Line], Range | None], times: Callable[[Line], float]) -> Range | None:
    """Least and most; None where one of the lines does not say how many."""
    low = high = 0.0
    for line in lines:
        part = count(line)
        if part is None:
            return None
        low, high = low + part.low * times(line), high + part.high * times(line)
    return Range(low, high)


def _weekly(span: str) -> bool:
    return span.endswith("week")


def _a_day(line: Line) -> float:
    return 2.0 if line.session.twice_a_day else 1.0


def _places(course: Course) -> Iterator[tuple[str, Span, Sequence[Line], Sequence[int]]]:
    """Words, where they stand, and the lines and weeks they speak of."""
    programme = course.programme
    weeks = list(course.by_week)
    for entry in programme.front:
        if entry.key not in ("sessions", "needs", "weeks"):
            yield entry.value, entry.span, course.lines, weeks
    if programme.cycles:
        yield " \n".join(programme.notes), programme.cycles[0].span, course.lines, weeks
    for cycle in programme.cycles:
        own = [w for w in weeks if cycle.first_week <= w <= cycle.last_week]
        lines = [line for w in own for line in course.by_week[w]]
        yield " \n".join((cycle.name, cycle.aim, *cycle.notes)), cycle.span, lines, own
        for session in cycle.sessions:
            text = " \n".join((session.name, *session.notes))
            if any(character.isdigit() for character in text):
                yield text, session.span, [x for x in lines if x.session.key == session.key], own


def _totals(course: Course, lines: Sequence[Line], weeks: Sequence[int], unit: str, span: str) -> dict[int, Range]:
    """The total of each week (0: of all) that the words could mean."""
    if unit == "sessions":
        counts = {w: sum(n for (at, _), n in course.often.items() if at == w) for w in weeks}
        return {w: Range.of(n) for w, n in counts.items()} if _weekly(span) else {0: Range.of(sum(counts.values()))}
    count = _COUNT[unit]
    if "session" in span or "day" in span:
        out: dict[int, Range] = {}
        for week in weeks:
            keys = {x.session.key for x in lines if x.week == week}
            for key in keys:
                part = [x for x in lines if x.week == week and x.session.key == key]
                total = _sum((x for x in part if not x.warm), count, lambda x: _a_day(x) if "day" in span else 1.0)
                if total is not None:
                    out[week] = total
        return out
    if _weekly(span):
        sums = {w: _sum((x for x in lines if x.week == w and not x.warm), count, lambda x: x.times) for w in weeks}
        return {w: r for w, r in sums.items() if r is not None}
    total = _sum((x for x in lines if not x.warm), count, lambda x: x.times)
    return {} if total is None else {0: total}


def _fields(course: Course) -> Iterator[Finding]:
    """Totals that a head states: contacts of a session, repetitions of a block."""
    told: set[Span] = set()
    for week, session, lines in course.sessions():
        work = [x for x in lines if not x.warm]
        stated = session.contacts if session.contacts_open != "from" else None
        made = _sum(work, _contacts, lambda _: 1.0) if stated and session.span not in told else None
        if stated and made and (made.low > stated.high or (session.contacts_open is None and made.high < stated.low)):
            told.add(session.span)
            what = f"Session {session.key} says {stated} contacts, its lines make {_text(made)} in week {week}"
            yield RULE.finding(what, "Mend the head or the lines.", session.span)
        for block in session.blocks:
            if block.reps_in_all is None or block.span in told:
                continue
            made = _sum((x for x in work if x.block is block), _reps, lambda _: 1.0)
            if made and (made.low > block.reps_in_all.high or made.high < block.reps_in_all.low):
                told.add(block.span)
                what = f"The block says {block.reps_in_all} repetitions in all, its lines make {_text(made)} in week {week}"
                yield RULE.finding(what, "Mend the head or the lines.", block.span)


def _find(course: Course) -> Iterator[Finding]:
    yield from _fields(course)
    for text, at, lines, weeks in _places(course):
        for found in _TOTAL.finditer(text):
            unit, span = found[3].lower(), found[4].lower()
            scale = 60 if unit.startswith("min") else 1
            first = _NUMBERS.get(found[1].lower()) or int(found[1])
            low, high = scale * first, scale * int(found[2] or first)
            slack = _SLACK * high if _COUNT.get(unit) is _seconds else 0.0
            totals = _totals(course, lines, weeks, unit, span)
            wrong = {w: r for w, r in totals.items() if r.high < low - slack or r.low > high + slack}
            if not wrong:
                continue
            made = next(iter(wrong.values()))
            where = f"; {weeks_text(w for w in wrong)}" if 0 not in wrong else ""
            word = "s" if scale == 60 else found[3]
            what = f"`{' '.join(found[0].split())}` is said, the lines make {_text(made)} {word}{where}"
            yield RULE.finding(what, "Mend the words or the lines.", at)


def _text(total: Range) -> str:
    low, high = number(round(total.low, 1)), number(round(total.high, 1))
    return low if low == high else f"{low}-{high}"


RULE = Rule(
    name="stated-totals",
    level="advice",
    says="A total that the words state (`27 sessions in all`, `60 contacts a session`) is the total of the lines.",
    why="One of the two is a slip, and nobody can tell which when it is read a year later.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
