from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.fact import Entry, PainTold, SessionTold
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek
from ferrule.record.table import is_table, read_log_table
from ferrule.record.table_columns import COLUMNS, column_named
from ferrule.record.typed_test import LIBRARY, NOW, THU, WEEK, squad


def weeks(runner_id: str, _day: date) -> tuple[FittedWeek, str] | None:
    return (WEEK, "copy") if runner_id == "R07" else None


def read(text: str | bytes) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    data = text.encode() if isinstance(text, str) else text
    return read_log_table(data, "log.csv", squad(), LIBRARY, weeks, near=NOW.date(), now=NOW)


def facts(text: str) -> list[Any]:
    entries, findings = read(text)
    assert findings == ()
    return [e.fact for e in entries]


def test_a_row_a_set() -> None:
    told = facts(
        "Runner,Date,Exercise,Set,Reps,Load (kg),RIR,Failed\nR07,2026-01-22,Step-up,1,6,10,,\nR07,2026-01-22,Step-up,2,5,10,1,no\n"
        "Gwen P,22 Jan 2026,Press-ups hands raised,1,8,,,yes\n"
    )
    assert [(s.variant_id, s.number, s.done, s.load_kg, s.reserve, s.outcome, s.item_key) for s in told] == [
        ("step-up", 1, 6.0, 10.0, None, "counted", "b1/i0"), ("step-up", 2, 5.0, 10.0, Reserve(1, 1), "counted", "b1/i0"),
        ("press-up-hands-raised", 1, 8.0, 0.0, None, "failed", "b2/i0"),
    ]  # fmt: skip


def test_a_row_of_none_that_failed_is_a_set_of_none() -> None:
    told = facts(
        "runner,date,exercise,set,reps,kg,outcome\nR07,2026-01-22,Step-up,1,6,12,\nR07,2026-01-22,Step-up,2,0,12,failed\n"
    )
    assert [(s.number, s.done, s.load_kg, s.outcome) for s in told] == [
        (1, 6.0, 12.0, "counted"),
        (2, 0.0, 12.0, "failed"),
    ]


def test_a_row_an_exercise_with_other_headings_and_semicolons() -> None:
    told = facts(
        'sep=;\nID;Day;Movement;Result;Hold;Weight\nR07;22/01/2026;Step-up;"6, 6, 5";;12,5\nR07;22/01/2026;Plank;;40, 35;\n'
    )
    assert [(s.done, s.unit, s.load_kg) for s in told] == [
        (6.0, "reps", 12.5), (6.0, "reps", 12.5), (5.0, "reps", 12.5), (40.0, "s", 0.0), (35.0, "s", 0.0),
    ]  # fmt: skip


def test_rows_without_a_number_are_sets_in_the_order_of_the_file() -> None:
    told = facts(
        "runner,date,exercise,reps\nR07,2026-01-22,Step-up,6\nR07,2026-01-22,Plank,30 s\nR07,2026-01-22,Step-up,5\n"
    )
    assert sorted((s.variant_id, s.number, s.done) for s in told) == [
        ("front-plank", 1, 30.0),
        ("step-up", 1, 6.0),
        ("step-up", 2, 5.0),
    ]


def test_sides_pain_ratings_and_notes() -> None:
    told = facts(
        "runner,date,exercise,reps,side,pain,next morning,rating,minutes,notes\n"
        "R07,2026-01-22,Step-up,6,left,left calf 4/10,2,,,felt heavy\nR07,2026-01-22,Step-up,5,right,no,,6,40,windy\n"
    )
    assert [(s.side, s.number, s.done) for s in told if isinstance(s, LoggedSet)] == [
        ("left", 1, 6.0),
        ("right", 1, 5.0),
    ]
    assert PainTold(THU, "calf", "left", 4, 2, "2", "b1/i0", "step-up") in told
    assert SessionTold(THU, "2", "did", rating=6, minutes=40.0, words="felt heavy; windy", copy_id="copy") in told


