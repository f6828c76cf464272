"""What changed, in words: one sentence a change, and none for what changes nothing that is done."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

from ferrule.fit.changed import changes
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek, LoadChoice, Reason
from ferrule.model.quantity import Range, Tempo

EIGHT = LoadChoice(8, "chest", ("8 kg dumbbell",))
ITEM = FittedItem(
    "A1", "Step-up", "step-up", "Step-up", 3, Range(6, 8), None, None, None, True, False, Range(2, 2), EIGHT, None, None,
    None, None, (), False,
)  # fmt: skip
BLOCK = FittedBlock(
    "pair", "A", 3, None, None, (ITEM, replace(ITEM, item_key="A2", name="Press-up", variant_id="press-up"))
)
SESSION = FittedSession("u", "1", "", date(2026, 1, 19), time(18), 30, (BLOCK,), (), (), None)
WEEK = FittedWeek("R01", "Ann", "p", 1, "c", date(2026, 1, 19), (SESSION,), ())


def told(session: FittedSession) -> tuple[str, ...]:
    return changes(WEEK, replace(WEEK, sessions=(session,)))


def with_first(**fields: object) -> FittedSession:
    item = replace(ITEM, **fields)  # type: ignore[arg-type]
    return replace(SESSION, blocks=(replace(BLOCK, items=(item, BLOCK.items[1])),))


def test_what_is_told() -> None:
    assert told(replace(SESSION, day=date(2026, 1, 20), start=None)) == (
        "session 1: Tue 20 January instead of Mon 19 January evening (18:00)",
    )
    assert told(replace(SESSION, start=time(7))) == (
        "session 1: Mon 19 January morning (07:00) instead of Mon 19 January evening (18:00)",
    )
    assert told(replace(SESSION, blocks=(replace(BLOCK, rounds=2),))) == ("session 1, pair A: 2 instead of 3 rounds",)
    assert told(replace(SESSION, blocks=(replace(BLOCK, items=BLOCK.items[:1]),))) == (
        "session 1, A2: Press-up is left out",
    )
    medium = LoadChoice(2, "band", ("medium band",), "medium")
    assert told(with_first(load=None)) == ("session 1, A1: Step-up with no weight instead of 8 kg",)
    assert told(with_first(load=medium)) == ("session 1, A1: Step-up with medium band instead of 8 kg",)
    assert told(with_first(variant_id="split-squat", name="Split squat")) == (
        "session 1, A1: Split squat, 8 kg instead of Step-up",
    )
    assert told(with_first(reps=Range(8, 10), tempo=Tempo(3, 0, 1))) == (
        "session 1, A1: Step-up: 8-10/side, 2 RIR, tempo 3-0-1 instead of 6-8/side, 2 RIR",
    )


def test_two_blocks_of_one_kind_are_told_apart() -> None:
    hops = FittedBlock("straight", "", 2, None, None, (replace(ITEM, item_key="B", name="Hop"),))
    rows = FittedBlock("straight", "", 3, None, None, (replace(ITEM, item_key="C", name="Row"),))
    both = replace(WEEK, sessions=(replace(SESSION, blocks=(hops, rows)),))
    assert changes(both, both) == ()
    fewer = replace(SESSION, blocks=(hops, replace(rows, rounds=2)))
    assert changes(both, replace(both, sessions=(fewer,))) == ("session 1, straight Row: 2 instead of 3 sets",)


def test_sessions_left_out_and_added() -> None:
    rest = (("Session 1: legs", Reason("days", "no time is left: only Mon are possible")),)
    assert changes(WEEK, replace(WEEK, sessions=(), rest_sessions=rest)) == (
        "session 1 of Mon 19 January evening (18:00) is left out: no time is left: only Mon are possible",
    )
    assert changes(replace(WEEK, sessions=()), WEEK) == ("session 1 is new, on Mon 19 January evening (18:00)",)


def test_what_changes_nothing_that_is_done_is_not_told() -> None:
    assert changes(WEEK, WEEK) == ()
    assert told(with_first(reasons=(Reason("too hard", "x"),), load=replace(EIGHT, pieces=("8 kg kettlebell",)))) == ()
    assert told(replace(SESSION, minutes=33.0, hours_to_key=20.0)) == ()
