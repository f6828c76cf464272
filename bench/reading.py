"""Reading a programme beside markdown-it-py alone on the same text, in one run; and growth with length."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from time import process_time

from markdown_it import MarkdownIt

from ferrule.library.reader import load_library
from ferrule.programme.reader import read_programme

_HEAD = "---\nprogramme: Ridge legs\nweeks: 9\nsessions: 3 a week\nneeds: mat; step; one dumbbell\n---\n"
_SESSION = """
### Session {n}: calf and hip, 35 min

Warm-up, 1 round

- Ankle rock: 8/side
- Dead bug: 6/side
- Lateral lunge: 5/side, no weight

Pair A, 4 rounds, rest 75-90 s

- Step-up: 5-7/side, 2 RIR, tempo 2-0-1
  note: Push through the whole foot; no bounce off the floor.
- Press-up: 10, 3 RIR
  - or Press-up, hands raised: 12-15

| week          | {a} | {b} | {c} |
|---------------|-----|-----|-----|
| rounds        | 3   |     |     |
| Step-up: reps | 7   | 7   |     |

Straight, 3 sets, rest 2 min

- any hinge, one leg: 8/side, 2 RIR
- Split squat: 8/side, 12 kg at chest, RPE 8
"""


def programme_of(cycles: int) -> str:
    """A programme of `cycles` cycles of three sessions; 3 cycles are some 250 lines."""
    parts = [_HEAD.replace("weeks: 9", f"weeks: {3 * cycles}")]
    for cycle in range(cycles):
        first = 3 * cycle + 1
        parts.append(
            f"\n## Cycle {cycle + 1}, weeks {first}-{first + 2}: Part {cycle + 1}\nAim: one thing at a time.\n"
        )
        parts += [_SESSION.format(n=n, a=first, b=first + 1, c=first + 2) for n in (1, 2, 3)]
    return "".join(parts)


def _first_lines(lines: int) -> str:
    text = programme_of(lines // 80 + 1).split("\n")
    return "\n".join(text[:lines]) + "\n"


def _best_ms(own: Callable[[], object], peer: Callable[[], object], rounds: int) -> tuple[float, float]:
    """The least CPU time of each, ms, taken in turn so that both see the same machine."""
    best = [float("inf"), float("inf")]
    for _ in range(rounds):
        for place, work in enumerate((own, peer)):
            start = process_time()
            work()
            best[place] = min(best[place], process_time() - start)
    return best[0] * 1000, best[1] * 1000


def run() -> list[tuple[str, float, str]]:
    """(name, value, unit) of each measure: best of several rounds, reader and peer in turn."""
    library, _ = load_library()
    peer = MarkdownIt("commonmark").enable("table")
    found: list[tuple[str, float, str]] = []
    per_line: dict[int, float] = {}
    for lines, rounds in ((120, 40), (1_000, 8), (10_000, 3)):
        text = _first_lines(lines)
        own_ms, peer_ms = _best_ms(partial(read_programme, text, "p.md", library), partial(peer.parse, text), rounds)
        per_line[lines] = own_ms / lines
        found.append((f"read {lines} lines", own_ms, "ms"))
        found.append((f"read {lines} lines beside markdown-it-py", own_ms / peer_ms, "x peer"))
    found.append(("growth of time a line, 120 to 10000 lines", per_line[10_000] / per_line[120], "x"))
    return found


if __name__ == "__main__":
    for name, value, unit in run():
        print(f"{name:48} {value:10.2f} {unit}")
