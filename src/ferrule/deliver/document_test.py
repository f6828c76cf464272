"""One page of words and tables, as HTML and as text."""

from __future__ import annotations

import re

from ferrule.deliver.document import Box, Document, Item, Items, Lines, Para, Section, Table, html_of, text_of, whole
from ferrule.deliver.sample import HOSTILE

PAGE = Document(
    "A page",
    ("One lead.",),
    (
        Section("Words", (Para("Said."), Para("Set back.", "note"), Items((Item("Who", ("what", "why")), Item("", ("alone",)))))),
        Section("Rows", (Table("What it shows.", ("Day", "Left", "Right"), (("Mon", "1", ""), ("Tue", "", "2"))),)),
        Section("Care", (Box("Stop for:", ("this", "that"), "At once."), Lines(("write ____ here",)))),
    ),
    ("The end.",),
)  # fmt: skip


def test_as_text() -> None:
    assert text_of(PAGE) == (
        "A page\nOne lead.\n\nWords\n-----\nSaid.\nSet back.\n- Who: what why\n- alone\n\nRows\n----\nWhat it shows.\n"
        "- Mon; Left: 1\n- Tue; Right: 2\n\nCare\n----\nStop for:\n- this\n- that\nAt once.\nwrite ____ here\n\nThe end.\n"
    )


def test_as_a_page_with_headings_in_order_and_rows_named() -> None:
    html = html_of(PAGE)
    assert re.findall(r"<h(\d)", html) == ["1", "2", "2", "2"]
    assert html.count('scope="col"') == 3
    assert html.count('scope="row"') == 2
    assert 'data-head="Left">1<' in html
    assert html.count('class="nil"') == 2
    assert '<html lang="en">' in html
    assert "<caption>What it shows.</caption>" in html


def test_every_text_is_escaped() -> None:
    bad = Document(
        HOSTILE,
        (HOSTILE,),
        (
            Section(
                HOSTILE,
                (
                    Para(HOSTILE),
                    Items((Item(HOSTILE, (HOSTILE,)),)),
                    Table(HOSTILE, (HOSTILE, HOSTILE), ((HOSTILE, HOSTILE),)),
                    Box(HOSTILE, (HOSTILE,), HOSTILE),
                    Lines((HOSTILE,)),
                ),
            ),
        ),
        (HOSTILE,),
    )
    html = html_of(bad)
    assert "<b>" not in html
    assert "\u202e" not in html
    assert "\x07" not in html
    assert html.count("&lt;b&gt;") == 18
    assert "\u202e" not in text_of(bad)


def test_a_range_and_a_day_stay_on_one_line_and_are_copied_as_written() -> None:
    said = whole("12 Jan: 3 x 8-10/side, tempo 3-1-1, until 2026-03-12, step-up <b>, 3 x 30 s")
    assert said.count('<span class="whole">') == 5
    for kept in ("12 Jan", "3 x 8-10/side", "3-1-1", "2026-03-12", "3 x 30 s"):
        assert f'<span class="whole">{kept}</span>' in said
    assert said.striptags() == "12 Jan: 3 x 8-10/side, tempo 3-1-1, until 2026-03-12, step-up <b>, 3 x 30 s"
    assert "<b>" not in said
