"""Beliefs: nobody told means the prior, what was told moves them, order of arrival and corrections do not matter twice."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from ferrule.capacity.belief import belief
from ferrule.capacity.fold import fold
from ferrule.capacity.observation import mass_of
from ferrule.capacity.offsets import share_offsets
from ferrule.capacity.prior import prior_capacity
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Outcome, Reserve
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry
from ferrule.model.finding import Span
from ferrule.model.squad import Anchor, KitItem, Runner, Squad
from ferrule.next.beliefs import beliefs, states_of

MONDAY = date(2026, 2, 2)
LINE = Span("squad.csv", 2, 1)


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library()[0]


def runner(runner_id: str = "R01") -> Runner:
    return Runner(
        runner_id, "Arla", "some", (KitItem("mat"), KitItem("step", height_cm=30)), (0, 2, 4), (),
        Anchor("from", date(2026, 1, 19), LINE), LINE, sex="female", mass_kg=60.0,
    )  # fmt: skip


def squad(*runners: Runner) -> Squad:
    return Squad("squad.csv", runners)


def told(
    n: int, done: float, *, runner_id: str = "R01", day: date = MONDAY - timedelta(days=5), replaces: str = "",
    outcome: Outcome = "counted",
) -> Entry:  # fmt: skip
    at = datetime(2026, 1, 30, 8, n, tzinfo=UTC)
    fact = LoggedSet(
        f"e{n}", runner_id, day, "1", "A1", "step-up", n, outcome, asked=8, done=done, reserve=Reserve(2, 2),
        effort_asked=True,
    )  # fmt: skip
    return Entry(f"e{n}", runner_id, at, "page", fact, replaces)


def test_nobody_told_anything_so_the_fit_takes_the_prior(library: Library) -> None:
    assert beliefs(squad(runner()), library, (), MONDAY) == ({}, ())


def test_what_was_told_is_folded_as_the_estimator_folds_it(library: Library) -> None:
    entries = [told(n, 14) for n in (1, 2, 3)]
    known, _ = beliefs(squad(runner(), runner("R02")), library, entries, MONDAY)
    assert set(known) == {"R01"}
    sets = [e.fact for e in entries if isinstance(e.fact, LoggedSet)]
    state, _ = fold(
        runner(), library, until=MONDAY - timedelta(days=1), sets=[replace(s, recorded_at=datetime(2026, 1, 30, 8, s.number, tzinfo=UTC)) for s in sets]
    )  # fmt: skip
    assert known["R01"] == belief(state, library, mass_of(runner()))
    assert not known["R01"].finding_week
    assert known["R01"].sd_log["knee and hip"] < prior_capacity(runner(), 2026).sd_log["knee and hip"]


def test_only_what_was_done_before_the_monday_counts(library: Library) -> None:
    before, after = told(1, 14), told(2, 30, day=MONDAY)
    assert (
        beliefs(squad(runner()), library, [before, after], MONDAY)[0]
        == beliefs(squad(runner()), library, [before], MONDAY)[0]
    )


def test_order_of_arrival_and_handing_over_twice_change_nothing(library: Library) -> None:
    entries = [told(n, 8 + n) for n in range(1, 7)]
    once, _ = beliefs(squad(runner()), library, entries, MONDAY)
    shuffled = [*entries, *entries]
    random.Random(4).shuffle(shuffled)
    assert beliefs(squad(runner()), library, shuffled, MONDAY)[0] == once


def test_a_correction_stands_in_place_of_what_it_corrects(library: Library) -> None:
    slip, meant = told(1, 80), replace(told(9, 8, replaces="e1"), entry_id="e9")
    fact = meant.fact
    assert isinstance(fact, LoggedSet)
    meant = replace(meant, fact=replace(fact, number=1))
    mended, _ = beliefs(squad(runner()), library, [slip, meant], MONDAY)
    assert mended == beliefs(squad(runner()), library, [replace(meant, replaces="")], MONDAY)[0]


def test_seconds_told_of_repetitions_are_asked_about_with_the_runner_named(library: Library) -> None:
    slip = told(5, 88)
    assert isinstance(slip.fact, LoggedSet)
    slip = replace(slip, fact=replace(slip.fact, unit="s"))
    _, found = beliefs(squad(runner()), library, [*(told(n, 20) for n in range(1, 5)), slip], MONDAY)
    assert [f.code for f in found] == ["log-ask"]
    assert found[0].what.startswith("Arla (R01): ")


def test_the_squads_offsets_reach_a_runner_who_told_nothing(library: Library) -> None:
    """What one runner's sets say of an exercise is shared, and taken out again for that runner: nothing counts twice."""
    entries = [told(n, 20) for n in (1, 2, 3)]
    both = squad(runner(), runner("R02"))
    offsets = share_offsets(states_of(both, library, entries, MONDAY), library, 1, MONDAY)
    known, _ = beliefs(both, library, entries, MONDAY, offsets)
    assert set(known) == {"R01", "R02"}
    assert known["R02"].finding_week
    assert known["R02"].variants["step-up"].sets == 0
