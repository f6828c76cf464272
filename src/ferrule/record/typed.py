"""Typed lines of one runner and one day -> entries: `Step-up: 6, 6, 5/side, 12 kg, 1 RIR`. The lines are in docs/log.md."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time
from typing import Literal, get_args

from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.exercise import Library, Variant
from ferrule.model.fact import Asked, Entry, Fact, PainTold, RedFlag, RunTold, SessionTold, WeekTold
from ferrule.model.finding import Finding, Level, Span, in_order
from ferrule.model.fitted import FittedSession, FittedWeek
from ferrule.programme.amounts import Slip
from ferrule.programme.naming import Names, names_of
from ferrule.programme.scan import plain
from ferrule.record.content_id import entry_of
from ferrule.record.sent import SentLine, lines_of, session_of
from ferrule.record.set_facts import Where, line_for, pain_told, sets_told
from ferrule.record.set_words import LineTold, PainWords, read_line, read_morning, read_pain
from ferrule.record.typed_days import read_days
from ferrule.squad.note_cells import TEST_WORDS
from ferrule.squad.place import monday_of

FLAGS: tuple[RedFlag, ...] = get_args(RedFlag)
_HEAD = re.compile(r"^(?P<word>[A-Za-z][A-Za-z ]{0,20}?)\s*:\s*(?P<rest>.*)$", re.DOTALL)
_RATING = re.compile(r"\brating:?\s*(\d{1,2})(?:\s*/\s*10)?\b", re.IGNORECASE)
_MINUTES = re.compile(r"\b(\d{1,3}(?:[.,]\d)?)\s*min(?:utes|s)?\b", re.IGNORECASE)
_NONE = re.compile(
    r"(?:session )?(?:skipped|missed|not done|did nothing|nothing)(?:\s*[:,-]\s*(?P<why>.*))?$", re.IGNORECASE
)
_ALL = re.compile(r"all (?:done )?(?:as (?:written|asked|planned)|done)(?:\s*[,:]\s*(?P<rest>.*))?$", re.IGNORECASE)
_KM = re.compile(r"(\d{1,3}(?:[.,]\d{1,3})?)\s*km\b", re.IGNORECASE)
_CLIMB = re.compile(r"(\d{1,5})\s*m(?:etres)?(?: (?:up|climb|of climb))?\s*$", re.IGNORECASE)
_CLOCKED = re.compile(r"\b(?:(\d{1,2}):)?(\d{1,2}):(\d{2})\b")
_WHY: tuple[tuple[str, str], ...] = (
    ("time", "time"), ("busy", "time"), ("ill", "ill"), ("cold", "ill"), ("flu", "ill"), ("sick", "ill"), ("pain", "pain"),
    ("hurt", "pain"), ("sore", "pain"), ("injur", "pain"), ("away", "away"), ("holiday", "away"), ("travel", "away"), ("kit", "kit"),
)  # fmt: skip


@dataclass(slots=True)
class _Day:
    """What the lines of one runner and day told so far."""

    file: str
    runner_id: str
    day: date
    names: Names
    week: FittedWeek | None
    copy_id: str
    session_key: str
    facts: list[Fact] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    session: SessionTold | None = None
    taken: set[tuple[str, str]] = field(default_factory=set)
    all_of: tuple[LineTold, Span] | None = None
    missing: list[Span] = field(default_factory=list)

    def say(self, code: str, level: Level, span: Span, what: str, why: str, fix: str) -> None:
        self.findings.append(Finding(code, level, what, why, fix, span))


def read_log_lines(
    text: str,
    file: str,
    runner: str,
    day: date,
    library: Library,
    sent: FittedWeek | None,
    *,
    session_key: str = "",
    copy_id: str = "",
    now: datetime | None = None,
    first_line: int = 1,
) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    """Entries of typed lines, and what is odd in them; a line that is not understood is named, the rest is read.

    runner      id of the runner;  day: local day of what was done;  sent: the week that day lies in, as sent
    session_key of the session that is meant, "" for the one of that day
    now         when it was typed; noon UTC of the day when left out
    first_line  number of the first line of `text` in its file
    """
    told = _Day(file, runner, day, names_of(library), sent, copy_id, session_key)
    for number, line in enumerate(text.splitlines(), first_line):
        said = plain(line).rstrip()
        lead = len(said) - len(said.lstrip(" -*\u2022\t"))
        if said[lead:] and not said.startswith("<!--"):
            _line(told, said[lead:], Span(file, number, lead + 1, len(said) + 1))
    _finish(told)
    moment = now or datetime.combine(day, time(12), UTC)
    entries = dict.fromkeys(entry_of(runner, fact, moment, "typed") for fact in told.facts)
    return tuple(entries), in_order(told.findings)


def _line(told: _Day, said: str, span: Span) -> None:
    head = _HEAD.match(said)
    reader = _KEYWORDS.get(" ".join(head["word"].lower().split())) if head else None
    if head and reader is not None:
        reader(told, head["rest"].strip(), span)
    elif found := _NONE.fullmatch(said):
        _none(told, found["why"] or "")
    elif found := _ALL.fullmatch(said):
        pieces = [p.strip() for p in (found["rest"] or "").split(",")]
        whole = [p for p in pieces if _RATING.fullmatch(p) or _MINUTES.fullmatch(p)]
        told.all_of = read_line(", ".join(("as written", *(p for p in pieces if p and p not in whole)))), span
        if whole:  # `all as written, 1 RIR, rating 6, 40 min`
            _rated(told, ", ".join(whole), span)
    elif pain := _pain_line(said):
        _pained(told, pain)
    elif not head and (_RATING.search(said) and not _exercise(told, said)):
        _rated(told, said, span)
    else:
        _sets(told, said, span)


def _exercise(told: _Day, said: str) -> tuple[Variant, int] | None:
    """The exercise a line begins with, and where what is told of it begins; a name ends at a colon."""
    library = told.names.library
    colon = said.find(":")
    found = told.names.find(said[:colon].strip()) if colon > 0 else None
    if found is not None:
        return library.variants[found[1]], colon + 1
    longest = told.names.longest(said)
    if longest is None or (colon > 0 and longest[2] < colon):
        return None
    return library.variants[longest[1]], longest[2]


def _sets(told: _Day, said: str, span: Span) -> None:
    found = _exercise(told, said)
    if found is None:
        _unknown(told, said, span)
        return
    variant, start = found
    rest = said[start:].lstrip(" ,:")
    at = span.column + len(said) - len(rest)
    line = read_line(rest)
    if not line.says_something and not line.slips:
        told.say("log-nothing-told", "error", span, f"The line tells nothing of {variant.name}.", "Nothing was taken.",
                 "Write the sets, as `6, 6, 5`, or `as written`, or `skipped`.")  # fmt: skip
    where = Where(told.runner_id, told.day, variant, _sent_line(told, variant, span), told.copy_id)
    sets, slips = sets_told(line, where)
    told.facts += sets
    told.facts += [pain_told(pain, where) for pain in line.pains]
    if where.line is not None:
        told.taken.add((where.session_key, where.item_key))
    for slip in (*line.slips, *slips):
        _slip(told, slip, span, at)


def _sent_line(told: _Day, variant: Variant, span: Span) -> SentLine | None:
    if told.week is None:
        return None
    key = told.session_key
    found = line_for(told.week, variant.id, told.day, key, frozenset(told.taken))
    written = None
    if found is None:
        written = _written_as(told, variant, key)
    if found is None and written is None:
        again = any(x.item.variant_id == variant.id for x in lines_of(told.week))
        what = f"{variant.name} stands in no {'further ' if again else ''}line of the week that was sent."
        told.say("log-line-unknown", "advice", span, what,
                 "It is kept by itself, as done on that day." if not again else "It is kept by itself: the line was told already.",
                 "See whether another exercise, or one line for both, was meant.")  # fmt: skip
    if written is not None:
        told.say("log-other-variant", "advice", span,
                 f"The week that was sent has {written.item.name} on this line, and {variant.name} was told.",
                 f"{variant.name} was taken.", f"Write `{written.item.name}: ...` when that was done.")  # fmt: skip
    return found or written


def _written_as(told: _Day, variant: Variant, key: str) -> SentLine | None:
    """A line the coach wrote with this name, and that was sent as another exercise."""
    assert told.week is not None
    for line in lines_of(told.week):
        named = told.names.find(line.item.written)
        free = (line.session.key, line.item.item_key) not in told.taken
        if named is not None and named[1] == variant.id and free and (not key or line.session.key == key):
            return line
    return None


def _unknown(told: _Day, said: str, span: Span) -> None:
    name = said.split(":")[0].split(",")[0].strip()
    near = told.names.nearest(name)
    meant = " or ".join(f"`{n}`" for n in near) if near else "a name of the library"
    told.say("log-not-understood", "error", replace(span, end_column=span.column + len(name)),
             f"`{name[:60]}` is no exercise of the library and no word a log begins with.", "Nothing was taken from this line.",
             f"Write {meant}, a colon, and what was done.")  # fmt: skip


def _slip(told: _Day, slip: Slip, span: Span, at: int) -> None:
    whole = slip.start == slip.end == 0
    place = span if whole else Span(span.file, span.line, at + slip.start, at + max(slip.end, slip.start + 1))
    told.findings.append(Finding(slip.code, slip.level, slip.what, slip.why, slip.fix, place))


def _the_session(told: _Day, span: Span | None) -> FittedSession | None:
    """The session that is meant: named, else of that day, else the only one within a day of it."""
    week = told.week
    if week is None:
        return None
    if told.session_key:
        return session_of(week, told.session_key)
    today = [s for s in week.sessions if s.day == told.day]
    near = [s for s in week.sessions if abs((s.day - told.day).days) == 1]
    found = today[0] if len(today) == 1 else near[0] if not today and len(near) == 1 else None
    if found is None and span is not None:
        keys = ", ".join(f"`session {s.key}`" for s in week.sessions)
        told.say("log-session-unclear", "error", span, f"Which session of the week was it on {told.day}?",
                 "Nothing was taken from this line.", f"Write it at the end of the head line: {keys}.")  # fmt: skip
    return found


def _told_session(told: _Day, **what: object) -> None:
    if told.session is None:
        here = _the_session(told, None)
        key = told.session_key or (here.key if here is not None else "")
        told.session = SessionTold(told.day, key, "did", copy_id=told.copy_id)
    told.session = replace(told.session, **what)  # type: ignore[arg-type]


def _none(told: _Day, why: str) -> None:
    reason = next((word for part, word in _WHY if re.search(rf"\b{part}", why.lower())), "other" if why else "")
    _told_session(told, outcome="none", why=reason, words=why)


def _skipped(told: _Day, rest: str, _span: Span) -> None:
    _none(told, rest)


def _rated(told: _Day, said: str, span: Span) -> None:
    rating, minutes = (
        _RATING.search(said) or re.match(r"(\d{1,2})(?:\s*/\s*10)?(?=\s*(?:,|$))", said),
        _MINUTES.search(said),
    )
    if rating is None and minutes is None:
        told.say("log-not-understood", "error", span, f"`{said[:60]}` is no rating.", "Nothing was taken from this line.",
                 "Write `rating 6, 40 min`.")  # fmt: skip
        return
    if rating is not None and int(rating[1]) > 10:
        told.say("log-value", "advice", span, f"A rating of {rating[1]} cannot be; it goes from 0 to 10.", "It was left out.",
                 "Write `rating 6`.")  # fmt: skip
        rating = None
    if rating is not None:
        _told_session(told, rating=int(rating[1]))
    if minutes is not None:
        _told_session(told, minutes=float(minutes[1].replace(",", ".")))


def _pain_line(said: str) -> tuple[PainWords, str] | None:
    """`left calf 4/10, next morning 2, went off after a while`: the first piece tells where and how bad."""
    first, *rest = said.split(",")
    pain = read_pain(first)
    if pain is None:
        return None
    words = []
    for piece in rest:
        morning = read_morning(piece)
        if morning is not None:
            pain = replace(pain, morning=morning)
        else:
            words.append(piece.strip())
    return pain, ", ".join(w for w in words if w)


def _pained(told: _Day, pain: tuple[PainWords, str]) -> None:
    found, words = pain
    flags = tuple(f for f in FLAGS if f in words.lower())
    told.facts.append(
        PainTold(told.day, found.region, found.side, found.worst, found.morning, _key(told), flags=flags, words=words)
    )


def _key(told: _Day) -> str:
    here = _the_session(told, None)
    return told.session_key or (here.key if here is not None else "")


def _pain_words(told: _Day, rest: str, _span: Span) -> None:
    """`pain: left calf 4/10` and `flag: night or rest`; what has no place or number is kept in the runner's words."""
    pain = _pain_line(rest)
    if pain is not None:
        _pained(told, pain)
        return
    flags = tuple(f for f in FLAGS if f in rest.lower())
    told.facts.append(PainTold(told.day, None, "both", None, None, _key(told), flags=flags, words=rest))


