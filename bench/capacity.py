"""What folding a log costs: one set, a week of a thousand runners from their checkpoints, and growth with the log."""

from __future__ import annotations

import os
import time
from datetime import date, timedelta

import numpy as np

from ferrule.capacity.belief import belief
from ferrule.capacity.fold import fold, fold_kept
from ferrule.capacity.offsets import share_offsets
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Outcome, Reserve
from ferrule.model.exercise import Library, Variant
from ferrule.model.finding import Span
from ferrule.model.squad import Runner

START = date(2026, 1, 5)
THOUSAND = int(os.environ.get("BENCH_RUNNERS", "1000"))
KINDS = 24
"""Logs drawn; each runner of a larger squad keeps one of them under an id of its own."""
SETS_A_WEEK = 72


def run() -> list[tuple[str, float, str]]:
    """Rows: microseconds a set, seconds for a thousand runners' week and for the squad's pass, growth from 12 to 48 weeks."""
    library, _ = load_library()
    logs = [_log(library, f"R{n:02d}", 48, seed=n) for n in range(KINDS)]
    runners = [_runner(f"R{n:02d}") for n in range(KINDS)]
    fold(runners[0], library, until=_sunday(1), sets=logs[0])  # imports and caches

    took = {}
    for weeks in (12, 24, 48):
        sets = [[e for e in log if e.day <= _sunday(weeks)] for log in logs[:6]]
        start = time.perf_counter()
        for runner, mine in zip(runners, sets, strict=False):
            fold(runner, library, until=_sunday(weeks), sets=mine)
        took[weeks] = (time.perf_counter() - start) / sum(map(len, sets))

    short = [[e for e in log if e.day <= _sunday(12)] for log in logs]
    states, starts = {}, []
    for runner, mine in zip(runners, short, strict=True):
        before = [e for e in mine if e.day <= _sunday(11)]
        states[runner.id], _, kept = fold_kept(runner, library, until=_sunday(11), sets=before)
        starts.append(kept[-1])
    begin = time.perf_counter()
    for n in range(THOUSAND):
        at = n % KINDS
        state, _ = fold(runners[at], library, until=_sunday(12), sets=short[at], start=starts[at])
        belief(state, library, 60.0)
    week = time.perf_counter() - begin

    many = {f"N{n:04d}": states[f"R{n % KINDS:02d}"] for n in range(THOUSAND)}
    begin = time.perf_counter()
    shared = share_offsets(many, library, 1, _sunday(11))
    shared_s = time.perf_counter() - begin
    begin = time.perf_counter()
    for runner, mine in zip(runners, short, strict=True):
        fold(runner, library, until=_sunday(12), sets=mine, offsets=shared)
    again = (time.perf_counter() - begin) / KINDS
    return [
        ("one set folded, log of 12 weeks", 1e6 * took[12], "us"),
        ("one set folded, log of 48 weeks", 1e6 * took[48], "us"),
        ("a set of 48 weeks over a set of 12 (1 is linear)", took[48] / took[12], "ratio"),
        ("sets of one runner in a week", float(SETS_A_WEEK), "sets"),
        (f"{THOUSAND} runners, one week from checkpoints, with beliefs, one process", week, "s"),
        (f"offsets of {THOUSAND} runners shared", shared_s, "s"),
        ("one runner's 12 weeks folded again with shared offsets", 1000 * again, "ms"),
    ]


def _sunday(weeks: int) -> date:
    return START + timedelta(7 * weeks - 1)


def _runner(name: str) -> Runner:
    return Runner(name, name, "some", (), (0,), (), None, Span("squad.csv", 2, 1), birth_year=1990, mass_kg=60.0)


def _log(library: Library, name: str, weeks: int, seed: int) -> list[LoggedSet]:
    """Three sessions a week of eight exercises and three sets; reports of every kind."""
    rng = np.random.default_rng(seed)
    pool = [v for v in library.variants.values() if v.main is not None and v.dose_kind in ("reps", "hold")]
    sets = []
    for week in range(weeks):
        mine = [pool[i] for i in np.random.default_rng([seed, week // 4]).choice(len(pool), 24, replace=False)]
        for session in range(3):
            day = START + timedelta(7 * week + 2 * session)
            for item, variant in enumerate(mine[8 * session : 8 * session + 8]):
                sets += [_set(rng, name, day, session, item, variant, number) for number in (1, 2, 3)]
    return sets


def _set(
    rng: np.random.Generator, name: str, day: date, session: int, item: int, variant: Variant, number: int
) -> LoggedSet:
    hold = variant.dose_kind == "hold"
    done = float(rng.integers(20, 60) if hold else rng.integers(5, 16))
    left = int(rng.integers(0, 5))
    outcome: Outcome = "failed" if rng.random() < 0.15 else "counted"
    reserve = None if hold or outcome == "failed" else Reserve(left, None if left == 4 else left)
    return LoggedSet(
        f"{name}-{day}-{item}-{number}", name, day, f"s{session}", f"i{item}", variant.id, number, outcome,
        "s" if hold else "reps", done, done, reserve,
    )  # fmt: skip
