"""Sheets, pages and calendars for a squad of 24, beside the same typesetter started afresh for every sheet."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from importlib.resources import files
from time import perf_counter

import typst

from ferrule.deliver import sample
from ferrule.deliver.calendar import calendar
from ferrule.deliver.page import runner_page
from ferrule.deliver.sheet import sheet_data, sheet_pdf
from ferrule.deliver.summary import squad_page, squad_table
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek

Row = tuple[str, float, str]
RUNNERS = 24
STAMP = datetime(2026, 1, 16, 9, 0, tzinfo=UTC)


def run() -> list[Row]:
    """Seconds for 24 runners of three sessions each; the first sheet apart, for it loads the fonts."""
    library, _ = load_library()
    squad = [_week(n) for n in range(RUNNERS)]
    first = _seconds(lambda: sheet_pdf(squad[0], library, sample.HOUSE, draft=False))
    sheets = [sheet_pdf(w, library, sample.HOUSE, draft=False) for w in squad]
    ours = _seconds(lambda: [sheet_pdf(w, library, sample.HOUSE, draft=False) for w in squad])
    afresh = _seconds(lambda: [_afresh(w, library) for w in squad[:6]]) / 6 * RUNNERS
    week = sample.squad_week(RUNNERS)
    return [
        ("first sheet, fonts and template read", first, "s"),
        (f"{RUNNERS} sheets, PDF/UA-1", ours, "s"),
        ("one sheet, on average", ours / RUNNERS * 1000, "ms"),
        ("size of one sheet", sum(map(len, sheets)) / RUNNERS / 1000, "kB"),
        ("the typesetter started afresh for each sheet, against ours", afresh / ours, "x peer"),
        (f"{RUNNERS} pages", _seconds(lambda: [_page(w, library) for w in squad]), "s"),
        ("size of one page", len(_page(squad[0], library).encode()) / 1000, "kB"),
        (f"{RUNNERS} calendars", _seconds(lambda: [calendar(w, sequence=1, stamp=STAMP) for w in squad]), "s"),
        ("the coach's page", _seconds(lambda: squad_page(week, library, sample.HOUSE)), "s"),
        ("the coach's table", _seconds(lambda: squad_table(week)), "s"),
    ]


def _week(n: int) -> FittedWeek:
    week = sample.week(f"R{n:02d}", f"Runner {n:02d}")
    third = replace(week.sessions[0], uid=f"r{n:02d}-s3@example.org", key="3")
    return replace(week, sessions=(*week.sessions, third))


def _page(week: FittedWeek, library: Library) -> str:
    return runner_page(week, library, sample.HOUSE, draft=False, copy_id="c1")


def _afresh(week: FittedWeek, library: Library) -> bytes:
    data = json.dumps(sheet_data(week, library, sample.HOUSE, draft=False, copy_id=""))
    made: bytes = typst.compile(
        str(files("ferrule.deliver").joinpath("sheet.typ")),
        font_paths=typst.Fonts(include_system_fonts=False),
        sys_inputs={"data": data},
        pdf_standards=["ua-1"],
    )
    return made


def _seconds(work: Callable[[], object]) -> float:
    begun = perf_counter()
    work()
    return perf_counter() - begun
