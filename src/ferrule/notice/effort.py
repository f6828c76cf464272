"""Effort far off: the reserve told after a line's last set lies far from the one that was meant, on many lines.

One or two such lines need no word: next week's fit has read them. Many in one direction say that something else is the matter.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from ferrule.model.entry import LoggedSet
from ferrule.model.fact import WeekTold
from ferrule.model.fitted import FittedItem
from ferrule.model.quantity import Range, number
from ferrule.notice.told import Due, Told, on
from ferrule.squad.place import monday_of

WINDOW_DAYS = 14
"""How far back lines are counted: two weeks, so that each line of a usual week comes twice (common practice, no source)."""

NO_END = 1000.0
"""A reserve that is meant to be this or more has no upper end: warm-up lines ask for no effort."""


@dataclass(frozen=True, slots=True)
class Off:
    """One line of one day. by: how much further from failure than meant, reps (negative: nearer; 0: as meant); None for a failed
    set."""

    day: date
    line: str
    by: float | None
    words: str

    @property
    def easier(self) -> bool:
        return self.by is not None and self.by > 0


def effort(told: Told) -> Iterator[Due]:
    """At most one row. Easier than meant does not count in a finding week, which is meant to be easy."""
    answer = told.last_answer("effort:")
    first = max(told.now - timedelta(days=WINDOW_DAYS - 1), answer + timedelta(days=1) if answer else date.min)
    found = list(_lines(told, first))
    off = [o for o in found if o.by is None or abs(o.by) >= told.house.value("effort-off-rir")]
    many = len({o.line for o in found}) * told.house.value("effort-off-percent") / 100
    felt = [e.fact for e in told.said if isinstance(e.fact, WeekTold) and e.fact.felt and e.fact.monday >= first]
    for easier, word in ((False, "too hard"), (True, "too easy")):
        lines = [o for o in off if o.easier == easier]
        weeks = [w for w in felt if w.felt == word]
        enough = len({o.line for o in lines}) >= max(many, told.house.value("effort-off-lines"))
        if enough or len(weeks) > 1 or (weeks and lines):
            facts = sorted(
                [
                    *((o.day, f"{on(o.day)}, {o.words}") for o in lines),
                    *((w.monday, f"week of {on(w.monday)}: {word}") for w in weeks),
                ]
            )
            draft = _draft(told, easier)
            yield told.due("effort far off", facts[0][0], (f for _, f in facts), draft, (f"effort:{facts[-1][0]}",))
            return


def _draft(told: Told, easier: bool) -> tuple[str, str]:
    if easier:
        return (
            f"{told.name}, you had more left than I meant.",
            "I will look at next week with that in mind; tell me if it was only a good day.",
        )
    return (
        f"{told.name}, that was harder than I meant.",
        "Take the easier way printed on your sheet when it happens. Did you sleep and eat as usual? I will look at next week with that in mind.",
    )


def _lines(told: Told, first: date) -> Iterator[Off]:
    """The last told set of each line and day, beside what was meant."""
    meant = {
        (week.monday, session.key, item.item_key): (item, week.finding_week)
        for week in told.weeks
        for session in week.sessions
        for block in session.blocks
        for item in block.items
    }
    last: dict[tuple[date, str, str], LoggedSet] = {}
    for entry in told.entries:
        fact = entry.fact
        if not isinstance(fact, LoggedSet) or fact.day < first or fact.stopped is not None:
            continue
        if fact.reserve is not None or fact.outcome == "failed":
            last[fact.day, fact.session_key, fact.item_key] = fact
    for (day, session, line), told_set in last.items():
        item, finding = meant.get((monday_of(day), session, line), (None, False))
        intended = None if item is None else _intended(item)
        if item is None or intended is None:
            continue
        found = _off(told_set, item, intended)
        if not (finding and found.easier):
            yield found


def _intended(item: FittedItem) -> Range | None:
    """The reserve that was meant, where the line has one."""
    if item.hold_s is not None:
        return None  # a hold's reserve is in seconds, and "how many more?" is not asked of it
    return item.prediction.intended if item.prediction else item.rir


def _off(told_set: LoggedSet, item: FittedItem, intended: Range) -> Off:
    """How far one set lies from what was meant. Repetitions short of those asked for count as reserve that was not there.

    Another exercise than the one sent says nothing here; nor does a lighter weight that left more, a heavier that left less.
    """
    as_meant = Off(told_set.day, item.item_key, 0.0, "")
    reserve = told_set.reserve
    if told_set.variant_id != item.variant_id:
        return as_meant
    meant = f"meant {_range(intended)}"
    heavier = told_set.load_kg - item.load.kg if item.load and item.load.band is None else 0.0
    if told_set.outcome == "failed":
        words = f"{item.name}: a set failed, {meant} left"
        return as_meant if heavier > 0 else Off(told_set.day, item.item_key, None, words)
    if reserve is None:
        return as_meant
    said = f"{reserve.low} or more" if reserve.high is None else number(reserve.low)
    short = max(0.0, told_set.asked - told_set.done) if told_set.asked and told_set.done is not None else 0.0
    words = f"{item.name}: {said} left" + (f" and {number(short)} short" if short else "") + f", {meant}"
    low, high = reserve.low - short, None if reserve.high is None else reserve.high - short
    if low > intended.high and heavier >= 0:
        return Off(told_set.day, item.item_key, low - intended.high, words)
    if high is not None and high < intended.low and heavier <= 0:
        return Off(told_set.day, item.item_key, high - intended.low, words)
    return as_meant


def _range(meant: Range) -> str:
    """`2`, `2-3`, `at least 5` where no reserve is too much."""
    if meant.high >= NO_END:
        return f"at least {number(meant.low)}"
    return number(meant.low) + (f"-{number(meant.high)}" if meant.high > meant.low else "")
