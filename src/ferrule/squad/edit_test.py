"""One cell of the squad file written anew, and everything else left as it was."""

from __future__ import annotations

from datetime import date

import pytest

from ferrule.library.reader import load_library
from ferrule.model.squad import Runner
from ferrule.squad.edit import moved_race_cells, with_cells
from ferrule.squad.reader import read_squad

LIBRARY, _ = load_library({})
WAS, TO = date(2026, 5, 17), date(2026, 5, 31)
HEAD = "id,name,level,anchor,races,own words"
ROWS = (
    'R01,Arla T,some,to race 2026-05-17,"2026-03-08 hill race; 17 May 2026 the long one","keeps, commas"',
    "R02,Bram K,never,from 2026-01-05,17 May;25 April,",
    "R03,Cora L,some,to race 17 May 2026,,x",
)


def file(end: str = "\n") -> bytes:
    return (end.join([HEAD, *ROWS]) + end).encode()


def runners(data: bytes) -> tuple[Runner, ...]:
    return read_squad(data, "squad.csv", LIBRARY)[0].runners


@pytest.mark.parametrize(
    ("n", "cells"),
    [
        (0, {"anchor": "to race 2026-05-31", "races": "2026-03-08 hill race; 2026-05-31 the long one"}),
        (1, {"races": "2026-05-31;25 April"}),
        (2, {"anchor": "to race 2026-05-31"}),
    ],
)
def test_the_cells_that_name_the_day_name_the_new_one(n: int, cells: dict[str, str]) -> None:
    data = file()
    runner = runners(data)[n]
    assert moved_race_cells(data, "squad.csv", runner, WAS, TO) == cells
    written = with_cells(data, "squad.csv", runner, cells)
    assert written is not None
    before, after = data.decode().splitlines(), written.decode().splitlines()
    assert [a for i, a in enumerate(after) if i != n + 1] == [b for i, b in enumerate(before) if i != n + 1]
    again = runners(written)[n]
    assert TO in again.races
    assert WAS not in again.races
    assert (again.anchor is not None and again.anchor.day == TO) == ("anchor" in cells)
    assert (again.name, again.level) == (runner.name, runner.level)


def test_a_day_that_is_no_race_changes_nothing() -> None:
    data = file()
    assert moved_race_cells(data, "squad.csv", runners(data)[1], date(2026, 4, 26), TO) == {}


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_line_ends_and_marks_stay(end: str, mark: bytes) -> None:
    data = mark + file(end=end)
    written = with_cells(data, "squad.csv", runners(data)[2], {"anchor": "to race 2026-05-31"})
    assert written is not None
    assert written.startswith(mark + b"id,")
    assert written.count(end.encode()) == data.count(end.encode())
    assert written.count(b"\r") == data.count(b"\r")


def test_semicolons_between_cells_stay() -> None:
    data = b'id;name;level;anchor\nR01;Arla T;some;"to race 2026-05-17"\n'
    written = with_cells(data, "squad.csv", runners(data)[0], {"anchor": "to race 2026-05-31"})
    assert written == b"id;name;level;anchor\nR01;Arla T;some;to race 2026-05-31\n"


def test_what_cannot_be_done_without_touching_more_is_left() -> None:
    over_two = b'id,name,level,anchor\nR01,"Arla\nT",some,to race 2026-05-17\n'
    assert with_cells(over_two, "squad.csv", runners(over_two)[0], {"anchor": "x"}) is None
    no_column = b"id,name,level,anchor\nR01,Arla T,some,to race 2026-05-17\n"
    assert with_cells(no_column, "squad.csv", runners(no_column)[0], {"races": "x"}) is None
    western = "id,name,level,anchor\nR01,Zoë T,some,to race 2026-05-17\n".encode("cp1252")
    assert with_cells(western, "squad.csv", runners(western)[0], {"anchor": "x"}) is None
