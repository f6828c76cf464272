"""Key and long runs against the runner's own weeks."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from ferrule.model.fact import RunTold
from ferrule.model.house import House
from ferrule.model.squad import Run, Runner
from ferrule.notice.run_kind import kinds
from ferrule.notice.sample import MONDAY, runner


def usual(weeks: int = 4) -> list[RunTold]:
    """Three runs of 8 km in 48 min a week."""
    return [RunTold(MONDAY + timedelta(weeks=w, days=d), 8.0, 48.0) for w in range(weeks) for d in (1, 3, 5)]


LATER = MONDAY + timedelta(weeks=4)


def last(run: RunTold, before: list[RunTold] | None = None, who: Runner | None = None) -> tuple[str, str]:
    found = kinds([*(usual() if before is None else before), run], who, House())[-1]
    assert found.run == run
    return found.kind, found.because


@pytest.mark.parametrize(
    ("km", "minutes", "climb", "kind"),
    [
        (8.0, 48.0, None, "easy"),
        (14.0, 90.0, None, "long"),
        (10.0, 60.0, None, "easy"),
        (8.0, 44.0, None, "key"),
        (8.0, 46.5, None, "easy"),
        (8.0, 55.0, 300.0, "key"),
        (8.0, None, None, "easy"),
    ],
)
def test_longer_or_faster_than_usual(km: float, minutes: float | None, climb: float | None, kind: str) -> None:
    assert last(RunTold(LATER, km, minutes, climb))[0] == kind


def test_what_was_told_stands() -> None:
    assert last(RunTold(LATER, 30.0, 150.0, kind="easy")) == ("easy", "as told")


def test_a_race_day_of_the_squad_list_is_a_race() -> None:
    assert last(RunTold(LATER, 8.0, 48.0), who=replace(runner("R01"), races=(LATER,)))[0] == "race"


def test_the_usual_week_speaks_where_nothing_stands_out_or_little_is_known() -> None:
    who = replace(runner("R01"), runs=(Run(0, "key"), Run(6, "long")))
    assert last(RunTold(LATER, 8.0, 48.0), who=who) == ("key", "Mon is key in the usual week")
    assert last(RunTold(LATER + timedelta(days=6), 12.0, None), [], who)[0] == "long"
    assert last(RunTold(LATER + timedelta(days=2), 12.0, None), [], who)[0] == ""


def test_only_the_longest_of_its_week_is_long() -> None:
    longer = RunTold(LATER + timedelta(days=5), 18.0, 120.0)
    found = kinds([*usual(), RunTold(LATER, 14.0, 90.0), longer], None, House())
    assert [k.kind for k in found[-2:]] == ["easy", "long"]


def test_words_say_why() -> None:
    assert last(RunTold(LATER, 14.0, 90.0))[1] == "longest of its week, 1.8 times the usual 8.0 km"
    assert last(RunTold(LATER, 8.0, 44.0))[1] == "9% faster than the usual pace"
