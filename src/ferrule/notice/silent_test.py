"""Three silences, and what is none."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from ferrule.model.entry import Reserve, TimeAway
from ferrule.model.fact import Asked, Entry, Fact, RunTold, SessionTold, WeekTold
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.notice.due import due
from ferrule.notice.sample import MONDAY, entry, runner, squad, told_set, week
from ferrule.notice.told import Due

WEEKS = [week("R01", MONDAY + timedelta(weeks=w)) for w in range(6)]


def rows(after: int, *facts: Fact | Entry, house: House | None = None) -> list[Due]:
    entries = [f if isinstance(f, Entry) else entry("R01", f) for f in facts]
    now = MONDAY + timedelta(days=after)
    return list(due(squad(runner("R01")), WEEKS, entries, house or House(), now))


def day(n: int) -> date:
    return MONDAY + timedelta(days=n)


@pytest.mark.parametrize(("after", "found"), [(9, 0), (10, 1), (30, 1)])
def test_gone_is_days_since_the_first_session_without_a_word(after: int, found: int) -> None:
    assert len(rows(after)) == found


def test_gone_is_told_with_the_last_word_and_the_sessions_since() -> None:
    found = rows(16, SessionTold(day(2), "s2", "did", rating=5))
    assert [r.tier for r in found] == ["silent"]
    assert found[0].since == day(4)
    assert "last word on Wed 21 Jan; 6 sessions since Fri 23 Jan" in found[0].facts[0]


def test_the_weekly_answer_is_a_word_about_all_of_its_week() -> None:
    assert not rows(16, WeekTold(MONDAY, "all", "right", pain=False))
    assert rows(17, WeekTold(MONDAY, "all", "right", pain=False))


def test_a_run_from_a_file_is_no_word_but_is_told() -> None:
    found = rows(12, RunTold(day(11), 10.0, 55.0))
    assert found[0].facts[-1] == "runs are known, the last on Fri 30 Jan"


def test_days_away_are_no_silence_and_days_away_with_kit_are() -> None:
    away = TimeAway("R01", day(0), day(12), "holiday")
    assert not rows(12, away)
    assert not rows(23, away), "counted from the first session after it"
    assert rows(24, away)
    assert rows(12, TimeAway("R01", day(0), day(12), "holiday", kit="band"))


def test_an_answer_begins_the_count_again() -> None:
    first = rows(12)[0]
    spoken = Asked(day(12), "rang", first.keys[0], "Coach A")
    answer = entry("R01", spoken, source="coach")
    assert not rows(20, answer)
    assert rows(24, answer)


def test_none_done_is_another_silence_than_none_told() -> None:
    none = [
        SessionTold(day(n), s, "none", why="time") for n, s in ((0, "s1"), (2, "s2"), (4, "s3"), (7, "s1"), (9, "s2"))
    ]
    found = rows(10, *none)
    assert len(found[0].facts) == 5
    assert "not done (time)" in found[0].facts[0]
    assert "What gets in the way" in found[0].draft
    did = SessionTold(day(10), "s9", "did", rating=5)
    assert not rows(10, *none, did)


def test_one_session_left_out_before_days_away_with_kit_is_not_ten_days_of_not_doing() -> None:
    skipped = SessionTold(day(2), "s2", "none", why="time")
    away = TimeAway("R01", day(3), day(9), "holiday", kit="band")
    home = [week("R01", MONDAY), week("R01", MONDAY + timedelta(weeks=1), days=())]

    def of(after: int, weeks: list[FittedWeek], *facts: Fact) -> list[str]:
        entries = [entry("R01", f) for f in facts]
        found = due(squad(runner("R01")), weeks, entries, House(), MONDAY + timedelta(days=after))
        return [f for r in found for f in r.facts if "not done" in f]

    assert of(12, WEEKS, skipped), "ten days, each in a week with sessions"
    assert not of(12, WEEKS, skipped, away)
    assert not of(12, home, skipped), "the second week was never sent"


@pytest.mark.parametrize("why", ["ill", "pain", "away"])
def test_not_done_for_a_reason_of_its_own_is_no_silence(why: str) -> None:
    told = [SessionTold(day(n), f"s{n}", "none", why=why) for n in (0, 2, 4, 7, 9, 11)]  # type: ignore[arg-type]
    assert not [r for r in rows(12, *told) if r.tier == "silent"]


def test_done_and_not_said_how_is_told_after_twice_as_long() -> None:
    taps = [told_set("R01", day(n), session=f"s{n}") for n in (0, 2, 4, 7, 9, 11, 14, 16, 18)]
    assert not rows(19, *taps)
    found = rows(20, *taps)
    assert "not said how hard" in found[0].facts[0]
    assert not rows(20, *taps, told_set("R01", day(18), line="i2", reserve=Reserve(2, 2)))


def test_it_can_be_switched_off() -> None:
    assert not rows(40, house=House({"silent-days": float("inf")}))