@pytest.mark.parametrize(
    ("row", "code", "field", "kept"),
    [
        ("R99,2026-01-22,Step-up,6,,", "log-runner-unknown", 1, 0),
        ("R07,03/04/2026,Step-up,6,,", "log-no-day", 2, 0),
        ("R07,someday,Step-up,6,,", "log-no-day", 2, 0),
        ("R07,2026-01-22,Stepp thing,6,,", "log-not-understood", 3, 0),
        ("R07,2026-01-22,Step-up,,,", "log-nothing-told", 3, 0),
        ("R07,2026-01-22,Step-up,six,,", "number-as-word", 4, 1),
        ("R07,2026-01-22,Step-up,6,,12", "log-value", 6, 1),
        ("R07,2026-01-22,Step-up,6,,,,oops", "log-row", 7, 0),
        ('R07,2026-01-22,"Step-up,6,,', "log-row", 1, 0),
    ],
)
def test_faults_are_named_with_row_and_field_and_the_rest_is_read(row: str, code: str, field: int, kept: int) -> None:
    head = "runner,date,exercise,reps,kg,rating\n"
    entries, findings = read(head + row + "\nR07,2026-01-22,Plank,30 s,,\n")
    assert [(f.code, f.span.line, f.span.column) for f in findings if f.span] == [(code, 2, field)]
    assert len([e for e in entries if isinstance(e.fact, LoggedSet)]) == kept + 1


@pytest.mark.parametrize(
    "text",
    ["", "a,b\n1,2\n", "runner,exercise\nR07,Step-up\n", "\x00\x01", "date,exercise,reps\n2026-01-22,Step-up,6\n"],
)
def test_a_file_without_its_columns_says_which(text: str) -> None:
    entries, findings = read(text)
    assert entries == ()
    assert [f.code for f in findings] == ["log-not-read"]


def test_columns_not_read_are_named() -> None:
    _, findings = read("runner,date,exercise,reps,weather\nR07,2026-01-22,Step-up,6,fine\n")
    assert [(f.code, f.level) for f in findings] == [("log-column", "note")]
    assert "weather" in findings[0].what


def test_windows_letters_and_utf_16() -> None:
    text = "runner,date,exercise,reps,note\nR07,2026-01-22,Step-up,6,très dur\n"
    for data in (text.encode("cp1252"), text.encode("utf-16"), text.encode("utf-8-sig")):
        entries, findings = read(data)
        assert findings == ()
        assert any(isinstance(e.fact, SessionTold) and e.fact.words == "très dur" for e in entries)


def test_what_is_a_table() -> None:
    assert is_table(b"Runner;Date;Exercise;Reps\n")
    assert not is_table(b"R07 Thu 22 Jan\nStep-up: 6, 6\n")


def test_every_heading_names_one_column() -> None:
    said = [h for column, also in COLUMNS.items() for h in (column, *also)]
    assert all(column_named(h.upper() + " (kg)") for h in said)
    assert [column_named(h) for h in said] == [c for c, also in COLUMNS.items() for _ in (c, *also)]


ROWS = tuple(f"R07,2026-01-{d},Step-up,{n},{6 - n},12" for d in (19, 22) for n in (1, 2, 3))


@settings(derandomize=True, max_examples=40, deadline=None)
@given(st.lists(st.sampled_from(ROWS), min_size=1, max_size=9), st.integers(0, 9))
def test_numbered_rows_in_any_order_any_split_and_doubled_are_the_same_entries(rows: list[str], cut: int) -> None:
    head = "runner,date,exercise,set,reps,kg\n"
    whole = {e.entry_id for e in read(head + "\n".join(rows))[0]}
    parts = {e.entry_id for part in (rows[:cut], rows[cut:]) if part for e in read(head + "\n".join(part))[0]}
    assert whole == parts == {e.entry_id for e in read(head + "\n".join(sorted(set(rows))))[0]}
