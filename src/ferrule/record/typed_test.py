from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, LoggedTest, Reserve, TimeAway
from ferrule.model.fact import Asked, Entry, PainTold, RunTold, SessionTold, WeekTold
from ferrule.model.finding import Finding, Span
from ferrule.model.fitted import (
    FittedBlock,
    FittedItem,
    FittedSession,
    FittedWeek,
    LoadChoice,
    Prediction,
    Recourse,
)  # fmt: skip
from ferrule.model.quantity import Range
from ferrule.model.squad import Runner, Squad
from ferrule.record.set_words import read_line
from ferrule.record.typed import read_log_lines
from ferrule.record.typed_file import read_log_text

LIBRARY, _ = load_library()
MONDAY = date(2026, 1, 19)
THU = MONDAY + timedelta(3)
NOW = datetime(2026, 1, 23, 20, tzinfo=UTC)
PREDICTED = Prediction(0.7, 0.6, 0.8, 2.5, 1.5, 0.9, Range.of(2), "right")


def an_item(key: str, variant_id: str, **given_: Any) -> FittedItem:
    name = LIBRARY.variants[variant_id].name
    item = FittedItem(
        key, name, variant_id, name, 3, Range(5, 7), None, None, None, True, False, None, None, None, None, None, None, (),
        False, prediction=PREDICTED,
    )  # fmt: skip
    return replace(item, **given_)


STEP = an_item("b1/i0", "step-up", load=LoadChoice(12.0, "chest", ("12 kg dumbbell",)))
PLANK = an_item("b1/i1", "front-plank", reps=None, hold_s=Range(30, 40), per_side=False)
ROCK = an_item("b0/i0", "ankle-rock", prediction=None)
PRESS = an_item("b2/i0", "press-up-hands-raised", written="Press-up", per_side=False)


def a_session(key: str, day: int, *items: FittedItem) -> FittedSession:
    block = FittedBlock("pair", "A", 3, None, None, items)
    return FittedSession(f"u{key}", key, f"session {key}", MONDAY + timedelta(day), None, 30, (block,), (), (), None)


WEEK = FittedWeek(
    "R07", "Gwen P", "Fell-ready", 3, "Foundations", MONDAY,
    (a_session("1", 0, STEP), a_session("2", 3, ROCK, STEP, PLANK, PRESS)), (),
)  # fmt: skip


def read(text: str, week: FittedWeek | None = WEEK, day: date = THU) -> tuple[list[Any], tuple[Finding, ...]]:
    entries, findings = read_log_lines(text, "log.txt", "R07", day, LIBRARY, week, copy_id="copy", now=NOW)
    return [e.fact for e in entries], findings


def codes(findings: tuple[Finding, ...]) -> list[str]:
    return [f.code for f in findings]


@pytest.mark.parametrize(
    "line", ["0 failed", "0/side failed", "0 reps then failed", "failed at 1", "0 failed at 1/side", "failed at 1/side"]
)
def test_not_one_done_is_a_failed_set_of_none(line: str) -> None:
    facts, findings = read(f"Step-up: {line}")
    assert [(s.done, s.outcome, s.side) for s in facts] == [(0.0, "failed", "both")]
    assert findings == ()


@pytest.mark.parametrize("line", ["6, 0", "6, 0/side", "6, 0 reps, 12 kg", "sets 6, 0"])
def test_a_bare_none_was_tried_and_is_named(line: str) -> None:
    facts, findings = read(f"Step-up: {line}")
    assert [(s.number, s.done, s.outcome) for s in facts] == [(1, 6.0, "counted"), (2, 0.0, "failed")]
    assert codes(findings) == ["log-none-done"]


def test_none_done_for_another_reason_is_no_failed_set() -> None:
    facts, findings = read("Step-up: 6, 0, stopped: pain")
    assert [(s.done, s.outcome, s.stopped) for s in facts] == [(6.0, "counted", None), (0.0, "counted", "pain")]
    assert findings == ()


def test_sets_load_and_effort_of_a_line() -> None:
    facts, findings = read("Step-up: 6, 6, 5/side, 10 kg, 1 RIR")
    assert findings == ()
    assert [(s.number, s.done, s.load_kg, s.place, s.reserve) for s in facts] == [
        (1, 6.0, 10.0, "chest", None), (2, 6.0, 10.0, "chest", None), (3, 5.0, 10.0, "chest", Reserve(1, 1)),
    ]  # fmt: skip
    assert {(s.session_key, s.item_key, s.asked, s.side, s.copy_id) for s in facts} == {
        ("2", "b1/i0", 5.0, "both", "copy")
    }


