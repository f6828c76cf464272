"""The sentences of the review of a cycle: plain counts, no praise, no blame, no gain that cannot be told from error."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date

from ferrule.capacity.detectable import Change, ChangeOfTest
from ferrule.capacity.explain import GROUP_WORDS
from ferrule.deliver.amounts import short_date
from ferrule.deliver.plain import clean, lowered
from ferrule.deliver.review_facts import LineReview, LineWeek, Outcome, RunnerReview, SessionReview
from ferrule.model.entry import TimeAway
from ferrule.model.fact import PainTold, WeekTold
from ferrule.model.fitted import ReasonCode
from ferrule.model.quantity import number
from ferrule.model.red_flags import SIGNS
from ferrule.model.words import Side
from ferrule.programme.change import weeks_text
from ferrule.squad.place import monday_of

CODE_WORDS: dict[ReasonCode, str] = {
    "kit": "no kit for it",
    "limit": "a limit",
    "sore": "a sore place",
    "wish": "a wish of theirs",
    "too hard": "too hard as written",
    "too easy": "too easy as written",
    "risk": "the chance of failing where failing can hurt",
    "contacts": "too many foot contacts",
    "minutes": "the minutes",
    "days": "the days",
    "lane": "one of few versions for the squad",
}
"""Why a line was done otherwise, in a word."""

OUTCOME_WORDS: dict[Outcome, str] = {
    "did": "done",
    "part": "in part",
    "none": "not done",
    "not told": "nothing told",
}
WHY_WORDS = {
    "": "",
    "time": "no time",
    "ill": "ill",
    "pain": "pain",
    "away": "away",
    "kit": "no kit",
    "other": "another reason",
}
FELT_WORDS = {"too easy": "too easy", "right": "right", "too hard": "too hard", None: ""}

GAIN_RULE = (
    "A change is told only when it is larger than the error of both readings (95 %), never below 12 %. "
    "What cannot be told apart from error is not called a gain, nor a loss."
)


def many(n: int, noun: str) -> str:
    """`1 session`, `12 sessions`."""
    return f"{n} {noun}" + ("" if n == 1 else "s")


def period(review: RunnerReview) -> str:
    """`5 January to 1 February 2026, weeks 1 to 4`."""
    numbers = [c.week.programme_week for c in review.weeks]
    weeks = f"week {numbers[0]}" if len(numbers) == 1 else f"weeks {min(numbers)} to {max(numbers)}"
    return f"{short_date(review.first)} to {short_date(review.last)} {review.last.year}, {weeks}"


def counts(review: RunnerReview) -> str:
    """`12 sessions were sent: 9 done, 1 in part, 2 of which nothing was told.`"""
    parts = [f"{n} {OUTCOME_WORDS[o]}" for o in ("did", "part", "none") if (n := review.count(o))]
    untold = review.count("not told")
    if untold:
        parts.append(f"{untold} of which nothing was told")
    return f"{many(len(review.sessions), 'session')} {'was' if len(review.sessions) == 1 else 'were'} sent: {', '.join(parts)}."


def session_cell(session: SessionReview) -> str:
    """`done, 10 of 12 sets told, rated 6, 35 min`; `not done: ill`."""
    text = OUTCOME_WORDS[session.outcome]
    if why := WHY_WORDS[session.why]:
        text += f": {why}"
    if session.told and session.outcome != "none":
        text += f", {session.told} of {session.sets} sets told"
    if session.rating is not None:
        text += f", rated {session.rating}"
    if session.minutes is not None:
        text += f", {number(round(session.minutes))} min"
    return text + (f". “{clean(session.words)}”" if session.words else "")


def week_told(week: WeekTold) -> str:
    """`Week of 12 January: did some; too hard; pain.`"""
    parts = [f"did {'none of it' if week.did == 'none' else week.did}", FELT_WORDS[week.felt]]
    parts.append({True: "pain", False: "no pain", None: ""}[week.pain])
    said = f"Week of {short_date(week.monday)}: {'; '.join(p for p in parts if p)}."
    return said + (f" “{clean(week.words)}”" if week.words else "")


def line_told(line: LineReview) -> tuple[str, str]:
    """What was asked from the first to the last week; what was told, and what was left at the end of a set."""
    first, last = line.weeks[0], line.weeks[-1]
    asked = (
        first.asked
        if first.asked == last.asked
        else f"{first.asked} (week {first.week}), {last.asked} (week {last.week})"
    )
    of = sum(len(w.item.per_set) or w.item.sets for w in line.weeks)
    done = sum(min(w.done, len(w.item.per_set) or w.item.sets) for w in line.weeks)
    told = f"{done} of {of} sets" if done else "nothing told"
    told += _left([w for w in line.weeks if w.reserves])
    failed, stopped = sum(w.failed for w in line.weeks), sum(w.stopped for w in line.weeks)
    told += f"; {many(failed, 'set')} not managed" if failed else ""
    told += f"; {many(stopped, 'set')} ended early by pain" if stopped else ""
    return asked, told


def _left(weeks: Sequence[LineWeek]) -> str:
    """`; left at the end: 4 or more in week 1, 2 in week 4`: the least of each of the two weeks."""
    if not weeks:
        return ""
    ends = [weeks[0]] if len(weeks) == 1 else [weeks[0], weeks[-1]]
    said = (f"{'4 or more' if min(w.reserves) >= 4 else min(w.reserves)} in week {w.week}" for w in ends)
    return f"; left at the end: {', '.join(said)}"


def ways(line: LineReview) -> tuple[tuple[str, str, tuple[int, ...]], ...]:
    """What was done instead of a written line: the exercise with what was asked of it, why in a word, and in which weeks.

    Reasons are told by their kind: their sentences are written for the coach and stand on the page that was signed.
    """
    found: dict[tuple[str, str], list[int]] = {}
    for week in line.moved:
        why = ", ".join(dict.fromkeys(CODE_WORDS.get(r.code, r.code) for r in week.item.reasons if r.departs))
        found.setdefault((f"{clean(week.item.name)}, {week.asked}", why), []).append(week.week)
    return tuple((way, why, tuple(weeks)) for (way, why), weeks in found.items())


def weeks_words(weeks: Sequence[int]) -> str:
    """`weeks 1-3, 5`."""
    return lowered(weeks_text(sorted(set(weeks))))


def change_words(change: Change) -> str:
    """`about 18 % more (likely 13 to 24 %)`; or that it cannot be told from error, and how much it would take."""
    low, middle, high = change.percent
    if change.verdict == "more":
        return f"about {middle:.0f} % more (likely {low:.0f} to {high:.0f} %)"
    if change.verdict == "less":
        return f"about {-middle:.0f} % less (likely {-high:.0f} to {-low:.0f} %)"
    if change.verdict == "no information":
        return "no information: nothing was told of it"
    return f"no change that can be told from error (it would take about {change.detectable_percent:.0f} %)"


def group_words(change: Change) -> str:
    """The group with a capital."""
    words = GROUP_WORDS[change.group]
    return words[0].upper() + words[1:]


def test_words(test: ChangeOfTest) -> str:
    """`heel raises: 22 on 5 January, 29 on 1 February: more than its error of 6`."""
    unit = " s" if test.kind in ("front plank", "side plank") else ""
    side = "" if test.first.side == "both" else f", {test.first.side}"
    said = (
        f"{test.kind}{side}: {number(test.first.value)}{unit} on {short_date(test.first.day)}, "
        f"{number(test.last.value)}{unit} on {short_date(test.last.day)}"
    )
    if test.detectable is None:
        return f"{said}; the error of this test is not known, so nothing is claimed."
    least = f"{number(round(test.detectable, 1))}{unit}"
    if test.verdict == "no change told":
        return f"{said}; no change that can be told from error (it would take more than {least})."
    return f"{said}; {test.verdict}, by more than the error of two tests ({least})."


def place_words(region: str | None, side: Side) -> str:
    """`left calf`; `calf, both sides`."""
    if region is None:
        return "place not told"
    return f"{region}, both sides" if side == "both" else f"{side} {region}"


def pain_words(pain: PainTold) -> str:
    """`4 of 10 during, 2 the next morning; calf that is swollen or warm; their words`."""
    parts = ["during: not told" if pain.worst is None else f"{pain.worst} of 10 during"]
    parts.append("next morning: not told" if pain.morning is None else f"{pain.morning} the next morning")
    text = ", ".join(parts)
    if pain.flags:
        text += "; " + "; ".join(" or ".join(SIGNS[f]) for f in pain.flags)
    return text + (f"; “{clean(pain.words)}”" if pain.words else "")


def pain_places(pains: Iterable[PainTold]) -> tuple[tuple[str, str], ...]:
    """For each place, most often told first: how often, from when to when, worst of each week in order."""
    by_place: dict[str, list[PainTold]] = {}
    for pain in pains:
        by_place.setdefault(place_words(pain.region, pain.side), []).append(pain)
    made = []
    for place, told in sorted(by_place.items(), key=lambda kv: (-len(kv[1]), kv[0])):
        days = sorted({p.day for p in told})
        when = short_date(days[0]) if len(days) == 1 else f"{short_date(days[0])} to {short_date(days[-1])}"
        text = f"told {'once' if len(told) == 1 else f'{len(told)} times'}, {when}"
        if weekly := _week_by_week(told):
            text += f"; worst of each week: {weekly}"
        made.append((place, text))
    return tuple(made)


def _week_by_week(told: Sequence[PainTold]) -> str:
    worst: dict[date, int] = {}
    for pain in told:
        if pain.worst is not None:
            monday = monday_of(pain.day)
            worst[monday] = max(pain.worst, worst.get(monday, 0))
    return ", ".join(f"{n} (week of {short_date(m)})" for m, n in sorted(worst.items()))


def away_words(away: TimeAway) -> str:
    """`holiday, 2 to 8 February`, without what kind of illness or injury it was."""
    kind = "away" if away.kind in ("injury", "other") else {"holiday": "holiday", "illness": "ill"}[away.kind]
    if away.first == away.last:
        return f"{kind}, {short_date(away.first)}"
    return f"{kind}, {short_date(away.first)} to {short_date(away.last)}"


def reasons_not_done(review: RunnerReview) -> str:
    """`no time (2), ill (1)`; empty when none was told."""
    whys = Counter(WHY_WORDS[s.why] for s in review.sessions if s.outcome in ("none", "part") and s.why)
    return ", ".join(f"{why} ({n})" for why, n in whys.most_common())