def _note(told: _Day, rest: str, _span: Span) -> None:
    before = told.session.words if told.session is not None else ""
    _told_session(told, words=f"{before}; {rest}" if before else rest)


def _asked(told: _Day, rest: str, _span: Span) -> None:
    told.facts.append(Asked(told.day, rest))


def _week(told: _Day, rest: str, span: Span) -> None:
    """`week: did some, too hard, no pain`."""
    low = rest.lower()
    did = re.search(r"\b(all|some|none|nothing)\b", low)
    felt = re.search(r"too easy|too hard|\bright\b", low)
    if did is None:
        told.say("log-not-understood", "error", span, "The line does not say how much of the week was done.",
                 "Nothing was taken from it.", "Write `week: did all`, `some` or `none`; then `too easy`, `right` or `too hard`.")  # fmt: skip
        return
    pain = None if "pain" not in low else not re.search(r"\b(?:no|without) pain", low)
    part: Literal["all", "some", "none"] = "none" if did[1] == "nothing" else did[1]  # type: ignore[assignment]
    told.facts.append(WeekTold(monday_of(told.day), part, felt[0] if felt else None, pain, copy_id=told.copy_id))  # type: ignore[arg-type]


def _run(told: _Day, rest: str, span: Span) -> None:
    """`run: 12.4 km, 81 min, 310 m, long, rating 5`."""
    km = _KM.search(rest)
    if km is None:
        told.say("log-not-understood", "error", span, "The run has no distance.", "Nothing was taken from this line.",
                 "Write `run: 12.4 km, 81 min, 310 m`.")  # fmt: skip
        return
    parts = [p.strip() for p in re.split(r",(?=\s)|;", rest)]
    climb = next((m for p in parts if (m := _CLIMB.fullmatch(p))), None)
    minutes, clocked, rating = _MINUTES.search(rest), _CLOCKED.search(rest), _RATING.search(rest)
    spent = float(minutes[1].replace(",", ".")) if minutes else None
    if spent is None and clocked is not None:
        spent = int(clocked[1] or 0) * 60 + int(clocked[2]) + int(clocked[3]) / 60
    kind = next((k for k in ("easy", "key", "long", "race") if re.search(rf"\b{k}\b", rest.lower())), "")
    rated = int(rating[1]) if rating and int(rating[1]) <= 10 else None
    told.facts.append(
        RunTold(told.day, float(km[1].replace(",", ".")), spent, float(climb[1]) if climb else None, None, kind, rated)  # type: ignore[arg-type]
    )


