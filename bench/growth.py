"""How the fit of one runner grows: with sessions, with lines, with loads that can be made, and with weeks.

Times are processor time of this process, the least of three. Growth is the exponent of a power law between the smallest and
the largest size: 1 is linear.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from time import process_time

from ferrule.fit.build import Laid
from ferrule.fit.cycle import fit_cycle
from ferrule.fit.runner import lay
from ferrule.fit.solve import solve
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.house import House
from ferrule.model.squad import Anchor, KitItem, Runner, Squad
from ferrule.programme.reader import read_programme

PLACE = Span("squad.csv", 2)
MONDAY = date(2026, 1, 5)
LINES = (
    "Step-up: 8/side, 2 RIR", "Heel raise, one leg: 10-12/side, 3 RIR", "Press-up: 8-10, 3 RIR", "Split squat: 8/side, 3 RIR",
    "Hinge, one leg: 8/side, 2 RIR", "Towel row: 10, 3 RIR", "Side plank: 20-30 s/side", "Squat: 10, 3 RIR",
    "Heel raise, knee bent, one leg: 10/side, 3 RIR", "Bridge, one leg: 8/side", "Front plank: 30 s", "Lateral lunge: 8/side, 3 RIR",
)  # fmt: skip


def programme_text(sessions: int, lines: int, weeks: int) -> str:
    """A programme of one cycle: `sessions` a week, each of one straight block of `lines`."""
    out = [
        f"---\nprogramme: Growth\nweeks: {weeks}\nsessions: {sessions} a week\n---\n\n## Cycle 1, weeks 1-{weeks}: Growth\n"
    ]
    for s in range(sessions):
        out.append(f"\n### Session {s + 1}, 120 min\n\nStraight, 2-3 sets, rest 60 s\n\n")
        out += [f"- {LINES[(s + i) % len(LINES)]}\n" for i in range(lines)]
    return "".join(out)


def runner(loads: int) -> Runner:
    """A runner who may train every day, with `loads` dumbbells."""
    kit = (
        KitItem("mat"),
        KitItem("step", height_cm=30),
        *(KitItem("dumbbell", 1, kg=2.0 + n) for n in range(loads)),
    )
    days = tuple(range(7))
    return Runner(
        "T01", "Tess", "some", kit, days, (), Anchor("from", MONDAY, PLACE), PLACE, sex="female", mass_kg=60.0
    )


def _least_ms(work: Callable[[], object]) -> float:
    best = math.inf
    for _ in range(3):
        start = process_time()
        work()
        best = min(best, process_time() - start)
    return 1000 * best


def _week(library: Library, house: House, sessions: int, lines: int, loads: int) -> tuple[float, float, int, bool]:
    """(ms to lay out, ms to solve, options, proven) of one week of these sizes."""
    programme, _ = read_programme(programme_text(sessions, lines, 4), "p.md", library)
    who = runner(loads)
    laid = lay(programme, who, library, house, MONDAY)
    assert isinstance(laid, Laid)
    answer = solve(laid.problem)
    options = sum(len(line.options) for line in laid.problem.lines)
    return (
        _least_ms(lambda: lay(programme, who, library, house, MONDAY)),
        _least_ms(lambda: solve(laid.problem)),
        options,
        answer.proven,
    )


def run() -> list[tuple[str, float, str]]:
    """Rows: milliseconds at each size, and the exponents."""
    library, _ = load_library()
    house = House(changed={"session-gap-h": 12})
    _week(library, house, 1, 2, 1)  # imports
    rows: list[tuple[str, float, str]] = []
    unproven = 0
    axes: tuple[tuple[str, tuple[tuple[int, int, int], ...]], ...] = (
        ("sessions a week", ((1, 6, 4), (2, 6, 4), (4, 6, 4), (6, 6, 4))),
        ("lines a session", ((3, 2, 4), (3, 4, 4), (3, 8, 4), (3, 12, 4))),
        ("dumbbells owned", ((3, 6, 0), (3, 6, 4), (3, 6, 12), (3, 6, 36))),
    )
    for n, (name, sizes) in enumerate(axes):
        laying, solving, counts = [], [], []
        for size in sizes:
            lay_ms, solve_ms, options, proven = _week(library, house, *size)
            unproven += not proven
            laying.append(lay_ms)
            solving.append(solve_ms)
            counts.append(options)
            what = f"{size[n]} {name}, {options} options"
            rows += [(f"{what}: lay out", lay_ms, "ms"), (f"{what}: solve", solve_ms, "ms")]
        if n < 2:
            over = math.log(counts[-1] / counts[0])
            rows.append((f"growth with options, {name}: lay out", math.log(laying[-1] / laying[0]) / over, "exponent"))
            rows.append((f"growth with options, {name}: solve", math.log(solving[-1] / solving[0]) / over, "exponent"))
        else:  # only the best loads of each exercise reach the solver
            over = math.log(sizes[-1][n] / sizes[1][n])
            rows.append((f"growth with {name}: lay out", math.log(laying[-1] / laying[1]) / over, "exponent"))
    rows.append(("weeks not proven optimal", float(unproven), "weeks"))
    programme, _ = read_programme(programme_text(3, 6, 16), "p.md", library)
    squad = Squad("squad.csv", (runner(6), replace(runner(2), id="T02")))
    taken = {}
    for weeks in (1, 4, 16):
        taken[weeks] = _least_ms(lambda n=weeks: fit_cycle(programme, squad, library, house, MONDAY, n))  # type: ignore[misc]
        rows.append((f"{weeks} weeks of two runners", taken[weeks], "ms"))
    rows.append(("growth with weeks", math.log(taken[16] / taken[1]) / math.log(16), "exponent"))
    far = timedelta(weeks=15)
    alone = _least_ms(lambda: fit_cycle(programme, squad, library, house, MONDAY + far, 1))
    rows.append(("the sixteenth week alone, over one of sixteen", 16 * alone / taken[16], "ratio"))
    return rows