def test_what_the_line_leaves_out_is_that_of_the_sent_week() -> None:
    (first, *_), _ = read("step ups: 6, 6, 5")
    assert (first.load_kg, first.place) == (12.0, "chest")
    (none,), _ = read("Step-up: 6, no weight")
    assert (none.load_kg, none.place) == (0.0, None)
    (other,), findings = read("Split squat: 8, 10 kg")
    assert (other.item_key, other.load_kg, codes(findings)) == ("", 10.0, ["log-line-unknown"])


def test_holds_failures_sides_and_stops() -> None:
    facts, findings = read(
        "Plank: 40 s, 35 s\nPress-up, hands raised: 8 failed at 9\nStep-up: left 6, right 4, stopped: pain"
    )
    assert findings == ()
    told = [(s.variant_id, s.number, s.side, s.done, s.unit, s.outcome, s.stopped) for s in facts]
    assert told == [
        ("front-plank", 1, "both", 40.0, "s", "counted", None), ("front-plank", 2, "both", 35.0, "s", "counted", None),
        ("press-up-hands-raised", 1, "both", 8.0, "reps", "failed", None),
        ("step-up", 1, "left", 6.0, "reps", "counted", None), ("step-up", 1, "right", 4.0, "reps", "counted", "pain"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("6, 6, 5", [(6, None, None), (6, None, None), (5, None, None)]),
        ("6,6,5, 12,5 kg", [(6, 12.5, None), (6, 12.5, None), (5, 12.5, None)]),
        ("12 kg, 6, 6, 10 kg, 5", [(6, 12, None), (6, 12, None), (5, 10, None)]),
        ("6, 12 kg, 5, 10 kg", [(6, 12, None), (5, 10, None)]),
        ("6, 6 12 kg", [(6, 12, None), (6, 12, None)]),
        ("3 x 8, 2 RIR", [(8, None, None), (8, None, None), (8, None, (2, 2))]),
        ("8, 4+ RIR", [(8, None, (4, None))]),
        ("6, RPE 8, 5, 1-2 RIR", [(6, None, (2, 2)), (5, None, (1, 2))]),
        ("8 @ 12 kg, 1.5 RIR", [(8, 12, (1, 2))]),
        ("8, 2 more", [(8, None, (2, 2))]),
        ("2+2+2", [(6, None, None)]),
        ("sets 12, 10, 8", [(12, None, None), (10, None, None), (8, None, None)]),
    ],
)
def test_the_shorthand_of_sets(
    text: str, told: list[tuple[float, float | None, tuple[int, int | None] | None]]
) -> None:
    line = read_line(text)
    assert not line.slips
    got = [
        (
            s.done,
            s.load.kg.low if s.load and s.load.kg else None,
            (s.reserve.low, s.reserve.high) if s.reserve else None,
        )
        for s in line.sets
    ]
    assert got == told


def test_dont_know_is_asked_and_not_told() -> None:
    (one,), _ = read("Step-up: 6, don't know")
    assert (one.reserve, one.effort_asked) == (None, True)


def test_all_as_written_taps_each_set_and_leaves_told_lines_alone() -> None:
    facts, findings = read("all as written, 0 RIR\nPlank: 20 s")
    assert findings == ()
    sets = [f for f in facts if isinstance(f, LoggedSet)]
    assert len(sets) == 1 + 3 * 3
    steps = [s for s in sets if s.variant_id == "step-up"]
    assert [(s.outcome, s.done, s.reserve) for s in steps] == [
        ("tapped", None, None), ("tapped", None, None), ("counted", 5.0, Reserve(0, 0)),
    ]  # fmt: skip
    assert {s.outcome for s in sets if s.variant_id == "ankle-rock"} == {"tapped"}
    (session,) = [f for f in facts if isinstance(f, SessionTold)]
    assert (session.session_key, session.outcome) == ("2", "did")


def test_effort_of_all_as_written_is_not_meant_for_the_warm_up() -> None:
    warm = FittedBlock("warm-up", "", 1, None, None, (replace(PRESS, item_key="W1"),))
    session = WEEK.sessions[1]
    week = replace(WEEK, sessions=(replace(session, blocks=(warm, *session.blocks)),))
    facts, _ = read("all as written, 0 RIR", week)
    told = {s.item_key: s.reserve for s in facts if isinstance(s, LoggedSet)}  # the last set of each
    assert told["W1"] is None
    assert told[PRESS.item_key] == Reserve(0, 0)


