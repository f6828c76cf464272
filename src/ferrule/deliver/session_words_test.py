"""Blocks and sessions in words."""

from collections.abc import Callable
from dataclasses import replace

from ferrule.deliver import sample
from ferrule.deliver.session_words import (
    block_rest,
    block_title,
    fetch_words,
    session_lines,
    session_title,
    session_when,
    short_of_time,
)
from ferrule.model.fitted import FittedBlock
from ferrule.model.quantity import Range

LIBRARY = sample.library()


def test_rests_tell_unsaid_from_none() -> None:
    a, b = sample.step_up(), sample.heel_raise()
    pair = FittedBlock("pair", "A", 4, Range(75, 90), Range.of(15), (a, b))
    assert block_rest(pair) == "Rest 75 to 90 s after each round. 15 s between the exercises."
    assert block_rest(replace(pair, rest_s=None, between_s=None)) == ""
    assert block_rest(replace(pair, rest_s=Range.of(0), between_s=Range.of(0))) == (
        "No rest after a round. Straight from one exercise to the next."
    )


def test_titles_and_lines_of_a_session() -> None:
    session = sample.first_session()
    assert session_title(session) == "Session 1: calf and hip"
    assert session_title(replace(session, name="Session 1")) == "Session 1"
    assert session_title(replace(session, name="Session 1: calf")) == "Session 1: calf"
    assert session_when(session) == "Monday 19 January, 18:30, about 34 min"
    assert session_when(sample.second_session()) == "Thursday 22 January, about 28 min"
    assert short_of_time(session) == "Short of time? Leave out Press-up, hands raised."
    assert short_of_time(sample.second_session()) == "Short of time? Leave out Heel raise, knee bent first, then Plank."
    assert fetch_words(session) == "Fetch now: 12 kg dumbbell, 30 cm step, mat"
    assert fetch_words(replace(session, fetch=())) == "Fetch now: nothing, only a clear floor"
    assert [block_title(b) for b in session.blocks] == ["Warm-up", "Pair A, 4 rounds", "Straight, 3 sets"]


def test_a_session_as_plain_lines(golden: Callable[[str, str], None]) -> None:
    text = "\n".join(session_lines(sample.first_session(), LIBRARY))
    golden("deliver/session.txt", text + "\n")
