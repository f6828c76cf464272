"""Three programmes of invented coaches, whole: nothing wrong is found, tidy, shown, compared, and fitted to the invented squad.

Each asks for something else: two sessions on one day before a race, an injury at home every second day, twelve weeks
for runners over 60 that end in maintenance without an end.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from importlib.resources import files
from pathlib import Path

import pytest

from ferrule.check.run import check
from ferrule.deliver.summary import squad_page
from ferrule.deliver.written import written_text, written_week
from ferrule.fit.squad import fit_squad
from ferrule.library.reader import load_library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek, Held, Impossible, SquadWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.programme.compare import compare
from ferrule.programme.reader import read_programme
from ferrule.programme.tidy import tidy
from ferrule.programme.weeks import week_of
from ferrule.squad.reader import read_squad

ROOT = Path(__file__).parents[1]
TITLES: Mapping[str, str] = {
    "hill-race-twice-a-day": "Uphill legs, eight weeks to a hill race",
    "back-to-running-at-home": "Back to running after a calf strain, at home",
    "over-sixty": "Strong enough for the hills, over 60, twice a week",
}
LIBRARY = load_library()[0]
SQUAD = read_squad((files("ferrule.demo") / "squad.csv").read_bytes(), "squad.csv", LIBRARY)[0]
MONDAY = date(2026, 1, 5)
"""Week 1 of most of the invented squad."""
every = pytest.mark.parametrize("name", TITLES)


def text_of(name: str) -> str:
    return (ROOT / "examples" / f"{name}.md").read_text(encoding="utf-8")


def read(text: str) -> tuple[Programme, tuple[Finding, ...]]:
    return read_programme(text, "programme.md", LIBRARY)


def fitted(name: str, week: int) -> SquadWeek:
    return fit_squad(read(text_of(name))[0], SQUAD, LIBRARY, House(), MONDAY + timedelta(weeks=week - 1))


@every
def test_nothing_wrong_is_found(name: str) -> None:
    programme, findings = read(text_of(name))
    assert programme.title == TITLES[name]
    told = (*findings, *check(programme, LIBRARY, House()))
    assert [f.what for f in told if f.level != "note"] == []


@every
def test_it_is_tidy_and_every_week_is_shown(name: str) -> None:
    text = text_of(name)
    assert tidy(text, "programme.md", LIBRARY)[0] == text
    programme = read(text)[0]
    for number in range(1, programme.weeks + 1):
        week = week_of(programme, number)
        assert week is not None
        shown = written_text(written_week(programme, week, LIBRARY))
        assert all(s.name in shown for s in week.sessions)


def test_one_round_less_is_told_where_it_is_done() -> None:
    text = text_of("hill-race-twice-a-day")
    changed = text.replace("Circuit, 3 rounds, between 15 s", "Circuit, 2 rounds, between 15 s")
    assert changed != text
    said = str(compare(read(text)[0], read(changed)[0]))
    assert "calf and trunk" in said
    assert "springs" not in said


@every
@pytest.mark.parametrize("week", [2, 6])
def test_the_squad_gets_its_weeks(name: str, week: int) -> None:
    squad_week = fitted(name, week)
    impossible = [o for o in squad_week.outcomes if isinstance(o, Impossible)]
    assert all(o.ways_out for o in impossible), "no runner fails the verifier"
    assert sum(isinstance(o, FittedWeek) for o in squad_week.outcomes) >= 18
    assert sum(isinstance(o, Held) for o in squad_week.outcomes) == 3
    assert TITLES[name].split(",")[0] in squad_page(squad_week, LIBRARY, House(), squad=SQUAD)


def test_two_sessions_of_a_day_come_in_the_morning_and_in_the_evening() -> None:
    weeks = [o for o in fitted("hill-race-twice-a-day", 2).outcomes if isinstance(o, FittedWeek)]
    double = [
        (one, two)
        for w in weeks
        for one, two in zip(w.sessions, w.sessions[1:], strict=False)
        if one.day == two.day
    ]  # fmt: skip
    assert len(double) >= 20
    for one, two in double:
        assert one.start is not None
        assert two.start is not None
        assert two.start.hour - one.start.hour >= 6
