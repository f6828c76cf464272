"""Blocks and sessions in words."""

from collections.abc import Callable
from dataclasses import replace

from ferrule.deliver import sample, sample_many
from ferrule.deliver.block_words import block_title
from ferrule.deliver.session_words import (
    fetch_words,
    session_lines,
    session_title,
    short_of_time,
)

LIBRARY = sample.library()


def test_titles_and_lines_of_a_session() -> None:
    session = sample.first_session()
    assert session_title(session) == "Session 1: calf and hip"
    assert session_title(replace(session, name="Session 1")) == "Session 1"
    assert session_title(replace(session, name="Session 1: calf")) == "Session 1: calf"
    assert short_of_time(session) == "Short of time? Leave out Press-up, hands raised."
    assert short_of_time(sample.second_session()) == "Short of time? Leave out Heel raise, knee bent first, then Plank."
    assert fetch_words(session) == "Fetch now: 12 kg dumbbell, 30 cm step, mat"
    assert fetch_words(replace(session, where="club")).startswith("Where: club. Fetch now: 12 kg")
    assert fetch_words(replace(session, fetch=())) == "Fetch now: nothing, only a clear floor"
    assert [block_title(b) for b in session.blocks] == ["Warm-up", "Pair A, 4 rounds", "Straight, 3 sets"]


def test_a_session_as_plain_lines(golden: Callable[[str, str], None]) -> None:
    text = "\n".join(session_lines(sample.first_session(), LIBRARY))
    golden("deliver/session.txt", text + "\n")


def test_sessions_of_many_kinds_as_plain_lines(golden: Callable[[str, str], None]) -> None:
    """Circuits by the clock, a cool-down, forms left as written."""
    sessions = [s for s in sample_many.week().sessions if " (" not in s.key or " (1 of" in s.key]
    text = "\n\n".join("\n".join((session_title(s), *session_lines(s, LIBRARY))) for s in sessions)
    golden("deliver/session_many.txt", text + "\n")
