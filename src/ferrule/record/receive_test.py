from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from functools import partial

from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.entry import LoggedSet
from ferrule.model.fact import Entry
from ferrule.model.fitted import FittedWeek
from ferrule.record.phone_test import A_SET, EXAMPLE, a_file, an_id
from ferrule.record.receive import Handed, kind_of, receive
from ferrule.record.sent import believed, day_instead, line_of, session_of
from ferrule.record.standing import standing
from ferrule.record.typed_test import LIBRARY, MONDAY, NOW, THU, WEEK, squad

COPY = "0198c0de-0000-7000-8000-000000000001"


def copies(copy_id: str) -> FittedWeek | None:
    return WEEK if copy_id == COPY else None


def weeks(runner_id: str, day: date) -> tuple[FittedWeek, str] | None:
    return (WEEK, COPY) if runner_id == "R07" and believed(WEEK, day, session=True) else None


HANDED = Handed(squad(), LIBRARY, NOW.date(), NOW, copies, weeks)
STEP = {"session": "2", "item": "b1/i0", "kind": "set", "at": "2026-01-22T18:40:00+01:00"}
TYPED = b"R07 Thu 22 Jan\nPlank: 40 s, 35 s\nrating 6, 40 min\nleft calf 3/10\n"
TABLE = b"runner,date,exercise,set,reps,kg\nR07,2026-01-22,Press-up hands raised,1,8,\nR07,2026-01-19,Step-up,1,6,12\n"


def phone(*numbers: int) -> bytes:
    sets = [{**STEP, "id": an_id(n), "n": n, "outcome": "counted", "done": 5 + n % 2} for n in numbers]
    return a_file(*sets, runner="R07", copy=COPY)


def told_before(entries: tuple[Entry, ...], _runner_id: str, _since: date) -> tuple[Entry, ...]:
    return entries


def codes(data: bytes, handed: Handed = HANDED) -> list[str]:
    return [f.code for f in receive(data, "file", handed).findings]


def test_what_a_file_is() -> None:
    assert (kind_of(EXAMPLE, "a.txt"), kind_of(TABLE, "a.txt"), kind_of(TYPED, "a.txt")) == ("phone", "table", "typed")
    assert (kind_of(b"x", "a.csv"), kind_of(b"", "a.json"), kind_of(b"FERRULE1:abcd", "a.txt")) == (
        "table",
        "phone",
        "phone",
    )


def test_two_phones_one_set_one_stands_and_the_other_is_a_question() -> None:
    first = receive(phone(1, 2), "one.json", HANDED)
    assert first.findings == ()
    other = a_file({**STEP, "id": an_id(70), "n": 1, "outcome": "counted", "done": 3}, runner="R07", copy=COPY)
    second = receive(other, "two.json", replace(HANDED, known=lambda *_: first.entries))
    assert [f.code for f in second.findings] == ["log-told-twice"]
    assert second.findings[0].what == (
        "R07, 2026-01-22, session 2: told in two ways: Step-up, set 1 as 3 with 12 kg, and as 6 with 12 kg."
    )
    assert second.findings[0].why == "3 with 12 kg stands; the other is kept and not counted."
    assert len(standing((*first.entries, *second.entries))) == 2
    tap = a_file({**STEP, "id": an_id(71), "n": 1, "outcome": "tapped"}, runner="R07", copy=COPY)
    assert codes(tap, replace(HANDED, known=lambda *_: first.entries)) == []  # a tap goes with the count


def test_handed_over_again_there_is_nothing_to_ask() -> None:
    for data in (phone(1, 2), TYPED, TABLE):
        first = receive(data, "file", HANDED)
        again = receive(data, "file", replace(HANDED, known=partial(told_before, first.entries)))
        assert (again.entries, again.findings, again.corrected) == (first.entries, (), 0)


def test_typed_again_in_other_words_it_is_a_correction() -> None:
    first = receive(b"R07 Thu 22 Jan\nPlank: 40 s, 35 s\n", "a.txt", HANDED)
    again = receive(b"R07 Thu 22 Jan\nPlank: 20 s, 35 s\n", "a.txt", replace(HANDED, known=lambda *_: first.entries))
    assert (again.corrected, again.findings) == (1, ())
    assert [e.fact.done for e in standing((*first.entries, *again.entries))] == [20.0, 35.0]  # type: ignore[union-attr]


def test_all_sets_of_a_session_told_twice_are_one_question_with_names() -> None:
    first = receive(phone(1, 2, 3), "one.json", HANDED)
    typed = b"R07 Thu 22 Jan\nStep-up: 9, 9, 9\n"
    read = receive(typed, "a.txt", replace(HANDED, known=lambda *_: first.entries))
    (found,) = read.findings
    assert found.code == "log-told-twice"
    assert "session 2: 3 sets were told in two ways: Step-up, set 1 as " in found.what
    assert "step-up" not in found.what
    assert "--instead" in found.fix


