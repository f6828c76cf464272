"""Time away and races moved: the rule of docs/squad.md, the week that is laid, and before and after in words."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.entry import TimeAway
from ferrule.model.finding import Span
from ferrule.model.squad import Absence, Anchor, KitItem, Runner
from ferrule.squad.away import difference, in_week, moved_race, with_away
from ferrule.squad.place import away_words, last_monday, lost_days, programme_week, week_away

SPAN = Span("squad.csv", 2)
MONDAY = date(2026, 1, 5)
MAT, BELL = KitItem("mat"), KitItem("kettlebell", kg=12)


def runner(anchor: str = "from", day: date = MONDAY, days: tuple[int, ...] = (0, 2, 4)) -> Runner:
    return Runner(
        "R01",
        "Arla T",
        "some",
        (MAT, BELL),
        days,
        (),
        Anchor("from" if anchor == "from" else "to race", day, SPAN),
        SPAN,
        races=() if anchor == "from" else (day,),
    )


def monday(n: int) -> date:
    """The Monday of the n-th calendar week from 5 January 2026."""
    return MONDAY + timedelta(weeks=n - 1)


def away(first: date, last: date, kit: str | None = None) -> TimeAway:
    return TimeAway("R01", first, last, "holiday", kit)


def gone(who: Runner, *aways: TimeAway) -> Runner:
    after, findings = with_away(who, aways)
    assert not findings
    return after


def weeks(who: Runner, many: int = 9, programme_weeks: int = 6) -> list[int | None]:
    return [programme_week(who, programme_weeks, monday(n)) for n in range(1, many + 1)]


def test_a_from_programme_waits_for_a_week_away() -> None:
    after = gone(runner(), away(monday(3), monday(4) + timedelta(days=6)))
    assert weeks(after) == [1, 2, None, None, 3, 4, 5, 6, None]
    assert last_monday(after, 6) == monday(8)
    assert away_words(after, 6, monday(3)) == f"away until {monday(4) + timedelta(days=6)}"
    assert away_words(after, 6, monday(9)) == f"the programme ended with the week of {monday(8)}"


def test_towards_a_race_a_week_away_is_passed_over() -> None:
    after = gone(runner("to race", monday(6) + timedelta(days=6)), away(monday(3), monday(3) + timedelta(days=6)))
    assert weeks(after, 7) == [1, 2, None, 4, 5, 6, None]
    assert last_monday(after, 6) == monday(6)


def test_a_week_with_one_possible_day_left_is_laid_on_what_is_left() -> None:
    after = gone(runner(), away(monday(2) + timedelta(days=1), monday(2) + timedelta(days=6)))
    assert weeks(after, 6) == [1, 2, 3, 4, 5, 6]
    assert lost_days(after, monday(2)) == {1, 2, 3, 4, 5, 6}
    assert in_week(after, monday(2)).days == (0,)
    assert in_week(after, monday(1)) == after
    assert not week_away(after, monday(2))


def test_who_named_no_days_is_away_only_when_all_seven_are_lost() -> None:
    six = gone(runner(days=()), away(monday(2), monday(2) + timedelta(days=5)))
    assert programme_week(six, 6, monday(2)) == 2
    assert in_week(six, monday(2)).days == (6,)
    seven = gone(runner(days=()), away(monday(2), monday(2) + timedelta(days=6)))
    assert programme_week(seven, 6, monday(2)) is None


def test_two_times_away_that_meet_are_one() -> None:
    one = gone(runner(), away(monday(2), monday(3) + timedelta(days=6)))
    two = gone(
        runner(),
        away(monday(3) - timedelta(days=2), monday(3) + timedelta(days=6)),
        away(monday(2), monday(3) - timedelta(days=1)),
    )
    assert weeks(one) == weeks(two) == [1, None, None, 2, 3, 4, 5, 6, None]


def test_time_away_before_the_programme_or_before_joining_moves_nothing() -> None:
    assert weeks(gone(runner(), away(monday(1) - timedelta(days=14), monday(1) - timedelta(days=1)))) == weeks(runner())
    late = Runner("R01", "A", "some", (), (0,), (), runner().anchor, SPAN, starts=monday(3))
    assert weeks(gone(late, away(monday(1), monday(2))), 6) == [None, None, 3, 4, 5, 6]


def test_kit_meanwhile_is_trained_with_and_nothing_waits() -> None:
    after = gone(runner(), away(monday(2), monday(2) + timedelta(days=6), "mat; dumbbell 8 kg x 2"))
    assert weeks(after, 6) == [1, 2, 3, 4, 5, 6]
    assert in_week(after, monday(2)).kit == (MAT, KitItem("dumbbell", 2, 8.0))
    assert in_week(after, monday(3)).kit == (MAT, BELL)


def test_a_week_with_both_kits_is_laid_with_what_is_in_both() -> None:
    after = gone(runner(), away(monday(2) + timedelta(days=2), monday(2) + timedelta(days=6), "mat; dumbbell 8 kg"))
    assert in_week(after, monday(2)).kit == (MAT,)


def test_the_runners_own_kit_and_none_at_all() -> None:
    assert in_week(gone(runner(), away(monday(2), monday(2), "")), monday(2)).kit == (MAT, BELL)
    assert in_week(gone(runner(), away(monday(2), monday(2) + timedelta(days=6), "no kit")), monday(2)).kit == ()


def test_kit_that_cannot_be_read_is_told() -> None:
    after, findings = with_away(runner(), [away(monday(2), monday(2), "widget 3 kg; mat")])
    assert [f.code for f in findings] == ["unreadable-kit"]
    assert after.away == (Absence(monday(2), monday(2), (MAT,)),)


def test_another_runners_time_away_is_not_theirs() -> None:
    assert with_away(runner(), [TimeAway("R02", monday(1), monday(2), "illness")]) == (runner(), ())


def test_before_and_after_in_words() -> None:
    after = gone(runner(), away(monday(3), monday(4) + timedelta(days=6)))
    assert difference(runner(), after, 6, {monday(3)}) == (
        "Week of 19 Jan 2026: away (was programme week 3). Already sent: the copy stays as it is.",
        "Week of 26 Jan 2026: away (was programme week 4).",
        "Weeks of 2 Feb 2026 to 9 Feb 2026: programme weeks 3 to 4 (were 5 to 6).",
        "Weeks of 16 Feb 2026 to 23 Feb 2026: programme weeks 5 to 6 (was none).",
        "The programme ends in the week of 23 Feb 2026 (was 9 Feb 2026).",
    )


def test_days_lost_in_words() -> None:
    after = gone(runner(), away(monday(2) + timedelta(days=2), monday(2) + timedelta(days=3)))
    assert difference(runner(), after, 6) == ("Week of 12 Jan 2026: programme week 2 as before, without Wed.",)
    assert difference(runner(), runner(), 6) == ()


def test_a_race_two_weeks_later_in_words() -> None:
    before = runner("to race", monday(6) + timedelta(days=6))
    after, was = moved_race(before, monday(8) + timedelta(days=5))
    assert was == monday(6) + timedelta(days=6)
    assert after.races == (monday(8) + timedelta(days=5),)
    assert difference(before, after, 6, {monday(1), monday(2)}) == (
        "Weeks of 5 Jan 2026 to 12 Jan 2026: no week of the programme (were programme weeks 1 to 2). "
        "Already sent: the copies stay as they are.",
        "Weeks of 19 Jan 2026 to 9 Feb 2026: programme weeks 1 to 4 (were 3 to 6).",
        "Weeks of 16 Feb 2026 to 23 Feb 2026: programme weeks 5 to 6 (was none).",
        "The programme ends in the week of 23 Feb 2026 (was 9 Feb 2026).",
    )


def test_a_race_that_is_no_anchor_moves_no_week() -> None:
    before = Runner("R01", "A", "some", (), (0,), (), runner().anchor, SPAN, races=(monday(4), monday(6)))
    assert moved_race(before, monday(5)) == (before, None), "which of the two?"
    after, was = moved_race(before, monday(5), monday(4))
    assert (after.races, was) == ((monday(5), monday(6)), monday(4))
    assert difference(before, after, 6) == ()
    assert moved_race(before, monday(5), monday(3)) == (before, None), "there is no race on that day"
    assert moved_race(runner(), monday(5)) == (runner(), None), "there is no race at all"


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.lists(st.tuples(st.integers(0, 80), st.integers(0, 30)), max_size=4),
    st.sets(st.integers(0, 6)),
    st.randoms(use_true_random=False),
)
def test_weeks_come_in_order_each_once_in_any_order_of_arrival(
    spans: list[tuple[int, int]], days: set[int], order: object
) -> None:
    told = [away(MONDAY + timedelta(days=a), MONDAY + timedelta(days=a + b)) for a, b in spans]
    after = gone(runner(days=tuple(sorted(days))), *told)
    order.shuffle(told)  # type: ignore[attr-defined]
    assert gone(runner(days=tuple(sorted(days))), *told) == after
    seen = [w for w in weeks(after, 40) if w is not None]
    assert seen == [1, 2, 3, 4, 5, 6], "a programme that waits leaves nothing out and gives nothing twice"


@pytest.mark.parametrize("n", range(1, 7))
def test_laying_a_week_twice_changes_nothing(n: int) -> None:
    after = gone(runner(), away(monday(2) + timedelta(days=2), monday(4), "mat"), away(monday(5), monday(5)))
    assert in_week(in_week(after, monday(n)), monday(n)) == in_week(after, monday(n))
