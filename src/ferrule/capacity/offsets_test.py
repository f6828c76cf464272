from __future__ import annotations

from datetime import date, timedelta

import pytest

from ferrule.capacity.fold import fold
from ferrule.capacity.offsets import NO_OFFSETS, message_of, share_offsets
from ferrule.capacity.state import State
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.finding import Span
from ferrule.model.squad import Runner

LIBRARY, _ = load_library()
START = date(2026, 1, 5)
RAISED = "bridge-feet-raised"
HARDER = {"bridge-two-legs": 25.0, RAISED: 3.0}
"""Feet raised counts as a quarter more than two-leg bridges; these runners find it harder than that."""


def state(name: str, done: dict[str, float]) -> State:
    runner = Runner(name, name, "some", (), (0,), (), None, Span("squad.csv", 2, 1), sex="female", mass_kg=60.0)
    sets = [
        LoggedSet(
            f"{name} {variant} {d}", name, START + timedelta(d), "s1", variant, variant, 1, "counted", done=n,
            reserve=Reserve(2, 2),
        )
        for d in range(5)
        for variant, n in done.items()
    ]  # fmt: skip
    return fold(runner, LIBRARY, until=START + timedelta(5), sets=sets)[0]


def test_before_anybody_has_logged_nothing_is_shared() -> None:
    assert not NO_OFFSETS.context("R01").names
    empty = share_offsets({}, LIBRARY, 1, START)
    assert not empty.names
    assert not empty.context("R01").names


def test_an_anchor_has_no_offset_to_share() -> None:
    one = state("R01", {"squat": 10})
    message = message_of(one)
    assert message is not None
    assert message.names == ("norm:knee and hip",)  # how this squad lies to the norm is all an anchor tells
    assert not share_offsets({"R01": one}, LIBRARY, 1, START).mean


def test_more_runners_make_an_offset_surer() -> None:
    states = {name: state(name, HARDER) for name in ("R01", "R02", "R03", "R04")}
    few = share_offsets({"R01": states["R01"]}, LIBRARY, 1, START)
    many = share_offsets(states, LIBRARY, 2, START)
    assert many.sd[RAISED] < few.sd[RAISED]
    assert many.mean[RAISED] > few.mean[RAISED] > 0
    assert (many.version, many.made_on) == (2, START)


def test_nobody_is_told_back_what_they_said_themselves() -> None:
    states = {name: state(name, HARDER) for name in ("R01", "R02")}
    both = share_offsets(states, LIBRARY, 1, START)
    alone = share_offsets({"R02": states["R02"]}, LIBRARY, 1, START)
    assert both.context("R01").mean == pytest.approx(alone.context("R09").mean)
    assert both.context("R09").mean[0] > both.context("R01").mean[0]


def test_a_late_log_of_one_does_not_move_another_within_the_cycle() -> None:
    states = {name: state(name, HARDER) for name in ("R01", "R02")}
    shared = share_offsets(states, LIBRARY, 1, START)
    before = shared.context("R01")
    states["R02"] = state("R02", {"bridge-two-legs": 25, RAISED: 12})
    assert shared.context("R01").mean == pytest.approx(before.mean)
