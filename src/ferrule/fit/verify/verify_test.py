"""A fit broken on purpose is refused: one mutation a rule."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import time, timedelta

import pytest

from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedSession, FittedWeek, LoadChoice
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.quantity import Range
from ferrule.model.squad import Hold, Limit, Run, Runner, Sore, Wish

Week = tuple[FittedWeek, Runner]


@pytest.fixture(scope="module")
def week(programme: Programme, library: Library, house: House, make_runner: MakeRunner) -> Week:
    runner = make_runner()
    fitted = fit_runner(programme, runner, library, house, MONDAY)
    assert isinstance(fitted, FittedWeek)
    return fitted, runner


@pytest.fixture
def codes(programme: Programme, library: Library) -> Callable[..., set[str]]:
    def check(week: FittedWeek, runner: Runner, house: House | None = None) -> set[str]:
        found = verify(week, programme, runner, library, house or House(), capacity_of(runner, MONDAY))
        assert all(f.level == "error" for f in found)
        return {f.code.removeprefix("verify-") for f in found}

    return check


def with_session(week: FittedWeek, n: int, session: FittedSession) -> FittedWeek:
    return replace(week, sessions=(*week.sessions[:n], session, *week.sessions[n + 1 :]))


def with_item(week: FittedWeek, name: str, change: Callable[[FittedItem], FittedItem]) -> FittedWeek:
    """The week with the first line whose written name is `name` changed."""
    for n, session in enumerate(week.sessions):
        for b, block in enumerate(session.blocks):
            for i, item in enumerate(block.items):
                if item.written == name:
                    items = (*block.items[:i], change(item), *block.items[i + 1 :])
                    blocks = (*session.blocks[:b], replace(block, items=items), *session.blocks[b + 1 :])
                    return with_session(week, n, replace(session, blocks=blocks))
    raise AssertionError(f"no line {name}")


def test_what_the_solver_gave_passes(week: Week, codes: Callable[..., set[str]]) -> None:
    assert codes(*week) == set()


def test_times(week: Week, codes: Callable[..., set[str]]) -> None:
    fitted, runner = week
    first, second = fitted.sessions[:2]
    assert "day" in codes(with_session(fitted, 0, replace(first, day=MONDAY - timedelta(days=1))), runner)
    assert "day" in codes(with_session(fitted, 0, replace(first, day=MONDAY + timedelta(days=1))), runner)
    assert "gap" in codes(with_session(fitted, 1, replace(second, day=first.day + timedelta(days=1))), runner)
    assert "order" in codes(replace(fitted, sessions=tuple(reversed(fitted.sessions))), runner)
    assert "hours" in codes(fitted, replace(runner, runs=(Run(first.day.weekday() + 1, "key", time(5)),)))
    assert "hours" in codes(fitted, replace(runner, races=(first.day + timedelta(days=1),)))
    busy = tuple(Run(d, "easy") for d in range(7) if d not in {s.day.weekday() for s in fitted.sessions})
    assert "rest-day" in codes(fitted, replace(runner, runs=busy))


def test_place(week: Week, codes: Callable[..., set[str]]) -> None:
    fitted, runner = week
    assert codes(replace(fitted, monday=MONDAY + timedelta(days=7)), runner) == {"place"}
    assert codes(replace(fitted, programme_week=99), runner) == {"place"}
    assert codes(fitted, replace(runner, id="X")) == {"runner"}
    assert codes(fitted, replace(runner, holds=(Hold("pregnant", None, None, PLACE),))) == {"held"}


def test_lines(week: Week, codes: Callable[..., set[str]]) -> None:
    fitted, runner = week
    assert "sessions" in codes(replace(fitted, sessions=fitted.sessions[:2]), runner)
    session = fitted.sessions[0]
    last = session.blocks[-1]
    gone = replace(session, blocks=(*session.blocks[:-1], replace(last, items=last.items[:1])))
    assert "line" in codes(with_session(fitted, 0, gone), runner)
    more = with_item(fitted, "Press-up", lambda i: replace(i, reps=Range(30, 30)))
    assert "line" in codes(more, runner)
    silent = with_item(fitted, "Step-up", lambda i: replace(i, variant_id="squat", name="Squat", reasons=(), load=None))
    assert "line" in codes(silent, runner)


def test_what_is_not_allowed(week: Week, codes: Callable[..., set[str]]) -> None:
    fitted, runner = week
    assert "allowed" in codes(fitted, replace(runner, kit=()))
    limit = Limit("knee", "both", None, None, "physiotherapist", "knees: nothing", PLACE)
    assert "allowed" in codes(fitted, replace(runner, limits=(limit,)))
    assert "allowed" in codes(fitted, replace(runner, sore=(Sore("knee", "left", 7, PLACE),)))
    assert "allowed" in codes(
        fitted, replace(runner, wishes=(Wish("no pattern", "no heel raises", pattern="heel raise"),))
    )
    heavy = LoadChoice(99, "hands", ("99 kg dumbbell",))
    assert "allowed" in codes(with_item(fitted, "Step-up", lambda i: replace(i, load=heavy)), runner)


def test_amounts(week: Week, codes: Callable[..., set[str]]) -> None:
    fitted, runner = week
    session = fitted.sessions[0]
    assert "minutes" in codes(with_session(fitted, 0, replace(session, minutes=session.minutes + 5)), runner)
    assert "minutes" in codes(fitted, replace(runner, minutes=10))
    assert "contacts" in codes(fitted, runner, House(changed={"contacts-a-session": 5}))
    pair = next(b for b in session.blocks if b.kind == "pair")
    one, two = (LoadChoice(kg, "hands", (f"adjustable dumbbell at {kg} kg",)) for kg in (8, 12))
    items = (replace(pair.items[0], load=one), replace(pair.items[1], load=two), *pair.items[2:])
    clash = replace(session, blocks=tuple(replace(b, items=items) if b is pair else b for b in session.blocks))
    assert "pair-kit" in codes(with_session(fitted, 0, clash), runner)


def test_effort(week: Week, codes: Callable[..., set[str]]) -> None:
    fitted, runner = week

    def flatter(item: FittedItem) -> FittedItem:
        assert item.prediction is not None
        return replace(item, prediction=replace(item.prediction, share=item.prediction.share * 0.9))

    def hopeful(item: FittedItem) -> FittedItem:
        assert item.prediction is not None
        return replace(item, prediction=replace(item.prediction, p_complete=0.0))

    assert "share" in codes(with_item(fitted, "Press-up", flatter), runner)
    assert "chance" in codes(with_item(fitted, "Press-up", hopeful), runner)
    prices = tuple(replace(p, value=p.value + 10) if p.level == "effort" else p for p in fitted.prices)
    assert codes(replace(fitted, prices=prices), runner) == {"objective"}