def test_rating_and_minutes_may_stand_with_all_as_written() -> None:
    facts, findings = read("all as written, 1 RIR, rating 6, 34 min")
    assert not findings
    (session,) = (f for f in facts if isinstance(f, SessionTold))
    assert (session.outcome, session.rating, session.minutes) == ("did", 6, 34.0)
    sets = [f for f in facts if isinstance(f, LoggedSet)]
    assert sets
    assert all(s.done != 34 * 60 for s in sets)


def test_skipped_sessions_and_exercises() -> None:
    (fact,), findings = read("skipped: no time")
    assert findings == ()
    assert fact == SessionTold(THU, "2", "none", why="time", words="no time", copy_id="copy")
    (one,), _ = read("Step-up: skipped, no kit")
    assert (one.done, one.stopped, one.item_key) == (0.0, "kit", "b1/i0")


def test_pain_rating_and_the_other_lines() -> None:
    text = (
        "left calf 4/10, next morning 2, tight\nStep-up: 6, right knee 3/10\nrating 6, 40 min\nnote: windy\n"
        "ask: may I swap days?\nweek: did some, too hard, no pain\nrun: 12.4 km, 1:21:30, 310 m, long, rating 5\n"
        "away: 7 to 14 Feb, holiday, with band thin\ntest: heel raises left 22\nflag: night or rest pain in the shin"
    )
    facts, findings = read(text)
    assert findings == ()
    assert PainTold(THU, "calf", "left", 4, 2, "2", words="tight") in facts
    assert PainTold(THU, "knee", "right", 3, None, "2", "b1/i0", "step-up") in facts
    assert SessionTold(THU, "2", "did", rating=6, minutes=40.0, words="windy", copy_id="copy") in facts
    assert Asked(THU, "may I swap days?") in facts
    assert WeekTold(MONDAY, "some", "too hard", False, copy_id="copy") in facts
    assert RunTold(THU, 12.4, 81.5, 310.0, None, "long", 5) in facts
    assert TimeAway("R07", date(2026, 2, 7), date(2026, 2, 14), "holiday", "band thin") in facts
    assert LoggedTest("", "R07", THU, "heel raises", 22.0, "left") in facts
    assert any(isinstance(f, PainTold) and f.flags == ("night or rest",) for f in facts)


def test_a_line_is_found_in_the_session_of_the_day_or_the_nearest() -> None:
    (one,), _ = read("Step-up: 6", day=MONDAY)
    (two,), _ = read("Step-up: 6", day=THU + timedelta(1))
    assert (one.session_key, two.session_key) == ("1", "2")
    (first, second), findings = read("Step-up: 6\nStep-up: 5")
    assert (first.session_key, second.session_key, findings) == ("2", "1", ())


def test_the_written_name_of_a_line_sent_as_another_exercise_is_asked_about() -> None:
    (one,), findings = read("Press-up: 8")
    assert (one.variant_id, one.item_key, one.asked) == ("press-up", "b2/i0", None)
    assert codes(findings) == ["log-other-variant"]


def test_a_printed_way_out_is_a_set_of_its_line() -> None:
    way = Recourse("step-up-low", "Step-up, low", LoadChoice(8.0, "chest", ()), "")
    week = replace(WEEK, sessions=(a_session("2", 3, replace(STEP, too_hard=way)),))
    (one,), findings = read("Step-up, low: 6", week)
    assert (one.item_key, one.load_kg, findings) == ("b1/i0", 8.0, ())


@pytest.mark.parametrize(
    ("text", "code", "kept"),
    [
        ("Stepp-upp thing: 6", "log-not-understood", 0),
        ("Step-up: 6, blah, 5", "log-not-understood", 2),
        ("Step-up:", "log-nothing-told", 0),
        ("Step-up: 6-7", "log-range", 1),
        ("Plank: 40, 35", "log-unit", 2),
        ("Step-up: 8 failed at 12", "log-failed", 1),
        ("Step-up: 6, 20 lb", "pounds", 1),
        ("Step-up: 6, tempo 2-0-1", "log-not-kept", 1),
        ("Step-up: 10 total", "log-total", 1),
        ("rating 12", "log-value", 0),
        ("run: far", "log-not-understood", 0),
        ("Ankle rock: 8, 10 kg", "log-load", 1),
    ],
)
def test_what_is_odd_is_named_with_its_place(text: str, code: str, kept: int) -> None:
    facts, findings = read("\n" + text)
    assert code in codes(findings)
    assert len(facts) == kept
    assert all(f.span is not None and f.span.line == 2 for f in findings)


