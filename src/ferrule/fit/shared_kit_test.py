"""Two runners of one home: one piece at a time, by another start where the rules let it, else told."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import pytest

from ferrule.fit.conftest import KIT, MONDAY, MakeRunner
from ferrule.fit.shared_kit import at_once, both_want, pieces_owned, pieces_wanted
from ferrule.fit.squad import fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedSession, FittedWeek, SquadWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import KitItem, Run, Runner, Site, Squad

STEP = KIT[:4]
"""A mat, one step, a chair, a stair."""


def session(day: int = 0, start: time | None = time(18), minutes: float = 40, *fetch: str) -> FittedSession:
    monday = MONDAY.replace(day=MONDAY.day + day)
    return FittedSession("u", "1", "", monday, start, minutes, (), fetch, (), None)


def together(
    runners: tuple[Runner, Runner], programme: Programme, library: Library, house: House
) -> tuple[SquadWeek, list[FittedWeek]]:
    one, two = (replace(r, shares=(o.id,)) for r, o in zip(runners, reversed(runners), strict=True))
    week = fit_squad(programme, Squad("s", (one, two)), library, house, MONDAY)
    fitted = [o for o in week.outcomes if isinstance(o, FittedWeek)]
    assert len(fitted) == 2
    return week, fitted


def clashes(weeks: list[FittedWeek], runners: tuple[Runner, Runner]) -> list[tuple[str, str]]:
    owned = pieces_owned(r.kit for r in runners)
    return [
        (a.key, b.key) for a in weeks[0].sessions for b in weeks[1].sessions if at_once(a, b) and both_want(a, b, owned)
    ]


def test_what_is_wanted_and_owned_is_counted_by_piece() -> None:
    wanted = pieces_wanted(
        session(0, None, 40, "two 8 kg dumbbells", "8 kg dumbbell", "rucksack with two 1 kg heavy books", "mat", "20 cm step",
                "adjustable dumbbell at 6 kg", "two adjustable dumbbells at 4 kg", "10 kg plate", "thin band")
    )  # fmt: skip
    assert wanted == {
        "8 kg dumbbell": 2, "rucksack": 1, "20 cm step": 1, "adjustable dumbbell": 2, "10 kg plate": 1, "thin band": 1,
    }  # fmt: skip
    kit = (
        KitItem("dumbbell", 2, kg=8),
        KitItem("dumbbell", 1, kg=2, up_to_kg=20, step_kg=2),
        KitItem("band", band="thin"),
    )
    owned = pieces_owned((kit, (*kit, KitItem("step", height_cm=20), KitItem("rucksack", kg=0, up_to_kg=12))))
    assert owned == {"8 kg dumbbell": 2, "adjustable dumbbell": 1, "thin band": 1, "20 cm step": 1, "rucksack": 1}


def test_one_dumbbell_each_of_a_pair_is_enough_for_both() -> None:
    one, pair = session(0, None, 40, "8 kg dumbbell"), session(0, None, 40, "two 8 kg dumbbells")
    assert both_want(one, one, {"8 kg dumbbell": 2}) == ()
    assert both_want(one, pair, {"8 kg dumbbell": 2}) == ("8 kg dumbbell",)


@pytest.mark.parametrize(
    ("a", "b", "same"),
    [
        (session(), session(), True),
        (session(), session(1), False),
        (session(), session(0, time(18, 40)), False),
        (session(), session(0, time(18, 30)), True),
        (session(), session(0, None), True),
        (session(0, time(12)), session(0, None), False),
    ],
)
def test_what_may_overlap(a: FittedSession, b: FittedSession, same: bool) -> None:
    assert at_once(a, b) is at_once(b, a) is same


def test_strangers_are_left_alone(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    pair = make_runner(kit=STEP), make_runner(id="T02", kit=STEP)
    alone = fit_squad(programme, Squad("s", pair), library, house, MONDAY)
    weeks = [o for o in alone.outcomes if isinstance(o, FittedWeek)]
    assert clashes(weeks, pair)
    assert [replace(s, uid="") for s in weeks[0].sessions] == [replace(s, uid="") for s in weeks[1].sessions]


def test_at_one_home_the_second_starts_at_another_time(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    pair = make_runner(kit=STEP), make_runner(id="T02", name="Ulf V", kit=STEP)
    week, weeks = together(pair, programme, library, house)
    assert clashes(weeks, pair) == []
    assert week.findings == ()
    said = [r.text for s in weeks[1].sessions for r in s.reasons if "shares" in r.text]
    assert said
    assert all("30 cm step" in text for text in said)
    assert all(s.start is not None for s in weeks[1].sessions if any("shares" in r.text for r in s.reasons))


def test_where_the_evening_is_the_only_time_the_second_follows_the_first(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    """An easy run at ten every morning leaves no morning session; the two follow each other in the evening."""
    runs = tuple(Run(d, "easy", time(10)) for d in (0, 2, 4))
    pair = make_runner(kit=STEP, runs=runs, days=(0, 2, 4)), make_runner(id="T02", kit=STEP, runs=runs, days=(0, 2, 4))
    _, weeks = together(pair, programme, library, house)
    assert clashes(weeks, pair) == []
    for a, b in zip(weeks[0].sessions, weeks[1].sessions, strict=True):
        if a.day == b.day and {"30 cm step"} & {*a.fetch} & {*b.fetch}:
            assert a.start is not None
            assert b.start is not None
            assert {a.start.hour, b.start.hour} & {17, 18, 19}


def test_what_cannot_be_parted_is_told() -> None:
    from ferrule.fit.shared_kit import part
    from ferrule.model.finding import Span

    place = Span("squad.csv", 2, 1)
    base = Runner("R01", "Ann", "some", (KitItem("step", height_cm=20),), (0,), (), None, place, shares=("R02",))
    runners = {"R01": base, "R02": replace(base, id="R02", name="Bo", shares=("R01",))}
    week = FittedWeek("R01", "Ann", "p", 1, "c", MONDAY, (session(0, time(18), 40, "20 cm step"),), ())
    weeks = {"R01": week, "R02": replace(week, runner_id="R02")}
    same, told = part(weeks, runners, lambda *_: False)
    assert same == weeks
    assert [f.code for f in told] == ["shared-kit"]
    assert "Ann (R01) and Bo (R02) both need the 20 cm step on Mon 2026-01-19" in told[0].what
    moved, told = part(weeks, runners, lambda *_: True)
    assert told == ()
    assert [s.start for s in moved["R02"].sessions] == [time(18, 45)]
    moved, told = part(weeks, runners, lambda *_: True, {"R02": frozenset("1")})
    assert moved["R02"] == weeks["R02"]
    assert [s.start for s in moved["R01"].sessions] == [time(18, 45)]


def test_a_piece_is_shared_at_a_site_and_not_between_two(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    """Both own one step, at home; on the days one of them is at the club, each has a step of their own."""
    one, two = (make_runner(id=r, kit=STEP, days=(0, 2, 4)) for r in ("T01", "T02"))
    evening = [Run(d, "easy", time(7)) for d in (0, 2, 4)]
    one, two = (replace(r, runs=tuple(evening)) for r in (one, two))
    named = replace(one, sites=(Site("home", STEP, (0, 2, 4)),))
    away = replace(one, sites=(Site("home", STEP, ()), Site("club", STEP, (0, 2, 4))))
    met = replace(two, sites=(Site("Club", STEP, (0, 2, 4)),))
    moved = {}
    for name, (a, b) in {"home": (named, two), "apart": (away, two), "club": (away, met)}.items():
        week, fitted = together((a, b), programme, library, house)
        said = [r.text for w in fitted for s in w.sessions for r in s.reasons if "shares the" in r.text]
        moved[name] = bool(said) or any(f.code == "shared-kit" for f in week.findings)
    assert moved == {"home": True, "apart": False, "club": True}