def test_what_is_typed_instead_settles_what_pages_told() -> None:
    known = {e.entry_id: e for e in receive(phone(1, 2), "one.json", HANDED).entries}
    other = a_file({**STEP, "id": an_id(70), "n": 1, "outcome": "failed", "done": 3}, runner="R07", copy=COPY)
    page_fix = a_file(
        {**STEP, "id": an_id(80), "replaces": an_id(2), "n": 2, "outcome": "counted", "done": 4, "reserve": 2},
        runner="R07", copy=COPY,
    )  # fmt: skip

    def take(data: bytes, *, instead: bool = False) -> tuple[list[object], int, list[str]]:
        read = receive(data, "a", replace(HANDED, known=lambda *_: tuple(known.values()), instead=instead))
        for e in read.entries:
            assert known.setdefault(e.entry_id, e) == e
        told = [e.fact.done for e in standing(known.values()) if isinstance(e.fact, LoggedSet)]
        return [*told], read.corrected, [f.code for f in read.findings]

    line = b"R07 Thu 22 Jan\nStep-up: 5, 6\n"
    assert take(other)[2] == ["log-told-twice"]
    assert take(page_fix)[2] == []
    assert take(line) == ([3, 4], 0, ["log-told-twice"]), "a typed line is a question"
    assert take(line, instead=True) == ([5, 6], 2, []), "the same line as the coach's word stands"
    assert take(line, instead=True) == ([5, 6], 0, []), "and is kept once"
    assert take(line.replace(b"5, 6", b"7, 6"), instead=True) == ([7, 6], 1, [])
    assert take(line, instead=True) == ([5, 6], 1, []), "and back again"
    assert take(other)[0] == take(page_fix)[0] == [5, 6]


def test_what_is_typed_instead_may_tell_other_sides() -> None:
    def stands(first: bytes, then: bytes) -> list[tuple[str, float | None]]:
        known = receive(first, "a", HANDED).entries
        for _ in range(3):
            known += receive(then, "b", replace(HANDED, known=partial(told_before, known), instead=True)).entries
        found = standing(known)
        return [(e.fact.side, e.fact.done) for e in found if isinstance(e.fact, LoggedSet)]

    sides = [
        {**STEP, "id": an_id(n), "n": 1, "side": side, "outcome": "failed", "done": 4, "reserve": 0}
        for n, side in ((1, "left"), (2, "right"))
    ]
    page = a_file(*sides, runner="R07", copy=COPY)
    assert stands(page, b"R07 Thu 22 Jan\nStep-up: 6\n") == [("both", 6)]
    both = b"R07 Thu 22 Jan\nStep-up: left 6, right 5\n"
    assert stands(phone(1), both) == [("left", 6), ("right", 5)]


def test_what_is_typed_instead_of_nothing_is_a_typed_line() -> None:
    read = receive(TYPED, "a.txt", replace(HANDED, instead=True))
    assert (read.corrected, read.entries) == (0, receive(TYPED, "a.txt", HANDED).entries)


def test_a_day_that_may_be_two() -> None:
    (found,) = receive(TABLE.replace(b"2026-01-22", b"05.01.2026"), "a.csv", HANDED).findings
    assert found.what == "`05.01.2026` may be two days. It may be 5 January 2026 or 1 May 2026."


def test_a_slip_of_the_finger_is_asked_about_and_kept() -> None:
    read = receive(b"R07 Thu 22 Jan\nStep-up: 55, 6, 120 kg\n", "a.txt", HANDED)
    assert len(read.entries) == 2
    assert [f.code for f in read.findings] == ["log-slip"] * 3


def test_runners_who_are_not_in_the_squad_and_days_to_come() -> None:
    assert codes(a_file({**A_SET, "variant": "step-up"}, runner="R99", copy="")) == ["log-runner-unknown"]
    assert codes(b"R07 2026-01-30\nPress-up: 8\n") == ["log-ahead", "log-other-variant"]
    other = replace(HANDED, runner_id="R08", day=THU)
    assert codes(phone(1), other) == ["log-other-runner"]


def test_lines_of_a_sent_week() -> None:
    found = line_of(WEEK, "2", "b1/i0")
    assert found is not None
    assert (found.session.key, found.rounds) == ("2", 3)
    assert line_of(WEEK, "", "b2/i0") is not None
    assert line_of(WEEK, "", "b1/i0") is None  # it stands in two sessions
    assert session_of(WEEK, "9") is None
    assert (day_instead(WEEK, "2"), day_instead(WEEK, "")) == (THU, date(2026, 1, 25))
    assert believed(WEEK, MONDAY, session=True)
    assert not believed(WEEK, date(1970, 1, 1), session=False)


FILES = (
    phone(1, 2, 3),
    phone(2, 3, 4),
    phone(5),
    phone(1, 2, 3)[:330],
    TYPED,
    TABLE,
    json.dumps({"ferrule": 1}).encode(),
)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.lists(st.integers(0, len(FILES) - 1), max_size=10))
def test_any_files_in_any_order_any_number_of_times_leave_the_same_standing(order: list[int]) -> None:
    def after(files: list[int]) -> tuple[Entry, ...]:
        kept: dict[str, Entry] = {}
        for i in files:
            read = receive(FILES[i], str(i), replace(HANDED, known=lambda *_: tuple(kept.values())))
            for entry in read.entries:
                kept.setdefault(entry.entry_id, entry)
        return standing(kept.values())

    assert after(order) == after(sorted(set(order)))
