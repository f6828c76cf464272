from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta

import pytest

from ferrule.capacity.belief import belief
from ferrule.capacity.fold import fold
from ferrule.capacity.offsets import share_offsets
from ferrule.capacity.state import State
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.finding import Span
from ferrule.model.squad import Runner

LIBRARY, _ = load_library()
START = date(2026, 1, 5)
RAISED = "bridge-feet-raised"
RUNNER = Runner(
    "R01", "Ana T", "some", (), (0,), (), None, Span("squad.csv", 2, 1), birth_year=1990, sex="female", mass_kg=60.0
)


def sets(variant: str, days: int, done: float = 8, runner: str = "R01") -> list[LoggedSet]:
    return [
        LoggedSet(
            f"{runner} {variant} {d}", runner, START + timedelta(d), "s1", variant, variant, 1, "counted", done=done,
            reserve=Reserve(2, 2),
        )
        for d in range(days)
    ]  # fmt: skip


def state(*logs: list[LoggedSet], runner: Runner = RUNNER, days_after: int = 3) -> State:
    entries = [e for log in logs for e in log]
    until = max(e.day for e in entries) + timedelta(days_after)
    return fold(runner, LIBRARY, until=until, sets=entries)[0]


def test_the_basis_is_told_in_words() -> None:
    told = belief(state(sets("step-up", 8), sets("split-squat", 4)), LIBRARY, 60.0)
    assert told.basis["knee and hip"][0] == "12 sets of step-up and split squat since 5 January; last 3 days ago"
    assert not told.finding_week
    assert told.basis["push"][0].startswith("press-ups")  # nothing logged: where the norm comes from


def test_few_sets_that_say_little_are_called_so() -> None:
    tap = [replace(e, outcome="tapped", done=None, reserve=None, asked=3.0) for e in sets("heel-raise-one-leg", 1)]
    told = belief(state(tap), LIBRARY, 60.0)
    assert "no information on calf straight yet" in " ".join(told.basis["calf straight"])
    many = belief(state(sets("heel-raise-one-leg", 8)), LIBRARY, 60.0)
    assert "no information" not in " ".join(many.basis["calf straight"])


def test_a_logged_variant_has_a_belief_of_its_own_and_is_known_better_than_its_group() -> None:
    told = belief(state(sets("step-up", 10)), LIBRARY, 60.0)
    assert told.variants["step-up"].sets == 10
    assert told.variants["step-up"].days == 10
    twice = [*sets("step-up", 2), *(replace(e, entry_id=f"again {e.entry_id}", number=2) for e in sets("step-up", 2))]
    assert (belief(state(twice), LIBRARY, 60.0).variants["step-up"].days) == 2
    assert told.variants["step-up"].sd_log < told.sd_log["knee and hip"]
    assert told.of(LIBRARY.variants["step-up"]) == (
        told.variants["step-up"].mean_log,
        told.variants["step-up"].sd_log,
    )


def test_an_anchor_has_no_offset_and_an_unseen_variant_the_doubt_of_its_trust() -> None:
    told = belief(state(sets("step-up", 10)), LIBRARY, 60.0)
    assert told.of(LIBRARY.variants["squat"])[1] == pytest.approx(told.sd_log["knee and hip"])
    unseen = LIBRARY.variants["split-squat"]
    assert unseen.main is not None
    wide = math.hypot(told.sd_log["knee and hip"], told.offset_sd[unseen.main.trust])
    mean, sd = told.of(unseen)
    assert mean == pytest.approx(told.mean_log["knee and hip"])
    assert sd == pytest.approx(wide)


def test_what_the_squad_knows_of_a_variant_is_believed_of_who_has_not_met_it() -> None:
    """Three runners find bridges with the feet raised harder than computed: a fourth is told so before the first set."""
    states = {}
    for name in ("R02", "R03", "R04"):
        who = replace(RUNNER, id=name)
        states[name] = state(sets("bridge-two-legs", 6, 25, name), sets(RAISED, 6, 3, name), runner=who)
    shared = share_offsets(states, LIBRARY, 1, START)
    assert shared.mean[RAISED] > 0.05
    log = sets("bridge-two-legs", 6, 25)
    alone, _ = fold(RUNNER, LIBRARY, until=START + timedelta(9), sets=log)
    told, _ = fold(RUNNER, LIBRARY, until=START + timedelta(9), sets=log, offsets=shared)
    before = belief(alone, LIBRARY, 60.0).of(LIBRARY.variants[RAISED])
    after = belief(told, LIBRARY, 60.0)
    assert after.variants[RAISED].sets == 0
    assert after.of(LIBRARY.variants[RAISED])[0] < before[0] - 0.05
    assert after.of(LIBRARY.variants[RAISED])[1] < before[1]


def test_the_same_strength_counts_less_in_a_heavier_body() -> None:
    one = state(sets("squat", 5))
    light, heavy = belief(one, LIBRARY, 60.0), belief(one, LIBRARY, 66.0)
    assert light.mean_log["push"] - heavy.mean_log["push"] == pytest.approx(math.log(66 / 60))
    assert light.sd_log == heavy.sd_log
    assert light.variants["squat"].mean_log - heavy.variants["squat"].mean_log == pytest.approx(math.log(1.1))
