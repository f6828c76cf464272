"""Reading and checking the demonstration programme, beside a Markdown parser on the same text."""

from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files
from time import process_time

from markdown_it import MarkdownIt

from ferrule.check.rules import RULES
from ferrule.check.run import check
from ferrule.library.reader import load_library
from ferrule.model.house import House
from ferrule.programme.reader import read_programme

ROUNDS = 60


def _best_ms(*works: Callable[[], object]) -> list[float]:
    """The least CPU time of each, ms, taken in turn so that all see the same machine."""
    best = [float("inf")] * len(works)
    for _ in range(ROUNDS):
        for place, work in enumerate(works):
            start = process_time()
            work()
            best[place] = min(best[place], process_time() - start)
    return [1000 * b for b in best]


def run() -> list[tuple[str, float, str]]:
    """(what, number, unit) lines. The goal is a ratio of at most 4 and checks under 20 ms."""
    data = (files("ferrule.demo") / "programme.md").read_bytes()
    text = data.decode()
    library, _ = load_library({})
    house = House()
    programme, _ = read_programme(data, "programme.md", library)
    parser = MarkdownIt("commonmark").enable("table")

    def read() -> None:
        read_programme(data, "programme.md", library)

    peer, reads, checks = _best_ms(lambda: parser.parse(text), read, lambda: check(programme, library, house))
    return [
        ("markdown-it-py parses the programme", peer, "ms"),
        ("ferrule reads it", reads, "ms"),
        (f"its {len(RULES)} checks", checks, "ms"),
        ("checks, times the parse", checks / peer, "x peer"),
        ("read and check, times the parse (goal 4 or less)", (reads + checks) / peer, "x peer"),
    ]


if __name__ == "__main__":
    for what, number, unit in run():
        print(f"{number:8.2f} {unit:6} {what}")
