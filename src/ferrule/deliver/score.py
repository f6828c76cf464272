"""The session score: rows are parts of the body, time runs along, ink for what is asked. SVG from values."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence

from ferrule.deliver.ink import HAIR, INK, NOTE, OCHRE, RUST, line, picture, px, rect, words
from ferrule.deliver.plain import clean, cut
from ferrule.deliver.score_marks import Label, Mark, Score, fitted_marks, score_marks
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedSession
from ferrule.model.programme import Session

WIDE, NARROW = 860.0, 340.0
"""Widths in px: beside the text of a page, and on a phone."""
PALE = "#e0c2b4"
BEST = 13.0
"""Height of a share of best of 1, px; a mark is never higher than MOST."""
MOST, LEAST, COUNTED = 17.0, 2.0, 4.0
_LETTER = 0.56
"""Width of a letter over its size, rather too wide."""


def score_of_session(session: Session, library: Library, *, wide: float = WIDE) -> str:
    """The picture of a written session (by-week table applied). Without a runner no limit is drawn."""
    return _drawn(score_marks(session, library), wide)


def score_of_fitted(session: FittedSession, library: Library, *, wide: float = WIDE) -> str:
    """The picture of a fitted session: heights are this runner's shares of best, a dotted line is their best."""
    return _drawn(fitted_marks(session, library), wide)


def scores_of_week(sessions: Sequence[Session], library: Library, *, wide: float = WIDE) -> str:
    """The pictures of some sessions under one another as one, each with its title."""
    parts: list[str] = []
    alts: list[str] = []
    y = 0.0
    for session in sessions:
        score = score_marks(session, library)
        inner, high = _parts(score, wide)
        parts.append(words(10, y + 24, clean(score.title), size=15, bold=True))
        parts.append(f'<g transform="translate(10 {px(y + 32)})">{"".join(inner)}</g>')
        alts.append(alt_of(score))
        y += high + 56
    ground = rect(0, 0, wide + 20, y, fill="#fff")
    return picture(wide + 20, y, " ".join(alts) or "No session", ground, *parts)


def alt_of(score: Score) -> str:
    """The same in words: length, every line with what it works, and the clashes."""
    said = [f"{clean(score.title)}, about {round(score.end_s / 60)} min"]
    said += [clean(text) for text in score.lines]
    said += [
        f"clash: {clean(b.short)} works the {' and the '.join(b.clash)} twice in a round"
        for b in score.labels
        if b.clash
    ]
    return "; ".join(said) + "."


def _drawn(score: Score, wide: float) -> str:
    parts, high = _parts(score, wide)
    return picture(wide, high, alt_of(score), *parts)


def _parts(score: Score, wide: float) -> tuple[list[str], float]:
    """The pieces of one score, and its height."""
    narrow = wide < 500
    left, right = (2.0, wide - 6) if narrow else (112.0, wide - 12)
    heads = 3 if any(label.clash for label in score.labels) else 2
    top, pitch = 8 + 15.0 * heads, 54.0 if narrow else 40.0
    end_s = max(score.end_s, 60.0)

    def at(seconds: float) -> float:
        return left + (right - left) * seconds / end_s

    bases = {area: top + pitch * n + (34 if narrow else 20) for n, area in enumerate(score.rows)}
    bottom = top + pitch * len(score.rows)
    parts = [line(at(b.start_s), top - 6, at(b.start_s), bottom, stroke=HAIR) for b in score.labels if b.short]
    for area, base in bases.items():
        name = words(0, base - 20, area) if narrow else words(left - 12, base + 4, area, anchor="end")
        parts += [name, line(left, base, right, base, stroke=HAIR)]
        if area in score.limits:
            parts += [
                line(left, base + way * BEST, right, base + way * BEST, stroke=INK, wide=0.5, dash="1 3")
                for way in (-1, 1)
            ]
    order = {"on the way": 0, "counted": 1, "easy": 2, "main": 3}
    for mark in sorted(score.marks, key=lambda m: order[m.asked]):
        parts += _mark(mark, at, bases[mark.area])
    starts = [at(b.start_s) for b in score.labels]
    named, below = _clashes(score, starts, right)
    parts += [*_heads(score.labels, starts, right), *named]
    parts += _ticks(end_s, at, bottom)
    columns = max(20, int((right - left) / (11 * _LETTER)))
    key = [part for text in (*below, _key(score)) for part in textwrap.wrap(text, columns)]
    parts += [words(left, bottom + 36 + 15 * n, text, size=11, fill=NOTE) for n, text in enumerate(key)]
    return parts, bottom + 28 + 15 * len(key)


