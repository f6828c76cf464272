"""Equal changes of several runners are one entry; what is a runner's own stays theirs."""

from dataclasses import replace

from ferrule.deliver import sample
from ferrule.deliver.changes import as_written, differs, line_changes, session_changes
from ferrule.deliver.readback import kind_and_numbers
from ferrule.model.fitted import FittedItem, FittedWeek, LoadChoice, Reason, SquadWeek

LIBRARY = sample.library()
WEEK = sample.squad_week(5)


def _squad(*items: FittedItem) -> SquadWeek:
    """One runner for each item, in the place of the line C of session 1."""
    weeks = []
    for n, item in enumerate(items, 1):
        week = sample.week(f"R{n:02d}", f"Runner {n:02d}")
        first = replace(week.sessions[0], blocks=(replace(week.sessions[0].blocks[2], items=(item,)),))
        weeks.append(replace(week, sessions=(first,)))
    return replace(WEEK, outcomes=tuple(weeks))


def _line(why: str, *, name: str = "Press-up, knees", kg: float = 0) -> FittedItem:
    load = LoadChoice(kg, "chest", (f"{kg:g} kg dumbbell",)) if kg else None
    return replace(sample.press_up(), name=name, load=load, reasons=(Reason("too hard", why),))


def test_the_numbers_of_a_reason_are_told_apart_only_where_they_stand_alone() -> None:
    assert kind_and_numbers("Press-up: too hard: 1-24 likely possible") == (
        "Press-up: too hard",
        "1-24 likely possible",
    )
    sore = "right knee is sore: at most 60 % of best there"
    assert kind_and_numbers(sore) == (sore, "")


def test_the_same_change_for_the_same_reason_is_one_entry_that_names_all() -> None:
    (line,) = line_changes(
        _squad(*(_line(f"Press-up: too hard: {n}-9 likely possible, 11-13 meant") for n in (1, 2))), LIBRARY
    )
    assert (line.where, line.written) == ("Session 1, C", "Press-up")
    (change,) = line.changes
    assert (change.now, change.why) == ("Press-up, knees", "Too hard, 11-13 meant.")
    assert [(m.who, m.own) for m in change.movers] == [
        ("R01 Runner 01", "1-9 likely possible"),
        ("R02 Runner 02", "2-9 likely possible"),
    ]


def test_what_they_do_not_share_stays_with_each() -> None:
    own = (
        "Press-up: too hard: 1-9 likely possible, 11-13 meant",
        "Press-up: too hard: 2-9 likely possible, 14-17 meant",
    )
    ((change,),) = (line.changes for line in line_changes(_squad(_line(own[0], kg=4), _line(own[1], kg=6)), LIBRARY))
    assert change.why == "Too hard."
    assert [m.own for m in change.movers] == [
        "4 kg at chest; 1-9 likely possible, 11-13 meant",
        "6 kg at chest; 2-9 likely possible, 14-17 meant",
    ]


def test_another_exercise_or_another_reason_is_another_entry() -> None:
    lines = (
        _line("Press-up: too hard"),
        _line("Press-up: no kneeling"),
        _line("Press-up: too hard", name="Press-up, wall"),
    )
    (line,) = line_changes(_squad(*lines), LIBRARY)
    assert [(c.now, c.why, len(c.movers)) for c in line.changes] == [
        ("Press-up, knees", "Too hard.", 1),
        ("Press-up, knees", "No kneeling.", 1),
        ("Press-up, wall", "Too hard.", 1),
    ]


def test_days_and_left_out_lines_name_everybody() -> None:
    (moved,) = session_changes(WEEK)
    assert moved.text == "Session 2 on Thursday 22 January: Moved from Wednesday: intervals the next morning."
    assert moved.who == ("R04 Runner 04", "R05 Runner 05")


def test_every_departure_is_told_once_and_only_departures() -> None:
    weeks = [o for o in WEEK.outcomes if isinstance(o, FittedWeek)]
    told = [m for line in line_changes(WEEK, LIBRARY) for c in line.changes for m in c.movers]
    assert len(told) == sum(i.departs for w in weeks for s in w.sessions for b in s.blocks for i in b.items)
    assert all(m.item.departs for m in told)
    assert differs(weeks[0]) == "2 changes"
    assert as_written(WEEK) == ()