def _away(told: _Day, rest: str, span: Span) -> None:
    """`away: 7 Feb to 14 Feb, holiday, with band thin`."""
    days = read_days(rest, told.day)
    if days is None:
        told.say("log-not-understood", "error", span, f"`{rest[:60]}` does not say from when to when.", "Nothing was taken from it.",
                 "Write `away: 2026-02-07 to 2026-02-14, holiday`.")  # fmt: skip
        return
    low = rest.lower()
    kinds = (("holiday", "holiday"), ("ill", "illness"), ("sick", "illness"), ("injur", "injury"))
    kind = next((k for part, k in kinds if re.search(rf"\b{part}", low)), "other")
    kit = re.search(r"\bwith (?P<kit>.+)$", rest, re.IGNORECASE)
    told.facts.append(TimeAway(told.runner_id, min(days), max(days), kind, kit["kit"] if kit else None))  # type: ignore[arg-type]


def _tested(told: _Day, rest: str, span: Span) -> None:
    """`test: heel raises left 22`."""
    found = re.fullmatch(
        r"(?P<name>.+?)[\s:,]+(?:(?P<side>left|right)\s+)?(?P<n>\d{1,3})(?:\s*s(?:ec)?)?", rest.strip(), re.IGNORECASE
    )
    name = " ".join(found["name"].lower().split()) if found else ""
    kind = next((k for k, words in TEST_WORDS.items() if name in {k, *words, *(w + "s" for w in words)}), None)
    if found is None or kind is None:
        told.say("log-not-understood", "error", span, f"`{rest[:60]}` is no home test.", "Nothing was taken from it.",
                 "Write one of " + ", ".join(f"`{k} 20`" for k in TEST_WORDS) + ".")  # fmt: skip
        return
    side = (found["side"] or "both").lower()
    told.facts.append(LoggedTest("", told.runner_id, told.day, kind, float(found["n"]), side))  # type: ignore[arg-type]


