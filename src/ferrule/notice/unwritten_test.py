"""Lines of the next week that the coach did not write."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from ferrule.model.fact import Asked, Decided, Entry
from ferrule.model.finding import Finding
from ferrule.model.fitted import Away, FittedWeek, Impossible, Outcome, Reason, WayOut
from ferrule.model.house import House
from ferrule.notice.due import due
from ferrule.notice.sample import MONDAY, entry, runner, squad, week
from ferrule.notice.told import Due

NEXT = MONDAY + timedelta(days=7)


def rows(draft: Outcome, *entries: Entry, sent: tuple[FittedWeek, ...] = ()) -> list[Due]:
    return list(due(squad(runner("R01")), sent, entries, House(), NEXT - timedelta(days=1), (draft,)))


def changed(code: str = "kit") -> FittedWeek:
    made = week("R01", NEXT, days=(0,), lines=2)
    session = made.sessions[0]
    block = session.blocks[0]
    moved = replace(block.items[0], name="Split squat", reasons=(Reason(code, "no step"),))  # type: ignore[arg-type]
    block = replace(block, items=(moved, *block.items[1:]))
    return replace(made, sessions=(replace(session, blocks=(block,)),))


def test_a_line_as_written_and_a_choice_left_open_need_no_word() -> None:
    assert not rows(week("R01", NEXT))
    assert not rows(changed("load chosen"))
    assert not rows(Away("R01", "Runner R01", "not begun"))


def test_a_departure_is_told_with_its_reason() -> None:
    found = rows(changed())
    assert [r.tier for r in found] == ["not what you wrote"]
    assert found[0].facts == ("Session 1: Split squat instead of Step-up (no step)",)
    assert "Split squat instead of Step-up." in found[0].draft
    assert "no step" not in found[0].draft


def test_what_was_signed_before_is_nothing_new() -> None:
    before = replace(changed(), monday=MONDAY)
    assert not rows(changed(), sent=(before,))
    assert rows(changed(), sent=(week("R01", MONDAY),))


def test_what_the_coach_decided_or_answered_is_off_the_list() -> None:
    decided = entry("R01", Decided(NEXT, "s1", "i1", "Split squat", "Split squat", "Coach A"), source="coach")
    other = entry("R01", Decided(NEXT, "s1", "i2", "Split squat", "Split squat", "Coach A"), source="coach")
    answer = entry("R01", Asked(NEXT - timedelta(days=2), "ok", rows(changed())[0].keys[0], "Coach A"), source="coach")
    late = entry("R01", Decided(NEXT - timedelta(days=7), "s1", "i1", "Split squat", "Split squat", "Coach A"))
    assert not rows(changed(), decided)
    assert not rows(changed(), answer)
    assert rows(changed(), other)
    assert rows(changed(), late)


def test_a_week_that_does_not_exist_is_told_with_the_ways_out() -> None:
    why = Finding("no-day", "error", "no day is left", "", "")
    none = Impossible("R01", "Runner R01", (why,), (WayOut("one more day", True),))
    found = rows(none)
    assert found[0].facts == ("no day is left", "would work: one more day")
    said = entry("R01", Asked(NEXT - timedelta(days=2), "spoken", found[0].keys[0], "Coach A"), source="coach")
    old = entry("R01", Asked(NEXT - timedelta(days=9), "spoken", found[0].keys[0], "Coach A"), source="coach")
    assert not rows(none, said)
    assert rows(none, old)