def test_as_written_needs_a_sent_week() -> None:
    facts, findings = read("all as written\nStep-up: as written", None)
    assert (facts, codes(findings)) == ([], ["log-as-written"] * 2)


def squad() -> Squad:
    span = Span("squad.csv", 2)
    return Squad(
        "squad.csv",
        tuple(Runner(i, n, "some", (), (), (), None, span) for i, n in (("R07", "Gwen P"), ("R08", "Ida K"))),
    )


def read_text(text: str, **given_: Any) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    def weeks(runner_id: str, day: date) -> tuple[FittedWeek, str] | None:
        return (WEEK, "copy") if runner_id == "R07" and MONDAY <= day < MONDAY + timedelta(7) else None

    return read_log_text(text, "log.txt", squad(), LIBRARY, NOW.date(), weeks, now=NOW, **given_)


@pytest.mark.parametrize(
    ("head", "runner", "day"),
    [
        ("R07 Thu 22 Jan", "R07", THU),
        ("## r07, 2026-01-22", "R07", THU),
        ("R07 Gwen P, 22 January:", "R07", THU),
        ("Ida K yesterday", "R08", THU),
        ("R08 Thu", "R08", THU),
        ("R07 Fri 2 Jan", "R07", date(2026, 1, 2)),
        ("R07 15 Dec", "R07", date(2025, 12, 15)),
        ("R07 28 Feb", "R07", date(2025, 2, 28)),  # eleven months back rather than five weeks on
    ],
)
def test_head_lines(head: str, runner: str, day: date) -> None:
    entries, findings = read_text(f"{head}\nPress-up: 8\n")
    assert [(e.runner_id, e.fact.day) for e in entries if isinstance(e.fact, LoggedSet)] == [(runner, day)]
    assert not [f for f in findings if f.level == "error"]


def test_several_runners_days_and_sessions_in_one_text() -> None:
    text = "R07 Thu 22 Jan, session 1\nStep-up: 6\n\nMon 19 Jan\nsession 2\nStep-up: 5\n\nR08 Wed 21 Jan\nPress-up: 8\n"
    entries, findings = read_text(text)
    told = [(e.runner_id, e.fact.day, e.fact.session_key) for e in entries if isinstance(e.fact, LoggedSet)]
    assert told == [("R07", THU, "1"), ("R07", MONDAY, "2"), ("R08", date(2026, 1, 21), "")]
    assert findings == ()


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Step-up: 6\n", "log-no-head"),
        ("R07\nStep-up: 6\n", "log-no-day"),
        ("R07 31 Feb\nStep-up: 6\n", "log-no-day"),
        ("R07 Mon 22 Jan\nStep-up: 6\n", "log-weekday"),
        ("R07 Thu 22 Jan, session 9\nStep-up: 6\n", "log-session-unclear"),
        ("", "log-not-read"),
    ],
)
def test_heads_that_do_not_say_enough(text: str, code: str) -> None:
    assert code in codes(read_text(text)[1])


def test_runner_and_day_of_the_command_hold_until_a_head_line() -> None:
    entries, _ = read_text("Step-up: 6\n", runner_id="R07", day=THU)
    assert len(entries) == 1


LINES = (
    "Step-up: 6, 6, 12 kg",
    "Plank: 40 s",
    "left calf 4/10",
    "rating 6, 40 min",
    "Press-up, hands raised: 8 failed at 9",
)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(st.permutations(LINES), st.integers(0, 5))
def test_typing_it_again_in_any_order_makes_the_same_entries(lines: list[str], later: int) -> None:
    first, _ = read_log_lines("\n".join(LINES), "a.txt", "R07", THU, LIBRARY, WEEK, now=NOW)
    moment = NOW + timedelta(days=later)
    again, _ = read_log_lines("\n".join(lines), "b.txt", "R07", THU, LIBRARY, WEEK, now=moment)
    assert {e.entry_id for e in first} == {e.entry_id for e in again}
    assert {e.fact for e in first} == {e.fact for e in again}


@settings(derandomize=True, max_examples=150, deadline=None)
@given(st.text(alphabet="Step-up: 0123456789,/kgsRI failedat\nR07 jan.+x@()", max_size=60))
def test_any_text_is_read_or_named_and_never_raises(text: str) -> None:
    entries, findings = read_text("R07 Thu 22 Jan\n" + text)
    assert entries or findings or not text.strip()
