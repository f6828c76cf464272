"""Lines of the text to look at again: where half of those who had a line did, or met, something else than was meant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from ferrule.deliver.plain import clean, lowered
from ferrule.deliver.repeats import base_key
from ferrule.deliver.review_facts import LineReview, LineWeek, RunnerReview
from ferrule.deliver.review_words import CODE_WORDS

HALF: Final = 0.5
"""So large a part of those who had the line (ours), and at least two of them."""
OFF_REPS: Final = 2
"""An effort told counts as off when it is this far from what was meant: judging it is good to about one repetition
(Hackett 2017, seen)."""


@dataclass(frozen=True, slots=True)
class Rewrite:
    """One line to look at again. had: runners who had it; said: sentences with the counts; do: what could be written."""

    key: tuple[str, str]
    written: str
    had: int
    said: tuple[str, ...]
    do: tuple[str, ...]


def to_rewrite(reviews: Sequence[RunnerReview]) -> tuple[Rewrite, ...]:
    """The lines of one cycle that call for another look, in the order of the text; empty when none does."""
    lines: dict[tuple[tuple[str, str], str], list[tuple[RunnerReview, LineReview]]] = {}
    for review in reviews:
        for line in review.lines:
            lines.setdefault((line.key, line.written), []).append((review, line))
    made = (_rewrite(key, written, had) for (key, written), had in lines.items())
    return tuple(sorted((r for r in made if r is not None), key=lambda r: r.key))


def _rewrite(key: tuple[str, str], written: str, had: Sequence[tuple[RunnerReview, LineReview]]) -> Rewrite | None:
    said: list[str] = []
    do: list[str] = []
    moved = [line for _, line in had if len(line.moved) >= HALF * len(line.weeks) and line.moved]
    if _many(len(moved), len(had)):
        codes = Counter(
            code for line in moved for code in {r.code for w in line.moved for r in w.item.reasons if r.departs}
        )
        why = ", ".join(f"{CODE_WORDS.get(code, code)} ({n})" for code, n in codes.most_common())
        said.append(f"Done otherwise by {len(moved)} of {len(had)}: {why}.")
        instead = Counter(clean(line.moved[-1].item.name) for line in moved if line.moved[-1].item.name != written)
        if instead:
            name, n = instead.most_common(1)[0]
            do.append(f"Write {lowered(name)}, which {n} of them did, or name it as an alternative.")
    easy = sum(_mostly(line, _easy) for _, line in had)
    if _many(easy, len(had)):
        said.append(f"Told to be easier than meant by {easy} of {len(had)}.")
        do.append("Ask for more repetitions or load, or for less in reserve.")
    hard = sum(_mostly(line, _hard) for _, line in had)
    if _many(hard, len(had)):
        said.append(f"Told to be harder than meant, or not managed, by {hard} of {len(had)}.")
        do.append("Ask for less, or name something easier as an alternative.")
    hurt = sum(_hurt(review, line) for review, line in had)
    if hurt >= 2:
        said.append(f"Pain was told at it by {hurt} of {len(had)}.")
        do.append("Look at it with each of them before it comes again.")
    return Rewrite(key, written, len(had), tuple(said), tuple(do)) if said else None


def _many(n: int, of: int) -> bool:
    return n >= 2 and n >= HALF * of


def _mostly(line: LineReview, off: Callable[[LineWeek], bool]) -> bool:
    """At least half of the weeks in which the effort was told, or a set not managed."""
    told = [w for w in line.weeks if w.reserves or w.failed]
    return bool(told) and sum(map(off, told)) >= HALF * len(told)


def _easy(week: LineWeek) -> bool:
    meant = week.item.prediction
    return meant is not None and bool(week.reserves) and min(week.reserves) >= meant.intended.high + OFF_REPS


def _hard(week: LineWeek) -> bool:
    meant = week.item.prediction
    low = bool(week.reserves) and meant is not None and min(week.reserves) <= meant.intended.low - OFF_REPS
    return low or week.failed > 0


def _hurt(review: RunnerReview, line: LineReview) -> bool:
    keys = {(base_key(p.session_key), p.item_key) for p in review.pains if p.item_key}
    return line.key in keys or any(w.stopped for w in line.weeks)


def told_lines(rewrites: Iterable[Rewrite]) -> tuple[str, ...]:
    """The same for the terminal, a paragraph each."""
    return tuple(f"{r.key[0]} {r.key[1]} {clean(r.written)}: {' '.join((*r.said, *r.do))}" for r in rewrites)
