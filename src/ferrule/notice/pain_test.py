"""Which pain needs a word, and what goes before other pain."""

from __future__ import annotations

from datetime import date, timedelta
from typing import get_args

import pytest

from ferrule.model.entry import LoggedSet, TimeAway
from ferrule.model.fact import Asked, Entry, PainTold, RedFlag, SessionTold, WeekTold
from ferrule.model.house import House
from ferrule.model.red_flags import RED_FLAG_TAIL, RED_FLAGS, SIGNS
from ferrule.notice.due import due
from ferrule.notice.sample import MONDAY, entry, runner, squad, told_set
from ferrule.notice.told import Due

NOW = MONDAY + timedelta(days=16)


def rows(*entries: Entry, born: int | None = 1990, later: int = 0) -> list[Due]:
    return list(due(squad(runner("R01", birth_year=born)), (), entries, House(), NOW + timedelta(days=later)))


def told(worst: int | None, morning: int | None = None, *, day: date = MONDAY, **more: object) -> Entry:
    return entry("R01", PainTold(day, "calf", "left", worst, morning, **more))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("worst", "morning", "because"),
    [
        (0, None, None),
        (2, 0, None),
        (3, 1, None),
        (3, None, None),
        (4, None, "above the line of 3"),
        (2, 4, "above the line of 3"),
        (2, 2, "not settled by the next morning"),
        (None, 2, "not settled by the next morning"),
        (None, 1, None),
        (None, None, "no number was told"),
    ],
)
def test_a_word_is_needed_above_the_line_and_when_it_has_not_settled(
    worst: int | None, morning: int | None, because: str | None
) -> None:
    """Silbernagel 2007 as summarised: settled by next morning. The line of 3 is the house's."""
    found = rows(told(worst, morning))
    assert [r.tier for r in found] == ([] if because is None else ["pain"])
    if because:
        assert because in found[0].facts[0]
        assert found[0].since == MONDAY


def test_rising_from_week_to_week_is_told_whatever_the_number() -> None:
    week = timedelta(days=7)
    assert not rows(told(2), told(2, day=MONDAY + week))
    found = rows(told(1), told(2, day=MONDAY + week))
    assert "1 higher than in the weeks before" in found[0].facts[0]
    assert rows(told(1), told(2, day=MONDAY + 2 * week))
    assert not rows(told(1), told(2, day=MONDAY + 3 * week), later=30), "too long ago to compare with"
    assert not rows(told(0), told(2, day=MONDAY + week)), "new pain is not rising pain"


@pytest.mark.parametrize("flag", get_args(RedFlag))
def test_every_flag_goes_first_and_says_stop_and_medical_help(flag: RedFlag) -> None:
    """Independent of any score: here the pain is told as nothing."""
    found = rows(told(0, 0, flags=(flag,)))
    assert [r.tier for r in found] == ["red flag"]
    assert all(sign in found[0].facts[0] for sign in SIGNS[flag])
    assert "Stop, and get medical help" in found[0].draft
    assert (RED_FLAG_TAIL in found[0].draft) == (flag == "chest or faint")


def test_a_flag_stays_until_it_is_answered_even_when_pain_is_told_as_gone() -> None:
    flagged = told(3, flags=("night or rest",))
    gone = told(0, 0, day=MONDAY + timedelta(days=2))
    assert [r.tier for r in rows(flagged, gone)] == ["red flag"]
    answer = entry("R01", Asked(NOW, "see a doctor", flagged.entry_id, "Coach A"), source="coach")
    assert not rows(flagged, gone, answer)


def test_pain_told_as_gone_is_off_the_list_and_comes_back_with_new_pain() -> None:
    gone = told(0, 0, day=MONDAY + timedelta(days=2))
    assert not rows(told(5), gone)
    again = rows(told(5), gone, told(4, day=MONDAY + timedelta(days=3)))
    assert again[0].since == MONDAY + timedelta(days=3)
    assert len(again[0].facts) == 1


def test_an_answer_takes_off_what_was_told_before_it_and_nothing_after() -> None:
    first = told(5)
    answer = entry("R01", Asked(MONDAY + timedelta(days=1), "leave it out", first.entry_id, "Coach A"), source="coach")
    assert not rows(first, answer)
    later = told(6, day=MONDAY + timedelta(days=4))
    assert [r.since for r in rows(first, answer, later)] == [MONDAY + timedelta(days=4)]


def test_each_place_is_taken_by_itself_in_one_row() -> None:
    knee = entry("R01", PainTold(MONDAY + timedelta(days=1), "knee", "right", 5))
    found = rows(told(5), knee)
    assert len(found) == 1
    assert [f.split(",")[1].strip() for f in found[0].facts] == [
        "left calf 5 of 10: above the line of 3",
        "right knee 5 of 10: above the line of 3",
    ]
    assert len(found[0].keys) == 2
    assert "left calf and right knee" in found[0].draft


@pytest.mark.parametrize(
    ("born", "tier"), [(1990, None), (2007, None), (2008, "red flag"), (2012, "red flag"), (None, None)]
)
def test_a_growth_site_in_the_young_goes_up_a_tier(born: int | None, tier: str | None) -> None:
    found = rows(entry("R01", PainTold(MONDAY, "knee", "left", 2, 0)), born=born)
    assert [r.tier for r in found] == ([tier] if tier else [])


@pytest.mark.parametrize(
    "fact",
    [
        LoggedSet("", "R01", MONDAY, "s1", "i1", "step-up", 1, "counted", done=3, stopped="pain"),
        SessionTold(MONDAY, "s1", "part", why="pain"),
        WeekTold(MONDAY, "some", None, pain=True),
        TimeAway("R01", MONDAY, MONDAY + timedelta(days=9), "injury"),
    ],
    ids=lambda f: type(f).__name__,
)
def test_pain_that_was_only_hinted_at_needs_a_word(fact: LoggedSet | SessionTold | WeekTold | TimeAway) -> None:
    hinted = entry("R01", fact)
    found = rows(hinted)
    assert [r.tier for r in found] == ["pain"]
    assert "Where is it" in found[0].draft
    answer = entry("R01", Asked(NOW, "spoken", found[0].keys[0], "Coach A"), source="coach")
    assert not rows(hinted, answer)


def test_a_hint_is_not_told_twice_when_the_pain_itself_was_told() -> None:
    assert not rows(told(2, 0), entry("R01", WeekTold(MONDAY, "all", "right", pain=True)))


def test_no_draft_names_a_cause_or_promises_safety() -> None:
    drafts = " ".join(r.draft for r in (*rows(told(5)), *rows(told(5, flags=("pop",)))))
    for word in ("safe", "strain", "tear", "tendin", "fracture", "injur", "probably"):
        assert word not in drafts.lower()
    assert all(sign in rows(told(5))[0].draft for sign in RED_FLAGS)


def test_a_set_without_pain_says_nothing() -> None:
    assert not rows(entry("R01", told_set("R01", MONDAY)))
