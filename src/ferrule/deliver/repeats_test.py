"""Sessions done several times, told once."""

from dataclasses import replace
from datetime import date, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.deliver import sample, sample_many
from ferrule.deliver.repeats import base_key, dayless, days_words, each_time, repeated, short_days, when_words
from ferrule.model.fitted import Reason

FIRST = sample.first_session()
NO_TIME = Reason("days", "no time is left")


def test_a_session_done_once_is_told_as_ever() -> None:
    one, two = repeated(sample.week().sessions)
    assert (one.title, when_words(one)) == ("Session 1: calf and hip", "Monday 19 January, 18:30, about 34 min")
    assert when_words(two) == "Thursday 22 January, about 28 min"
    assert short_days(one) == "Mon 19"


def test_three_times_are_one_session_with_its_days() -> None:
    (told,) = repeated(sample_many.times_of(FIRST, 3, (0, 2, 4)))
    assert told.title == "Session 1: calf and hip"
    assert when_words(told) == "Monday 19, Wednesday 21 and Friday 23 January, about 34 min each time"
    assert short_days(told) == "Mon 19, Wed 21, Fri 23"
    assert each_time(told) == ("Mon 19", "Wed 21", "Fri 23")


def test_every_day_morning_and_evening() -> None:
    (told,) = repeated(sample_many.times_of(sample_many.calf(), 14, tuple(range(7)), (time(7), time(18))))
    assert when_words(told) == (
        "Every day, Monday 19 to Sunday 25 January, morning and evening (7:00 and 18:00), about 5 min each time"
    )
    assert short_days(told) == "Every day"
    assert each_time(told)[:3] == ("Mon 19, morning", "Mon 19, evening", "Tue 20, morning")


def test_times_that_differ_from_day_to_day_are_told_day_by_day() -> None:
    a, b, c = sample_many.times_of(FIRST, 3, (0, 2, 4))
    (told,) = repeated((replace(c, start=time(18, 30)), a, replace(b, start=time(7))))
    assert when_words(told) == (
        "Monday 19 January; Wednesday 21 January, 7:00; Friday 23 January, 18:30; about 34 min each time"
    )
    (twice,) = repeated(sample_many.times_of(FIRST, 4, (0, 2), (None, None)))
    assert when_words(twice) == "Monday 19 and Wednesday 21 January, twice, about 34 min each time"
    assert each_time(twice) == ("Mon 19, time 1", "Mon 19, time 2", "Wed 21, time 1", "Wed 21, time 2")


def test_times_whose_blocks_differ_stay_apart_and_say_which_they_are() -> None:
    a, b, c = sample_many.times_of(FIRST, 3, (0, 2, 4))
    shorter = replace(b, blocks=b.blocks[:2])
    one, two = repeated((a, shorter, c))
    assert (one.title, two.title) == ("Session 1 (1 and 3 of 3): calf and hip", "Session 1 (2 of 3): calf and hip")
    assert when_words(one).startswith("Monday 19 and Friday 23 January")


def test_what_only_the_coach_reads_keeps_nothing_apart() -> None:
    a, b = sample_many.times_of(FIRST, 2, (0, 2))
    block = b.blocks[2]
    item = replace(block.items[0], reasons=(Reason("load chosen", "another"),), prediction=None)
    told = repeated((a, replace(b, blocks=(*b.blocks[:2], replace(block, items=(item, *block.items[1:]))))))
    assert len(told) == 1


@pytest.mark.parametrize(
    ("days", "said"),
    [
        ((26, 28), "Monday 26 and Wednesday 28 January"),
        ((26, 32), "Monday 26 January and Sunday 1 February"),
        ((28, 29, 30, 31, 32), "Wednesday 28 January to Sunday 1 February"),
        ((26, 27, 28, 29, 30, 31, 32), "Every day, Monday 26 January to Sunday 1 February"),
        ((19, 20, 21), "Monday 19, Tuesday 20 and Wednesday 21 January"),
    ],
)
def test_days_over_the_end_of_a_month(days: tuple[int, ...], said: str) -> None:
    assert days_words([date(2026, 1, d) if d < 32 else date(2026, 2, d - 31) for d in days]) == said


def test_times_without_a_day_are_told_once() -> None:
    rest = (*((f"Session 4 ({n} of 3): hops", NO_TIME) for n in (2, 3)), ("Session 5: steps", NO_TIME))
    assert [d.said for d in dayless(rest)] == ["Session 4: hops (2 of its 3 times)", "Session 5: steps"]
    every = tuple((f"Session 2 ({n} of 14)", NO_TIME) for n in range(1, 15))
    assert [d.said for d in dayless(every)] == ["Session 2"]
    two = ((every[0][0], Reason("days", "another")), *every[1:])
    assert len(dayless(two)) == 1
    assert [d.said for d in dayless(two, by_reason=True)] == [
        "Session 2 (1 of its 14 times)",
        "Session 2 (13 of its 14 times)",
    ]


def test_keys_that_are_no_times_stay() -> None:
    assert [base_key(k) for k in ("1", "1 (2 of 3)", "A heavy (10 of 14)", "1 (2 of", "(1 of 2)")] == [
        "1", "1", "A heavy", "1 (2 of", "(1 of 2)",
    ]  # fmt: skip


@settings(derandomize=True, max_examples=100)
@given(st.lists(st.tuples(st.integers(0, 6), st.none() | st.times()), min_size=1, max_size=14))
def test_no_time_is_lost_or_told_twice(when: list[tuple[int, time | None]]) -> None:
    sessions = tuple(
        replace(sample_many.times_of(FIRST, len(when), (d,), (start,))[0], key=f"1 ({n} of {len(when)})")
        for n, (d, start) in enumerate(when, 1)
    )
    (told,) = repeated(sessions)
    assert sorted(s.key for s in told.times) == sorted(s.key for s in sessions)
    assert len(each_time(told)) == len(when)
    assert " ," not in when_words(told)
    assert ", ," not in when_words(told)
