"""What an editor waits for (CPU time): choices at the cursor, the squad's spread on a pause of typing, a pasted programme."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from time import process_time

from ferrule.fit import while_writing
from ferrule.fit.while_writing import spread
from ferrule.library.reader import load_library
from ferrule.model.house import House
from ferrule.programme.complete import complete
from ferrule.programme.paste import paste
from ferrule.squad.reader import read_squad

REPEATS = 3


def run() -> list[tuple[str, float, str]]:
    """(what, number, unit): the goals are 10 ms for choices and 150 ms for the spread of 24 runners."""
    library, _ = load_library({})
    demo = files("ferrule.demo")
    text = (demo / "programme.md").read_text(encoding="utf-8")
    squad, _ = read_squad((demo / "squad.csv").read_bytes(), "squad.csv", library)
    house = House()
    times: list[float] = []
    for number, line in enumerate(text.split("\n"), 1):
        for column in range(1, len(line) + 2, 3):
            best = float("inf")
            for _ in range(REPEATS):
                start = process_time()
                complete(text, number, column, library)
                best = min(best, process_time() - start)
            times.append(best * 1000)
    times.sort()
    cold = float("inf")
    for _ in range(REPEATS):
        while_writing.forget()
        start = process_time()
        spread(text, squad, library, house, 4)
        cold = min(cold, process_time() - start)
    changed = [text.replace("- Press-up: 8-12, 2 RIR", f"- Press-up: 8-{n}, 2 RIR") for n in (13, 14, 15)]
    warm = float("inf")
    for other in changed:
        start = process_time()
        spread(other, squad, library, house, 4)
        warm = min(warm, process_time() - start)
    rows = [
        ("choices, middle place of the demonstration programme", times[len(times) // 2], "ms"),
        ("choices, slowest place (goal under 10)", times[-1], "ms"),
        (f"spread of {len(squad.runners)} runners on a week, first call (goal under 150)", cold * 1000, "ms"),
        ("spread after one line was changed", warm * 1000, "ms"),
    ]
    samples = sorted((Path(__file__).parents[1] / "golden" / "paste").glob("*.txt"))
    start = process_time()
    for path in samples:
        paste(path.read_bytes(), path.name, library)
    rows.append(("paste one short programme", (process_time() - start) * 1000 / max(1, len(samples)), "ms"))
    return rows


if __name__ == "__main__":
    for what, number, unit in run():
        print(f"{number:8.2f} {unit:6} {what}")
