"""The fit of one runner's week: CP-SAT beside HiGHS on the same Problem, growth with choices, and a thousand runners."""

from __future__ import annotations

import os
import time
from dataclasses import replace
from datetime import date
from importlib import resources
from statistics import median, quantiles

from bench.highs_week import solve_highs
from ferrule.fit.build import Laid
from ferrule.fit.runner import lay, outcome_of
from ferrule.fit.solve import solve
from ferrule.fit.squad import fit_squad
from ferrule.library.reader import load_library
from ferrule.model.fitted import Impossible
from ferrule.model.house import House
from ferrule.model.squad import Runner, Squad
from ferrule.programme.reader import read_programme
from ferrule.squad.reader import read_squad

MONDAY = date(2026, 1, 19)
THOUSAND = int(os.environ.get("BENCH_RUNNERS", "1000"))


def run() -> list[tuple[str, float, str]]:
    """Rows: per-runner times of laying out, solving and both; the peer; the share proven; the squad on two processes."""
    demo = resources.files("ferrule.demo")
    library, _ = load_library()
    programme, _ = read_programme(demo.joinpath("programme.md").read_bytes(), "programme.md", library)
    squad, _ = read_squad(demo.joinpath("squad.csv").read_bytes(), "squad.csv", library)
    house = House()
    fit_squad(programme, replace(squad, runners=squad.runners[:1]), library, house, MONDAY)  # imports

    laying, solving, whole, peer, stuck, busy, worse, proven, weeks = [], [], [], [], [], [], 0, 0, 0
    for runner in squad.runners:
        start, start_cpu = time.perf_counter(), time.process_time()
        laid = lay(programme, runner, library, house, MONDAY)
        if not isinstance(laid, Laid):
            continue
        laid_at = time.perf_counter()
        answer = solve(laid.problem)
        solved_at = time.perf_counter()
        outcome = outcome_of(laid, answer)
        done = time.perf_counter()
        if isinstance(outcome, Impossible):
            stuck.append(1000 * (done - start))  # ways out are tried: told apart
        busy.append(1000 * (time.process_time() - start_cpu))
        weeks += 1
        proven += answer.proven
        laying.append(1000 * (laid_at - start))
        solving.append(1000 * (solved_at - laid_at))
        whole.append(1000 * (done - start))
        peer_start = time.perf_counter()
        levels = solve_highs(laid.problem)
        peer.append(1000 * (time.perf_counter() - peer_start))
        worse += levels != (answer.levels[0], *answer.levels[2:4])
    rows = [
        ("runners laid out", float(weeks), "runners"),
        ("proven optimal", 100 * proven / weeks, "%"),
        ("lay out one week, median", median(laying), "ms"),
        ("solve one week, median", median(solving), "ms"),
        ("whole, median", median(whole), "ms"),
        ("whole, p95", quantiles(whole, n=20)[-1], "ms"),
        ("whole, most", max(whole), "ms"),
        ("processor time of the whole, median", median(busy), "ms"),
        ("processor time of the whole, p95", quantiles(busy, n=20)[-1], "ms"),
        ("an impossible runner, ways out tried, most", max(stuck, default=0.0), "ms"),
        ("HiGHS on the same weeks, median", median(peer), "ms"),
        ("HiGHS over CP-SAT, median of solve", median(p / s for p, s in zip(peer, solving, strict=True)), "x peer"),
        ("weeks where the two optima differ", float(worse), "weeks"),
    ]
    many = Squad("squad.csv", tuple(_copy(squad.runners[n % len(squad.runners)], n) for n in range(THOUSAND)))
    start = time.perf_counter()
    loose = House(changed={"changes-a-week": 1000})
    fit_squad(programme, many, library, loose, MONDAY, workers=2, lanes=0)
    rows.append((f"{THOUSAND} runners, two processes, without lanes", time.perf_counter() - start, "s"))
    rows.append((f"{THOUSAND} runners, a runner", 1000 * (time.perf_counter() - start) / THOUSAND, "ms"))
    return rows


def _copy(runner: Runner, n: int) -> Runner:
    """The same kind of runner, a little lighter or heavier, so that no two weeks are the same value."""
    mass = 55.0 + n % 31 if runner.mass_kg is None else runner.mass_kg + n % 7
    return replace(runner, id=f"N{n:04d}", mass_kg=mass)
