"""An invented week with sessions done many times and blocks that go by the clock. Nobody in it exists."""

from __future__ import annotations

from dataclasses import replace
from datetime import time, timedelta

from ferrule.deliver import sample
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek, Reason
from ferrule.model.quantity import Range


def times_of(
    session: FittedSession, of: int, days: tuple[int, ...], starts: tuple[time | None, ...] = (None,)
) -> tuple[FittedSession, ...]:
    """The times of `session`, at each of `starts` on each of `days` (Monday 0), named as the fit names them."""
    when = [(d, s) for d in days for s in starts]
    return tuple(
        replace(
            session,
            uid=f"r07-w2-s{session.key}-{n}of{of}@example.org",
            key=f"{session.key} ({n} of {of})",
            day=sample.MONDAY + timedelta(days=d),
            start=s,
        )
        for n, (d, s) in enumerate(when, 1)
    )


def timed(key: str, variant_id: str, name: str, seconds: float = 40) -> FittedItem:
    """A line of timed work."""
    return replace(sample.item(key, variant_id, name), hold_s=Range.of(seconds), work=True)


def round_for_12_minutes() -> FittedBlock:
    """A circuit that goes round for a time, with a name."""
    lines = (
        replace(sample.item("B1", "step-up", "Step-up", reps=Range.of(8)), per_side=True),
        sample.item("B2", "press-up-hands-raised", "Press-up, hands raised", reps=Range.of(10)),
        replace(sample.item("B3", "front-plank", "Plank"), hold_s=Range.of(30)),
    )
    return FittedBlock("circuit", "B", 1, None, None, lines, ("12 min",), "legs and trunk", minutes=12)


def stations() -> FittedBlock:
    """Work and rest at each station, some of the list chosen."""
    lines = tuple(
        replace(timed(key, variant, name), sets=3)
        for key, variant, name in (
            ("C1", "step-up", "Step-up"),
            ("C2", "press-up", "Press-up"),
            ("C3", "front-plank", "Plank"),
            ("C4", "lunge-lateral", "Lateral lunge"),
        )
    )
    return FittedBlock(
        "circuit", "C", 3, Range.of(90), Range.of(20), lines,
        on_s=Range.of(40), off_s=Range.of(20), exercises=Range.of(3),
    )  # fmt: skip


def cool_down() -> FittedBlock:
    """A cool-down; one line has no number."""
    lines = (
        replace(sample.item("Z1", "lunge-lateral", "Lateral lunge"), hold_s=Range.of(30), per_side=True),
        sample.item("Z2", "ankle-rock", "Ankle rock"),
    )
    return FittedBlock("cool-down", "", 1, None, None, lines)


def calf() -> FittedSession:
    """A short session for every day, morning and evening; a set begins by the clock, with forms left as written."""
    line = replace(
        sample.item("A", "heel-raise-bent-two-legs", "Heel raise, two legs, knee bent", sets=3, reps=Range.of(15)),
        extra=("lowering only", "rest-pause 20 s x 3"),
        reasons=(Reason("not fitted", "left as written, not fitted: lowering only; rest-pause 20 s x 3"),),
    )
    block = FittedBlock("straight", "", 3, None, None, (line,), every_s=90)
    return FittedSession(
        "r07-w2-s2@example.org", "2", "calf", sample.MONDAY, None, 5.2, (block,), ("20 cm step",), (), None
    )


def week() -> FittedWeek:
    """One session three times, one twice a day on every day, one once; times of a fourth found no day."""
    first = sample.first_session()
    moved = Reason("days", "moved from Thursday: intervals the next morning")
    one = times_of(replace(first, blocks=(first.blocks[0], first.blocks[1], cool_down())), 3, (0, 2, 4))
    one = (one[0], one[1], replace(one[2], reasons=(moved,)))
    two = times_of(calf(), 14, tuple(range(7)), (time(7), time(18)))
    second = sample.second_session()
    blocks = (second.blocks[0], round_for_12_minutes(), stations())
    three = replace(second, key="3", name="round and round", blocks=blocks, leave_out=(), reasons=())
    no_time = Reason("days", "no time is left: sessions need hours between them")
    return replace(
        sample.week(),
        sessions=(one[0], two[0], three, one[1], two[1], one[2], *two[2:]),
        rest_sessions=tuple((f"Session 4 ({n} of 3): hops", no_time) for n in (2, 3)),
    )
