"""Reading and checking the demonstration programme, beside a Markdown parser on the same text."""

from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files
from time import perf_counter

from markdown_it import MarkdownIt

from ferrule.check.run import check
from ferrule.library.reader import load_library
from ferrule.model.house import House
from ferrule.programme.reader import read_programme

REPEATS = 30


def _best_ms(work: Callable[[], object]) -> float:
    """The quickest of REPEATS runs, ms: the one least disturbed by whatever else the machine does."""
    best = float("inf")
    for _ in range(REPEATS):
        start = perf_counter()
        work()
        best = min(best, perf_counter() - start)
    return best * 1000


def run() -> list[tuple[str, float, str]]:
    """(what, number, unit) lines. The goal is a ratio of at most 4 and checks under 20 ms."""
    data = (files("ferrule.demo") / "programme.md").read_bytes()
    text = data.decode()
    library, _ = load_library({})
    house = House()
    programme, _ = read_programme(data, "programme.md", library)
    parser = MarkdownIt("commonmark").enable("table")

    def read_and_check() -> None:
        read, _ = read_programme(data, "programme.md", library)
        check(read, library, house)

    peer = _best_ms(lambda: parser.parse(text))
    ours = _best_ms(read_and_check)
    checks = _best_ms(lambda: check(programme, library, house))
    return [
        ("markdown-it-py parses the programme", peer, "ms"),
        ("ferrule reads and checks it", ours, "ms"),
        ("its checks alone", checks, "ms"),
        ("read and check, times the parse (goal 4 or less)", ours / peer, "x peer"),
    ]


if __name__ == "__main__":
    for what, number, unit in run():
        print(f"{number:8.2f} {unit:6} {what}")
