"""The coach's pictures: how the squad spreads on a line, and one runner's week. SVG from values, no chart library."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from ferrule.deliver import amounts
from ferrule.deliver.ink import HAIR, INK, MOSS, NOTE, RUST, SLATE, line, picture, px, rect, words
from ferrule.deliver.plain import cut
from ferrule.deliver.repeats import base_key
from ferrule.fit.days import DAY, HOUR, TIMES, RunTime, hours_to_key, run_times
from ferrule.model.fitted import FittedSession, FittedWeek, LineSpread
from ferrule.model.quantity import number
from ferrule.model.squad import Runner
from ferrule.model.words import DAYS
from ferrule.programme.occurrences import SPREAD_OUT

RUN_WORDS = {"easy": "easy", "key": "key run", "long": "long run", "race": "race"}
MOST_NAMED = 4
"""More sessions than this are marked by their key alone: the words would run into one another."""
_RUN_HIGH = {"easy": 12.0, "key": 24.0, "long": 24.0, "race": 32.0}


def spread_counts(spread: LineSpread) -> tuple[tuple[str, int], ...]:
    """How many runners meet the line how, in the words that stand beside the squares."""
    return (
        ("too easy", len(spread.too_easy)),
        ("right", len(spread.right)),
        ("too hard", len(spread.too_hard)),
        ("cannot", len(spread.cannot)),
    )


def spread_picture(spread: LineSpread) -> str:
    """One square a runner, in four named and counted rows: hollow, solid, hatched, crossed."""
    counts = spread_counts(spread)
    most = max(n for _, n in counts)
    step = min(13.0, 210 / most) if most else 13.0
    side = step - min(3.0, step / 4)
    parts: list[str] = []
    for row, (name, n) in enumerate(counts):
        y = 4 + row * 18
        fill = INK if n else NOTE
        parts.append(words(64, y + 10, name, fill=fill, anchor="end"))
        parts.append(words(92, y + 10, str(n), fill=fill, anchor="end", bold=n > 0))
        parts += [_square(name, 104 + k * step, y + (12 - side) / 2 - 0.5, side) for k in range(n)]
    alt = "As written: " + ", ".join(f"{name} {n}" for name, n in counts)
    return picture(320, 76, alt, *parts)


def _square(name: str, x: float, y: float, side: float) -> str:
    if name == "right":
        return rect(x, y, side, side, fill=INK)
    frame = rect(x, y, side, side, fill="#fff", stroke=INK)
    if name == "too easy":
        return frame
    rising = line(x, y + side, x + side, y, stroke=INK, wide=1.2)
    if name == "cannot":
        return frame + rising + line(x, y, x + side, y + side, stroke=INK, wide=1.2)
    half = side / 2
    return (
        frame
        + rising
        + line(x, y + half, x + half, y, stroke=INK)
        + line(x + half, y + side, x + side, y + half, stroke=INK)
    )


@dataclass(frozen=True, slots=True)
class _Mark:
    """Something on the time axis: hours since Monday 00:00, its kind in words, minutes or weight for its height."""

    hour: float
    label: str
    high: float


def week_picture(week: FittedWeek, runner: Runner | None) -> str:
    """Strength above the line, runs below; arcs carry the hours from a session to the next key run.

    runner   None when the runs are not known: an arc then ends at a mark for the key run it counts to.
    A session without a time is drawn at the one of the fit's two times that its hours are counted from; a run without
    a time at the hour the fit takes for it.
    """
    wide, left, step = 400.0, 8.0, 55.0
    times = () if runner is None else run_times(runner, week.monday)
    word = "" if len(week.sessions) > MOST_NAMED else "session "
    sessions = tuple(
        _Mark(_start_hour(s, week.monday, times), f"{word}{cut(base_key(s.key), 4)}", 14 + min(60, s.minutes) / 2)
        for s in week.sessions
    )
    ends = _last_before_key(
        (base_key(s.key), mark.hour + s.minutes / 60, s.hours_to_key)
        for mark, s in zip(sessions, week.sessions, strict=True)
        if s.hours_to_key is not None
    )
    below = [_Mark(t.earliest_min / HOUR, RUN_WORDS[t.kind], _RUN_HIGH[t.kind]) for t in times if t.day < 7]
    if runner is None:
        marks = sorted({round(end + hours, 2) for end, hours in ends})
        below = [_Mark(at, RUN_WORDS["key"], _RUN_HIGH["key"]) for at in marks if at < 168]

    def at(hour: float) -> float:
        return left + hour / 24 * step

    top, base = 18.0, 108.0
    parts = [line(left + n * step, top, left + n * step, base + 48, stroke=HAIR) for n in range(8)]
    parts += [words(left + (n + 0.5) * step, base + 62, d, fill=NOTE, anchor="middle") for n, d in enumerate(DAYS)]
    parts.append(line(left, base, left + 7 * step, base, wide=1.2))
    for mark in below:
        x = _inside(at(mark.hour), left, left + 7 * step)
        easy = mark.label == RUN_WORDS["easy"]
        parts.append(rect(x - 5, base + 1, 10, mark.high, fill="#fff" if easy else SLATE, stroke=SLATE))
        x = _word_at(x, mark.label, wide)
        parts.append(words(x, base + mark.high + 13, mark.label, size=11, fill=SLATE, anchor="middle"))
    for together in _at_one_hour(sessions):
        for n, mark in enumerate(together):
            x = at(mark.hour) + 13 * n
            parts.append(line(x, top, x, base - mark.high, stroke=RUST, wide=0.5))
            parts.append(rect(x - 6, base - mark.high - 1, 12, mark.high, fill=RUST))
        label = "+".join(m.label for m in together)
        x = _word_at(at(together[0].hour) + 6.5 * (len(together) - 1), label, wide)
        parts.append(words(x, 12, label, size=11, fill=RUST, anchor="middle", bold=True))
    arcs = [
        _arc(at(end) + 6, min(at(end + hours), left + 7 * step + 6), base, f"{number(round(hours))} h")
        for end, hours in ends
    ]
    parts += [pieces[0] for pieces in arcs if pieces] + [pieces[1] for pieces in arcs if pieces]
    return picture(wide, base + 68, _week_alt(week, below), *parts)


def _at_one_hour(marks: Iterable[_Mark]) -> list[list[_Mark]]:
    """Marks of one hour together: they are drawn side by side under one label."""
    hours: dict[float, list[_Mark]] = {}
    for mark in marks:
        hours.setdefault(mark.hour, []).append(mark)
    return list(hours.values())


def _last_before_key(ends: Iterable[tuple[str, float, float]]) -> list[tuple[float, float]]:
    """(end, hours to the key run) in hours. Of a session done more than three times only the last before each key run."""
    by_key: dict[str, list[tuple[float, float]]] = {}
    for key, end, hours in ends:
        by_key.setdefault(key, []).append((end, hours))
    kept: list[tuple[float, float]] = []
    for all_ in by_key.values():
        last = {round(end + hours): (end, hours) for end, hours in sorted(all_)}
        kept += all_ if len(all_) <= SPREAD_OUT else last.values()
    return kept


def _start_hour(session: FittedSession, monday: date, runs: tuple[RunTime, ...]) -> float:
    """Hours from Monday 00:00 to the start; see `week_picture` for a session without a time."""
    midnight = (session.day - monday).days * DAY
    if session.start is not None:
        return (midnight + session.start.hour * HOUR + session.start.minute) / HOUR
    for at in TIMES:
        hours = hours_to_key(midnight + at + round(session.minutes), runs)
        if hours is not None and session.hours_to_key is not None and abs(hours - session.hours_to_key) < 0.5:
            return (midnight + at) / HOUR
    return (midnight + TIMES[-1]) / HOUR


def _inside(x: float, low: float, high: float) -> float:
    return max(low + 6, min(high - 6, x))


def _word_at(x: float, text: str, wide: float) -> float:
    half = len(text) * 3.1
    return max(half + 1, min(wide - half - 1, x))


def _arc(x1: float, x2: float, base: float, label: str) -> list[str]:
    if x2 <= x1 + 4:
        return []
    peak = base - min(52.0, 18 + (x2 - x1) / 5)
    curve = f"M{px(x1)} {px(base - 2)} Q{px((x1 + x2) / 2)} {px(2 * peak - base)} {px(x2)} {px(base - 2)}"
    return [
        f'<path d="{curve}" fill="none" stroke="{MOSS}" stroke-width="1.5"/>',
        words((x1 + x2) / 2, peak - 4, label, size=11, fill=MOSS, anchor="middle", bold=True, halo=True),
    ]


def _week_alt(week: FittedWeek, below: Sequence[_Mark]) -> str:
    said = []
    for s in week.sessions:
        hours = "" if s.hours_to_key is None else f", {number(round(s.hours_to_key))} h to the next key run"
        start = "" if s.start is None else f" {amounts.clock(s.start)}"
        said.append(f"{DAYS[s.day.weekday()]}{start} session {base_key(s.key)}{hours}")
    said += [f"{DAYS[int(m.hour // 24) % 7]} {m.label}" for m in sorted(below, key=lambda m: m.hour)]
    return "Week: " + "; ".join(said or ["no session"])
