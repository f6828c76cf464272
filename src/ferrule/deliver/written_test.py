"""The written week: every line in full, coach's notes marked, the page like the text."""

from __future__ import annotations

from html import unescape
from importlib.resources import files

import pytest

from ferrule.deliver.written import written_text, written_week
from ferrule.deliver.written_page import written_page
from ferrule.library.reader import load_library
from ferrule.model.programme import Programme, ProgrammeWeek
from ferrule.programme.reader import read_programme
from ferrule.programme.text import item_text
from ferrule.programme.weeks import week_of

LIBRARY, _ = load_library({})
DEMO = (files("ferrule.demo") / "programme.md").read_text(encoding="utf-8")


def laid(text: str, number: int) -> tuple[Programme, ProgrammeWeek]:
    programme, _ = read_programme(text, "p.md", LIBRARY)
    week = week_of(programme, number)
    assert week is not None
    return programme, week


@pytest.mark.parametrize("number", [1, 3, 6])
def test_every_line_of_the_week_is_in_the_text_and_on_the_page(number: int) -> None:
    programme, week = laid(DEMO, number)
    text = written_text(written_week(programme, week, LIBRARY))
    page = unescape(written_page(programme, week, LIBRARY))
    lines = [i for s in week.sessions for b in s.blocks for item in b.items for i in (item, *item.alternatives)]
    assert len(lines) > 20
    for line in lines:
        assert item_text(line) in text
        assert item_text(line) in page
        for note in line.notes:
            assert note in text
            assert note in page
    assert page.count("<svg") == 2 * len(week.sessions)


def test_the_tables_are_applied() -> None:
    programme, first = laid(DEMO, 1)
    _, third = laid(DEMO, 3)
    before, after = (written_text(written_week(programme, w, LIBRARY)) for w in (first, third))
    assert "Front plank: 30 s" in before
    assert "Front plank: 40 s" in after
    assert "Pair A, 4 rounds, rest 75-90 s" in after
    assert "| week" not in after


def test_the_coachs_notes_are_there_and_marked() -> None:
    programme, week = laid(DEMO, 1)
    text = written_text(written_week(programme, week, LIBRARY))
    assert "coach: read the first week's answers before week 2 goes out" in text
    assert "    coach: anyone below six press-ups starts with hands raised" in text
    page = written_page(programme, week, LIBRARY)
    assert '<p class="coach"><strong>coach:</strong> anyone below six' in page
    assert "For the coach" in page


def test_minutes_counted_and_written_are_told_apart() -> None:
    _, week = laid(DEMO, 4)
    takes = [s.takes for s in written_week(laid(DEMO, 4)[0], week, LIBRARY).sessions]
    assert takes[0] == "About 33 min by the minutes model; 35 min are written"


def test_a_condition_that_only_prints_says_so_and_words_cannot_become_markup() -> None:
    text = "when the moon is full: rest\n\n### Session 1: <b>x</b>\n\nStraight, 1 set\n\n- Press-up: 8\n  note: a & b <i>\n"
    programme, week = laid(text, 1)
    assert "when the moon is full: rest (printed; Ferrule does not act on it)" in written_text(
        written_week(programme, week, LIBRARY)
    )
    page = written_page(programme, week, LIBRARY)
    assert "<b>x" not in page
    assert "&lt;b&gt;x" in page
    assert "<i>" not in page


def test_a_week_without_sessions_is_said() -> None:
    programme, week = laid("## Cycle 1, weeks 1-2: Rest\nAim: rest.\n", 1)
    assert "no session in this week" in written_text(written_week(programme, week, LIBRARY))
    assert "No session in this week" in written_page(programme, week, LIBRARY)
