"""Thresholds of the list of runners who need a word from the coach, and of what is said about runs."""

from __future__ import annotations

from math import inf

from ferrule.model.threshold import Threshold

_WORD = "minutes a word about {} is likely to take the coach"
_CUSTOM = "common practice, no source"

NOTICE: tuple[Threshold, ...] = (
    Threshold("word-red-flag-min", 15, 0, 120, "min", _WORD.format("a red flag"), _CUSTOM),
    Threshold("word-pain-min", 8, 0, 120, "min", _WORD.format("pain"), _CUSTOM),
    Threshold("word-question-min", 5, 0, 120, "min", _WORD.format("a question"), _CUSTOM),
    Threshold("word-unwritten-min", 3, 0, 120, "min", _WORD.format("a line that was changed"), _CUSTOM),
    Threshold("word-silent-min", 3, 0, 120, "min", _WORD.format("silence"), _CUSTOM),
    Threshold("word-effort-min", 4, 0, 120, "min", _WORD.format("effort far off"), _CUSTOM),
    Threshold(
        "silent-days",
        10,
        3,
        60,
        "days",
        "days without a word, from the first session asked for, before a runner is on the list as silent",
        _CUSTOM,
        off=inf,
    ),
    Threshold(
        "pain-rise",
        1,
        1,
        5,
        "0-10",
        "rise of the worst pain of one week over that of the week before that counts as rising",
        "Silbernagel 2007, must not rise from week to week (from memory); the one point is ours",
    ),
    Threshold(
        "effort-off-rir",
        2,
        1,
        6,
        "reps",
        "how far the told reserve lies from the one that was meant before a line counts as far off",
        _CUSTOM,
        off=inf,
    ),
    Threshold(
        "effort-off-percent",
        33,
        0,
        100,
        "%",
        "share of the lines told within 14 days that must be far off in the same direction, besides effort-off-lines",
        _CUSTOM,
        off=inf,
    ),
    Threshold(
        "effort-off-lines",
        2,
        1,
        20,
        "lines",
        "lines far off in the same direction within 14 days before a runner is on the list for effort",
        _CUSTOM,
        off=inf,
    ),
    Threshold(
        "longest-run-percent",
        10,
        0,
        100,
        "%",
        "how far one run may go beyond the longest of the 30 days before it without being told",
        "Frandsen 2025 (seen): more injuries beyond 10 %; told, never a gate",
        off=inf,
    ),
    Threshold(
        "climb-as-flat",
        8,
        0,
        20,
        "m/m",
        "metres on the flat that one metre of climb counts as, when a run's pace is compared",
        "hill races, 7.5-9.1 by the fit chosen (computed); 7.92 in Naismith's rule (from memory)",
        off=0,
    ),
)