def _mark(mark: Mark, at: Callable[[float], float], base: float) -> list[str]:
    x, wide = at(mark.start_s), max(1.5, at(mark.end_s) - at(mark.start_s))
    high = COUNTED if mark.share is None else max(LEAST, min(MOST, mark.share * BEST))
    tops = {"left": [base - high - 0.5], "right": [base + 0.5], "both": [base - high - 0.5, base + 0.5]}[mark.half]
    out: list[str] = []
    for y in tops:
        if mark.asked == "main":
            out.append(rect(x, y, wide, high, fill=RUST))
        elif mark.asked == "on the way":
            out.append(rect(x, y, wide, high, fill=PALE))
        elif mark.asked == "counted":
            out.append(rect(x + 0.5, y, max(1.0, wide - 1), high, fill="#fff", stroke=RUST))
        else:
            out.append(_hatched(x, y, wide, high))
    return out


def _hatched(x: float, y: float, wide: float, high: float) -> str:
    """A frame with rising lines, drawn one by one: a pattern would need an id of its own on the page."""
    lines: list[str] = []
    step, k = 4.0, 0.0
    while k < wide + high:
        x1, y1 = (x + k, y + high) if k <= wide else (x + wide, y + high - (k - wide))
        x2, y2 = (x, y + high - k) if k <= high else (x + k - high, y)
        if k:
            lines.append(f"M{px(x1)} {px(y1)}L{px(x2)} {px(y2)}")
        k += step
    frame = f"M{px(x)} {px(y)}h{px(wide)}v{px(high)}h{px(-wide)}z"
    return f'<path d="{frame}{"".join(lines)}" fill="none" stroke="{OCHRE}" stroke-width="0.9"/>'


def _heads(labels: Sequence[Label], starts: Sequence[float], right: float) -> list[str]:
    """Names above the blocks, in turn on two lines, as much of each as has room before the next on its line."""
    parts: list[str] = []
    for n, label in enumerate(labels):
        room = (starts[n + 2] if n + 2 < len(labels) else right + 4) - starts[n] - 8
        columns = int(room / (12 * _LETTER))
        if len(label.full) <= columns or columns >= len(label.short) + 14:
            text = cut(label.full, columns)
        else:
            text = label.short if len(label.short) <= columns else label.letter
        fill = OCHRE if label.easy else RUST
        parts.append(words(starts[n], 12 + 15 * (n % 2), text, fill=fill, bold=True))
    return parts


def _clashes(score: Score, starts: Sequence[float], right: float) -> tuple[list[str], list[str]]:
    """Clashes named under the names of their blocks, and those that have no room there."""
    parts: list[str] = []
    below: list[str] = []
    free = 0.0
    for start, label in zip(starts, score.labels, strict=True):
        if label.clash:
            said = f"clash: {' and '.join(label.clash)} twice in a round"
            long = len(said) * 11 * _LETTER
            x = min(start, right - long)
            if x < free:
                below.append(f"{label.short}, {said}")
                continue
            parts.append(words(x, 42, said, size=11))
            free = x + long + 12
    return parts, below


def _ticks(end_s: float, at: Callable[[float], float], bottom: float) -> list[str]:
    minutes = end_s / 60
    step = next(s for s in (1, 2, 5, 10, 20, 60, 10_000) if minutes / s <= 8)
    parts = []
    for m in range(0, int(minutes) + 1, step):
        x = at(m * 60)
        parts.append(line(x, bottom, x, bottom + 4, stroke=NOTE))
        parts.append(
            words(x, bottom + 16, f"{m}" if m else "0 min", size=11, fill=NOTE, anchor="middle" if m else "start")
        )
    return parts


def _key(score: Score) -> str:
    kinds = {m.asked for m in score.marks}
    said = []
    if any(m.half != "both" for m in score.marks):
        said.append("left above each line, right below")
    said.append("dark: worked, the higher the nearer to one's best")
    if "on the way" in kinds:
        said.append("pale: asked on the way")
    if "easy" in kinds:
        said.append("hatched: warm-up")
    if "counted" in kinds:
        said.append("hollow: counted, never dosed")
    if score.limits:
        said.append("dotted: this runner's best")
    if score.unknown:
        said.append(f"without a mark, as its demand is not known: {', '.join(score.unknown)}")
    return "; ".join(said)
