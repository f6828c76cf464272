"""Published assignment problems through the seam that solves a runner's week, beside HiGHS on the same rows."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

import highspy

from ferrule.fit.seam import Rows, solve_rows

DATA = Path(__file__).parents[1] / "tests" / "data" / "assignment"


@dataclass(frozen=True, slots=True)
class Assignment:
    """profit[agent][job], takes[agent][job], has[agent]; optimum as published."""

    name: str
    profit: tuple[tuple[int, ...], ...]
    takes: tuple[tuple[int, ...], ...]
    has: tuple[int, ...]
    optimum: int


def problems() -> Iterator[Assignment]:
    """The fifteen problems of gap1 to gap3 with their published optima (OR-Library, see the folder's README)."""
    optima = json.loads((DATA / "optima.json").read_text(encoding="utf-8"))
    for name, values in optima.items():
        numbers = iter(int(x) for x in (DATA / f"{name}.txt").read_text(encoding="ascii").split())
        assert next(numbers) == len(values)
        for place, optimum in enumerate(values, 1):
            agents, jobs = next(numbers), next(numbers)
            profit = tuple(tuple(next(numbers) for _ in range(jobs)) for _ in range(agents))
            takes = tuple(tuple(next(numbers) for _ in range(jobs)) for _ in range(agents))
            has = tuple(next(numbers) for _ in range(agents))
            yield Assignment(f"{name}-{place}", profit, takes, has, optimum)


def rows_of(a: Assignment) -> Rows:
    """The assignment as a 0-1 programme: column agent * jobs + job; the profit with its sign turned."""
    agents, jobs = len(a.has), len(a.profit[0])
    one = [(1, {i * jobs + j: 1 for i in range(agents)}, 1) for j in range(jobs)]
    room = [(None, {i * jobs + j: a.takes[i][j] for j in range(jobs)}, a.has[i]) for i in range(agents)]
    goal = {i * jobs + j: -a.profit[i][j] for i in range(agents) for j in range(jobs)}
    return Rows(agents * jobs, (*one, *room), goal)


def solve_highs_rows(rows: Rows) -> int:
    """The optimum of the same rows by HiGHS, one thread."""
    h = highspy.Highs()  # type: ignore[no-untyped-call]
    h.setOptionValue("output_flag", False)
    h.setOptionValue("threads", 1)
    h.setOptionValue("mip_rel_gap", 0.0)
    h.setOptionValue("mip_abs_gap", 0.5)
    x = [h.addBinary() for _ in range(rows.columns)]
    for least, row, most in rows.rows:
        total = sum(c * x[n] for n, c in row.items())
        if least is not None:
            h.addConstr(total >= least)
        if most is not None:
            h.addConstr(total <= most)
    h.minimize(sum(c * x[n] for n, c in rows.goal.items()))
    return round(h.getObjectiveValue())


def run() -> list[tuple[str, float, str]]:
    """Rows: optima that agree with the published ones, for both; times; how many times longer HiGHS takes."""
    ours, theirs, right, agreed = [], [], 0, 0
    solve_rows(rows_of(next(problems())))  # imports
    every = list(problems())
    for a in every:
        rows = rows_of(a)
        start = time.perf_counter()
        found, _ = solve_rows(rows)
        half = time.perf_counter()
        peer = solve_highs_rows(rows)
        theirs.append(1000 * (time.perf_counter() - half))
        ours.append(1000 * (half - start))
        right += found.proven and -found.values[0] == a.optimum
        agreed += -peer == a.optimum
    return [
        ("problems with a published optimum", float(len(every)), "problems"),
        ("proven optimal and as published", float(right), "problems"),
        ("HiGHS as published", float(agreed), "problems"),
        ("one problem, median", median(ours), "ms"),
        ("one problem, most", max(ours), "ms"),
        ("HiGHS, median", median(theirs), "ms"),
        ("HiGHS over ours, median", median(t / o for t, o in zip(theirs, ours, strict=True)), "x peer"),
    ]
