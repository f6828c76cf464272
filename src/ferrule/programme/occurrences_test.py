from __future__ import annotations

from dataclasses import replace

from ferrule.model.finding import Span
from ferrule.model.programme import Cycle, Programme, ProgrammeWeek, Session
from ferrule.model.quantity import Range
from ferrule.programme.occurrences import Occurrence, occurrences

PLACE = Span("programme.md", 1)
ONE = Session("1", "legs", 30, (), PLACE)


def times(*sessions: Session, a_week: Range | None = None) -> tuple[Occurrence, ...]:
    cycle = Cycle("1", "", 1, 4, sessions, PLACE)
    programme = Programme("programme.md", "", 4, a_week, (), (), (cycle,))
    return occurrences(programme, ProgrammeWeek("", 1, "1", "", 1, sessions))


def test_a_session_without_words_is_done_once() -> None:
    (only,) = times(ONE)
    assert only.session == ONE
    assert (only.number, only.of, only.track, only.optional) == (1, 1, "", False)


def test_one_written_session_three_times_a_week() -> None:
    # Beyer 2015 (programmes reference): one session, three times a week.
    keys = [o.session.key for o in times(ONE, a_week=Range.of(3))]
    assert keys == ["1 (1 of 3)", "1 (2 of 3)", "1 (3 of 3)"]


def test_two_sessions_taken_in_turn() -> None:
    two = replace(ONE, key="2")
    bases = [o.base for o in times(ONE, two, a_week=Range.of(3))]
    assert bases == [0, 1, 0]
    assert [o.base for o in times(ONE, two, a_week=Range.of(2))] == [0, 1]


def test_sessions_with_a_day_of_their_own_are_not_taken_in_turn() -> None:
    two = replace(ONE, key="2", day=3)
    assert [(o.base, o.session.day) for o in times(replace(ONE, day=1), two, a_week=Range.of(4))] == [(0, 1), (1, 3)]


def test_a_session_s_own_number_rules_and_its_range_is_optional_at_the_top() -> None:
    found = times(replace(ONE, times_a_week=Range(2, 3)), replace(ONE, key="2"), a_week=Range.of(9))
    assert [(o.base, o.optional) for o in found] == [(0, False), (1, False), (0, False), (0, True)]


def test_every_day_twice_a_day_is_a_track_of_its_own() -> None:
    # Alfredson 1998 (programmes reference): twice a day, seven days a week.
    found = times(replace(ONE, every_days=1, twice_a_day=True))
    assert len(found) == 14
    assert {(o.track, o.gap_h) for o in found} == {("1", 8.0)}


def test_every_second_day_and_named_days() -> None:
    # Riel 2019 (programmes reference): every second day.
    assert len(times(replace(ONE, every_days=2))) == 4
    assert [o.session.day for o in times(replace(ONE, days=(1, 4)))] == [1, 4]
