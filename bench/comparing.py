"""Comparing and showing the demonstration programme; and how comparing grows with the lines of a programme."""

from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files
from time import process_time

from bench.reading import programme_of
from ferrule.deliver.score import score_of_session
from ferrule.deliver.written import written_text, written_week
from ferrule.deliver.written_page import written_page
from ferrule.library.reader import load_library
from ferrule.programme.compare import compare
from ferrule.programme.reader import read_programme
from ferrule.programme.weeks import week_of


def _best_ms(work: Callable[[], object], rounds: int) -> float:
    """The least CPU time of some rounds, ms."""
    best = float("inf")
    for _ in range(rounds):
        start = process_time()
        work()
        best = min(best, process_time() - start)
    return best * 1000


def run() -> list[tuple[str, float, str]]:
    """(what, number, unit) lines. Growth is of the time a line; 1 is linear."""
    library, _ = load_library({})
    text = (files("ferrule.demo") / "programme.md").read_text(encoding="utf-8")
    old, _ = read_programme(text, "p.md", library)
    new, _ = read_programme(
        text.replace("/side, 2 RIR", "/side, 1-2 RIR").replace("- Dead bug", "- Plank"), "p.md", library
    )
    week = week_of(old, 5)
    assert week is not None
    found = [
        ("compare the demo programme with itself", _best_ms(lambda: compare(old, old), 20), "ms"),
        ("compare it with an edited one", _best_ms(lambda: compare(old, new), 20), "ms"),
        ("show a week as text", _best_ms(lambda: written_text(written_week(old, week, library)), 20), "ms"),
        ("score of a session", _best_ms(lambda: score_of_session(week.sessions[0], library), 20), "ms"),
        ("show a week as a page", _best_ms(lambda: written_page(old, week, library), 20), "ms"),
    ]
    per_line: list[float] = []
    for cycles, rounds in ((3, 10), (30, 3), (120, 2)):
        longer = programme_of(cycles)
        lines = longer.count("\n")
        before, _ = read_programme(longer, "p.md", library)
        after, _ = read_programme(longer.replace("Dead bug: 6", "Dead bug: 8"), "p.md", library)
        ms = _best_ms(lambda a=before, b=after: compare(a, b), rounds)  # type: ignore[misc]
        per_line.append(ms / lines)
        found.append((f"compare {lines} lines, {3 * cycles} weeks", ms, "ms"))
    found.append(("growth of time a line, least to most lines", per_line[-1] / per_line[0], "x"))
    return found


if __name__ == "__main__":
    for what, number, unit in run():
        print(f"{number:8.2f} {unit:6} {what}")
