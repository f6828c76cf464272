"""The sheet of all figures: every exercise on it, readable by a machine, the same each time."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from ferrule.deliver.family_sheet import CELL_HIGH, CELL_WIDE, COLUMNS, drawn, family_sheet_pdf, family_sheet_svg
from ferrule.library.reader import load_library

LIBRARY = load_library()[0]
SVG = "{http://www.w3.org/2000/svg}"


def test_every_exercise_is_on_the_sheet_with_its_figure() -> None:
    root = ET.fromstring(family_sheet_svg(LIBRARY))
    texts = [t.text for t in root.findall(f"{SVG}text")]
    for variant in LIBRARY.variants.values():
        assert variant.name in texts
    assert len(root.findall(f"{SVG}svg")) == len(LIBRARY.variants)
    wide, high = float(root.attrib["width"]), float(root.attrib["height"])
    for cell in root.findall(f"{SVG}svg"):
        x, y, w, h = (float(cell.attrib[k]) for k in ("x", "y", "width", "height"))
        assert x + w <= wide
        assert y + h <= high
        assert w < CELL_WIDE
        assert h < CELL_HIGH
        assert cell.find(f"{SVG}title") is not None
    assert wide == COLUMNS * CELL_WIDE


def test_start_and_end_are_both_drawn() -> None:
    squat, plank = (drawn(LIBRARY.variants[i]) for i in ("squat", "front-plank"))
    assert squat is not None
    assert plank is not None
    assert squat.alt.startswith("from ")
    assert not plank.alt.startswith("from ")


def test_a_load_that_is_the_exercise_is_drawn() -> None:
    carry, squat = (drawn(LIBRARY.variants[i]) for i in ("carry-two-hands", "squat"))
    assert carry is not None
    assert squat is not None
    assert "a weight in each hand" in carry.alt
    assert "weight" not in squat.alt


def test_the_pdf_is_tagged_and_the_same_each_time() -> None:
    first, again = family_sheet_pdf(LIBRARY), family_sheet_pdf(LIBRARY)
    assert first.startswith(b"%PDF-")
    assert first == again
    assert b"/StructTreeRoot" in first or b"/MarkInfo" in first
