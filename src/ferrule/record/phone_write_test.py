"""What is written is read again as it was."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.entry import LoggedSet, LoggedTest, Outcome, Reserve, TimeAway
from ferrule.model.fact import Asked, Decided, Entry, Fact, PainTold, RunTold, SessionTold, TakenBack, WeekTold
from ferrule.model.words import Band, Side
from ferrule.record.phone import read_phone_file
from ferrule.record.phone_write import phone_file
from ferrule.record.strategies import IDS, MONDAY

NOW = datetime(2026, 1, 25, 20, 0, tzinfo=UTC)
DAYS = st.integers(0, 6).map(lambda n: MONDAY + timedelta(days=n))
TIMES = st.none() | st.builds(time, st.integers(5, 22), st.integers(0, 59))
WORDS = st.sampled_from(("", "tight at first", 'said "no"', "½ way – ok"))
OUTCOMES: tuple[Outcome, ...] = ("tapped", "counted", "failed", "not said")
BOTH: tuple[Side, ...] = ("both", "left", "right")
BAND: tuple[Band | None, ...] = (None, None, "medium")
SIDES = st.sampled_from(BOTH)
RESERVES = st.sampled_from((None, Reserve(0, 0), Reserve(2, 2), Reserve(1, 2), Reserve(4, None), Reserve(5, 5)))


@st.composite
def sets(draw: st.DrawFn) -> LoggedSet:
    outcome = draw(st.sampled_from(OUTCOMES))
    reserve = draw(RESERVES)
    kg = draw(st.sampled_from((0.0, 8.0, 12.5)))
    band = draw(st.sampled_from(BAND))
    told = LoggedSet(
        "", "R01", draw(DAYS), draw(st.sampled_from(("1", "2"))), draw(st.sampled_from(("", "b1/i1"))), "step-up",
        draw(st.integers(1, 6)), outcome, draw(st.sampled_from(("reps", "s"))), draw(st.sampled_from((None, 6.0))),
        float(draw(st.integers(1, 20))) if outcome in ("counted", "failed") else None, reserve, reserve is not None,
        draw(SIDES), kg, "chest" if kg else None, None, draw(st.sampled_from((None, "pain"))), draw(TIMES), "c1",
    )  # fmt: skip
    return told if band is None else replace(told, load_kg=2.0, place="band", band=band)


FACTS: st.SearchStrategy[Fact] = st.one_of(
    sets(),
    st.builds(SessionTold, DAYS, st.just("1"), st.sampled_from(("did", "none")), TIMES, st.none() | st.integers(0, 10),
              st.sampled_from((None, 31.0)), st.sampled_from(("", "time")), WORDS, st.just("c1")),
    st.builds(WeekTold, st.just(MONDAY), st.sampled_from(("all", "none")), st.sampled_from((None, "right")),
              st.none() | st.booleans(), WORDS, st.just("c1")),
    st.builds(PainTold, DAYS, st.just("calf"), SIDES, st.integers(0, 10), st.none() | st.integers(0, 10), st.just("1"),
              st.just("b1/i1"), st.just("step-up"), st.sampled_from(((), ("fever", "pop"))), WORDS),
    st.builds(Asked, DAYS, WORDS),
    st.builds(TimeAway, st.just("R01"), st.just(MONDAY), st.just(MONDAY + timedelta(3)), st.just("illness"),
              st.sampled_from((None, "band thin"))),
    st.builds(LoggedTest, st.just(""), st.just("R01"), DAYS, st.just("heel raises"), st.just(21.0), SIDES),
    st.builds(RunTold, DAYS, st.sampled_from((8.0, 12.4)), st.sampled_from((None, 71.0)), st.sampled_from((None, 240.0)), TIMES,
              st.sampled_from(("", "long")), st.none() | st.integers(0, 10)),
)  # fmt: skip


def enveloped(facts: list[Fact]) -> list[Entry]:
    made = []
    for n, fact in enumerate(facts):
        at = NOW - timedelta(hours=n)
        if isinstance(fact, LoggedSet):
            fact = replace(fact, entry_id=IDS[n], recorded_at=at)
        if isinstance(fact, LoggedTest):
            fact = replace(fact, entry_id=IDS[n])
        made.append(Entry(IDS[n], "R01", at, "page", fact, IDS[n - 1] if n % 3 == 2 else ""))
    return made


@given(st.lists(FACTS, min_size=1, max_size=6))
@settings(max_examples=150, derandomize=True, deadline=None)
def test_what_is_written_is_read_again_as_it_was(facts: list[Fact]) -> None:
    entries = enveloped(facts)
    read, findings = read_phone_file(phone_file(entries, "c1", "R01", NOW), "phone.json")
    assert [f.code for f in findings if f.level == "error"] == []
    assert list(read) == entries


def test_taking_back_names_what() -> None:
    entry = Entry(IDS[1], "R01", NOW, "page", TakenBack("wrong day"), IDS[0])
    read, _ = read_phone_file(phone_file([entry], "c1", "R01", NOW), "phone.json")
    assert read == (entry,)


def test_a_coachs_decision_is_no_runners_to_tell() -> None:
    decided = Entry(
        IDS[0], "R01", NOW, "coach", Decided(date(2026, 1, 19), "1", "b1/i1", "progress", "hold", "the coach")
    )
    with pytest.raises(ValueError, match="no runner tells"):
        phone_file([decided], "c1", "R01", NOW)