def _all_written(told: _Day) -> None:
    """Every line of the session that nothing else was told of, as written; effort where it means something: no warm-up is meant by it."""
    assert told.all_of is not None
    line, span = told.all_of
    session = _the_session(told, span if told.week is not None else None)
    if session is None:
        if told.week is None:
            told.say("log-as-written", "error", span, "It was done as written, and no sent week says what was written.",
                     "Nothing was taken from this line.", "Sign the week, or write the sets of each exercise.")  # fmt: skip
        return
    assert told.week is not None
    library = told.names.library
    for sent in lines_of(told.week):
        variant = library.variants.get(sent.item.variant_id)
        if sent.session.key != session.key or variant is None or (sent.session.key, sent.item.item_key) in told.taken:
            continue
        weighed = variant.main is not None and sent.item.prediction is not None and not sent.light
        one = line if weighed else replace(line, reserve=None, effort_asked=False)
        told.facts += sets_told(one, Where(told.runner_id, told.day, variant, sent, told.copy_id))[0]
    _told_session(told, session_key=session.key)
    for slip in line.slips:
        _slip(told, slip, span, span.column)


def _finish(told: _Day) -> None:
    if told.all_of is not None:
        _all_written(told)
    if told.session is not None:
        if any(isinstance(f, LoggedSet) for f in told.facts) and told.session.outcome == "none":
            told.session = replace(told.session, outcome="part")
        told.facts.append(told.session)


_KEYWORDS = {
    "pain": _pain_words, "flag": _pain_words, "red flag": _pain_words, "hurt": _pain_words,
    "rating": _rated, "session": _rated, "note": _note, "ask": _asked, "question": _asked, "week": _week, "run": _run,
    "away": _away, "test": _tested,
    "skipped": _skipped, "missed": _skipped, "not done": _skipped,
}  # fmt: skip
