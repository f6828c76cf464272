"""The page of a dry run says in words what it draws, escapes the text, and needs nothing from elsewhere."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from ferrule.deliver.dry_run_page import page, picture
from ferrule.simulate.dry_run import DryRun, LineDone, WeekDone
from ferrule.simulate.dry_run_summary import summary_of

EFFORTS = ("too easy", "right", "right", "too hard")


def run() -> DryRun:
    weeks = tuple(
        WeekDone(
            f"S{n}", 1, "Start", "sent",
            (LineDone(f"S{n}", 1, "1", "A1", "Squat <b>", "squat", 0.0, 1.0, e, 0.0, True, "right", 0.9, True, 3, 0, False),),  # type: ignore[arg-type]
            (30.0,), (0,),
        )
        for n, e in enumerate(EFFORTS)
    )  # fmt: skip
    return DryRun("Text & more", 1, False, 4, weeks, ())


def test_the_picture_has_its_words_and_its_widths() -> None:
    svg = picture(list(summary_of(run()).lines))
    root = ElementTree.fromstring(svg)
    assert root.attrib["aria-label"] == "Squat <b>: too easy 25 %, right 50 %, too hard 25 %"
    bars = [float(e.attrib["width"]) for e in root.iter() if e.tag.endswith("rect") and "stroke" in e.attrib]
    assert bars == [105.0, 210.0, 105.0]


def test_the_page_is_whole_and_asks_for_nothing() -> None:
    text = page(run(), summary_of(run()))
    assert "Dry run: Text &amp; more" in text
    assert "<b>" not in text
    assert "Simulated bodies, not people" in text
    assert not re.search(r"<(script|link|img)|https?://(?!www\.w3\.org)", text)
