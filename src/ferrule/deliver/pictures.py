"""The coach's pictures: how the squad spreads on a line, and one runner's week. SVG from values, no chart library."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from ferrule.deliver import amounts
from ferrule.deliver.ink import HAIR, INK, MOSS, NOTE, RUST, SLATE, line, picture, px, rect, words
from ferrule.deliver.plain import cut
from ferrule.model.fitted import FittedWeek, LineSpread
from ferrule.model.quantity import number
from ferrule.model.squad import Run, RunKind
from ferrule.model.words import DAYS

RUN_WORDS: dict[RunKind, str] = {"easy": "easy", "key": "key run", "long": "long run", "race": "race"}
_NOON = time(12)
_EVENING = time(18)


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


def week_picture(week: FittedWeek, runs: Sequence[Run] | None, races: Sequence[date] = ()) -> str:
    """Strength above the line, runs below; arcs carry the hours from a session to the next key run.

    runs   None when they are not known: the arcs then end at a mark for the key run they count to.
    A session or run without a time is drawn at midday (runs) or 18:00 (sessions).
    """
    wide, left, step = 400.0, 8.0, 55.0
    sessions = tuple(
        _Mark(_hour(week.monday, s.day, s.start or _EVENING), f"session {cut(s.key, 4)}", 14 + min(60, s.minutes) / 2)
        for s in week.sessions
    )
    below = [] if runs is None else [_run_mark(r) for r in runs]
    below += [_Mark(_hour(week.monday, d, _NOON), "race", 34) for d in races if 0 <= (d - week.monday).days < 7]
    ends: list[tuple[float, float, float]] = []
    for mark, session in zip(sessions, week.sessions, strict=True):
        if session.hours_to_key is not None:
            ends.append((mark.hour, mark.hour + session.minutes / 60 + session.hours_to_key, session.hours_to_key))
    if runs is None:
        below += [_Mark(end, "key run", 24) for end in sorted({round(e, 2) for _, e, _ in ends}) if end < 168]

    def at(hour: float) -> float:
        return left + hour / 24 * step

    top, base = 18.0, 108.0
    parts = [line(left + n * step, top, left + n * step, base + 48, stroke=HAIR) for n in range(8)]
    parts += [words(left + (n + 0.5) * step, base + 62, d, fill=NOTE, anchor="middle") for n, d in enumerate(DAYS)]
    parts.append(line(left, base, left + 7 * step, base, wide=1.2))
    for mark in below:
        x = _inside(at(mark.hour), left, left + 7 * step)
        easy = mark.label == "easy"
        parts.append(rect(x - 5, base + 1, 10, mark.high, fill="#fff" if easy else SLATE, stroke=SLATE))
        parts.append(
            words(
                _word_at(x, mark.label, wide), base + mark.high + 13, mark.label, size=11, fill=SLATE, anchor="middle"
            )
        )
    for mark in sessions:
        x = at(mark.hour)
        parts.append(line(x, top, x, base - mark.high, stroke=RUST, wide=0.5))
        parts.append(rect(x - 6, base - mark.high - 1, 12, mark.high, fill=RUST))
        parts.append(
            words(_word_at(x, mark.label, wide), 12, mark.label, size=11, fill=RUST, anchor="middle", bold=True)
        )
    for start, end, hours in ends:
        parts += _arc(at(start) + 8, min(at(end), left + 7 * step + 6), base, f"{number(round(hours))} h")
    return picture(wide, base + 68, _week_alt(week, below), *parts)


def _hour(monday: date, day: date, at: time) -> float:
    return (datetime.combine(day, at) - datetime.combine(monday, time())) / timedelta(hours=1)


def _run_mark(run: Run) -> _Mark:
    at = run.start or _NOON
    return _Mark(run.day * 24 + at.hour + at.minute / 60, RUN_WORDS[run.kind], 12 if run.kind == "easy" else 24)


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
        words((x1 + x2) / 2, peak - 4, label, size=11, fill=MOSS, anchor="middle", bold=True),
    ]


def _week_alt(week: FittedWeek, below: Sequence[_Mark]) -> str:
    said = []
    for s in week.sessions:
        hours = "" if s.hours_to_key is None else f", {number(round(s.hours_to_key))} h to the next key run"
        start = "" if s.start is None else f" {amounts.clock(s.start)}"
        said.append(f"{DAYS[s.day.weekday()]}{start} session {s.key}{hours}")
    said += [f"{DAYS[int(m.hour // 24) % 7]} {m.label}" for m in sorted(below, key=lambda m: m.hour)]
    return "Week: " + "; ".join(said or ["no session"])
