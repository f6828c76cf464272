"""Safety rules and convergence over at least 2,000 simulated runner-weeks; the result stands in docs/dry-run.md.

python -m bench dry_run
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from importlib.resources import files
from itertools import count

import numpy as np

from ferrule.library.reader import load_library
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.programme.reader import read_programme
from ferrule.simulate.dry_run import DryRun, LineDone, dry_run
from ferrule.simulate.dry_run_squad import HOMES, invented_squad
from ferrule.simulate.dry_run_summary import CONVERGED, strata_of, summary_of
from ferrule.squad.reader import read_squad

Row = tuple[str, float, str]
RUNNERS, WEEKS = 24, 6
RUNNER_WEEKS = 2_000
FIRST_SEED = 100
FAIR_RUNS = 2
RULES = ("raised after pain", "stopped region loaded", "jump", "contacts", "novelty")


def demo() -> Programme:
    """The programme of the demo."""
    library = load_library()[0]
    return read_programme(files("ferrule.demo").joinpath("programme.md").read_bytes(), "programme.md", library)[0]


def one(seed: int, *, fair: bool = False, full_kit: bool = False) -> DryRun:
    """One squad of RUNNERS through WEEKS weeks. full_kit: every home holds the last of HOMES."""
    library, text = load_library()[0], demo()
    squad = invented_squad(text, library, RUNNERS, seed)
    if full_kit:
        row = f'id,name,kit\nA,A,"{HOMES[-1]}"\n'
        kit = read_squad(row.encode(), "kit", library)[0].runners[0].kit
        squad = replace(squad, runners=tuple(replace(r, kit=kit, sites=()) for r in squad.runners))
    return dry_run(text, squad, library, House(), WEEKS, seed=seed, fair=fair)


def runs() -> Iterator[DryRun]:
    """Squads one after the other, until so many runner-weeks were sent."""
    sent = 0
    for seed in count(FIRST_SEED):
        found = one(seed)
        sent += len(found.sent)
        print(f"  seed {seed}: {sent} runner-weeks, {len(found.broken)} broken", file=sys.stderr, flush=True)
        for b in found.broken:
            print(f"    {b.rule}: {b.runner_id} week {b.week} {b.where}: {b.what}", file=sys.stderr, flush=True)
        for why, many in summary_of(found).not_sent:
            print(f"    not sent {many}: {why}", file=sys.stderr, flush=True)
        yield found
        if sent >= RUNNER_WEEKS:
            return


def share(lines: Iterable[LineDone], effort: str) -> float:
    """Share of `lines` with that effort."""
    every = [x.effort == effort for x in lines]
    return float(np.mean(every)) if every else float("nan")


def run() -> list[Row]:
    """Both worlds, as rows."""
    start, every = time.process_time(), list(runs())
    spent = time.process_time() - start
    sent = [w for r in every for w in r.sent]
    lines = [x for w in sent for x in w.lines]
    broken = Counter(b.rule for r in every for b in r.broken)
    rows: list[Row] = [
        ("runner-weeks sent", float(len(sent)), "runner-weeks"),
        ("squads", float(len(every)), f"seeds from {FIRST_SEED}"),
        ("processor time", 1000 * spent / max(1, len(sent)), "ms a runner-week"),
        *((f"broken: {rule}", float(broken[rule]), "times") for rule in RULES),
    ]
    rows.append(
        ("runner-weeks not sent", float(sum(w.outcome != "sent" for r in every for w in r.weeks)), "runner-weeks")
    )
    rows += [(f"effort {e}", 100 * share(lines, e), "% of dosed lines") for e in ("too easy", "right", "too hard")]
    rows.append(("sets failed", 100 * sum(x.failed for x in lines) / max(1, sum(x.sets for x in lines)), "% of sets"))
    rows.append(("runner-weeks with pain", 100 * float(np.mean([w.hurt >= 1 for w in sent])), "%"))
    rows.append(("stalled lines", float(sum(len(summary_of(r).stalls) for r in every)), "runner-lines"))
    for s in strata_of(lines):
        rows.append(
            (
                f"stated {s.low:.2f}-{s.high:.2f}: {s.sets} sets, stated {100 * s.stated:.1f} %",
                100 * s.happened,
                "% completed",
            )
        )
        rows.append(("   95 % from", 100 * s.least, f"to {100 * s.most:.1f} %" + ("" if s.enough else ", too few")))
    return rows + fair_rows("invented homes", full_kit=False) + fair_rows("full kit", full_kit=True)


def fair_rows(name: str, *, full_kit: bool) -> list[Row]:
    """In a fair world: share of the lines that can be in the band which are, by week; and of runners who got there."""
    found = [one(FIRST_SEED + n, fair=True, full_kit=full_kit) for n in range(FAIR_RUNS)]
    stated = [x for r in found for w in r.sent for x in w.lines if x.stated]
    rows: list[Row] = [(f"fair, {name}: lines with a stated effort", float(len(stated)), "lines")]
    rows.append(
        (f"fair, {name}: that can be in the band", 100 * float(np.mean([bool(x.reachable) for x in stated])), "%")
    )
    for week in range(1, WEEKS + 1):
        rows.append(
            (
                f"fair, {name}: of these in the band in week {week}",
                100 * share((x for x in stated if x.reachable and x.week == week), "right"),
                "%",
            )
        )
        rows.append(
            (
                f"fair, {name}:   and too hard",
                100 * share((x for x in stated if x.reachable and x.week == week), "too hard"),
                "%",
            )
        )
    there = [week for r in found for _, week in summary_of(r).there]
    for week in (1, 2, 3, 4):
        got = 100 * float(np.mean([0 < x <= week for x in there]))
        rows.append((f"fair, {name}: runners with {CONVERGED:.0%} of them by week {week}", got, f"% of {len(there)}"))
    arrived = [x for x in there if 0 < x <= 4]
    rows.append(
        (
            f"fair, {name}: median week of those by week 4",
            float(np.median(arrived)) if arrived else float("nan"),
            "week",
        )
    )
    rows.append((f"fair, {name}: safety rules broken", float(sum(len(r.broken) for r in found)), "times"))
    return rows
