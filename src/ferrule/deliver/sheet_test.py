"""The sheet read back: its words, its tags, its pictures' descriptions; the same bytes for the same week."""

import io
from dataclasses import replace

import pypdf
import pytest
from pypdf.generic import DictionaryObject

from ferrule.deliver import cautions, sample, sample_many
from ferrule.deliver.plain import clean
from ferrule.deliver.sheet import SIDES, sheet_data, sheet_pdf
from ferrule.library.reader import load_library
from ferrule.model.house import House

LIBRARY, _ = load_library()


def _pdf(week: object = None, *, draft: bool = False, copy_id: str = "") -> bytes:
    return sheet_pdf(week or sample.week(), LIBRARY, sample.HOUSE, draft=draft, copy_id=copy_id)  # type: ignore[arg-type]


def _text(data: bytes) -> str:
    return " ".join(" ".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(data)).pages).split())


def _figures(data: bytes) -> list[DictionaryObject]:
    """Every Figure element of the tag tree."""
    found: list[DictionaryObject] = []
    todo = [pypdf.PdfReader(io.BytesIO(data)).trailer["/Root"]["/StructTreeRoot"]]  # type: ignore[index]
    while todo:
        node = todo.pop()
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, DictionaryObject):
            if node.get("/S") == "/Figure":
                found.append(node)
            if "/K" in node:
                todo.append(node["/K"])
        elif isinstance(node, list):
            todo.extend(node)
    return found


def test_it_is_tagged_titled_and_says_its_language() -> None:
    pdf = pypdf.PdfReader(io.BytesIO(_pdf()))
    root = pdf.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]  # type: ignore[index]
    assert str(root["/Lang"]).startswith("en")  # type: ignore[index]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]  # type: ignore[index]
    assert pdf.metadata is not None
    assert pdf.metadata.title == "Runner 07: Fell-ready, first block, week 2"
    assert b"pdfuaid" in _pdf()
    box = pdf.pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == (595, 842)


def test_every_picture_has_a_description() -> None:
    figures = _figures(_pdf())
    assert len(figures) >= 6
    assert all(str(f["/Alt"]).strip() for f in figures)


def test_all_a_runner_needs_is_on_it() -> None:
    text = _text(_pdf(copy_id="2f9c"))
    for said in (
        "Runner 07",
        "Fell-ready, first block, week 2: Foundations",
        "Week of Monday 19 January 2026",
        "Session 1: calf and hip",
        "Monday 19 January, 18:30, about 34 min",
        "Fetch now: 12 kg dumbbell, 30 cm step, mat",
        "Short of time? Leave out Press-up, hands raised.",
        "Pair A, 4 rounds",
        "Stop at 7 each side, sooner if only 2 good ones are left.",
        "12 kg at the chest (12 kg dumbbell)",
        "2 s down, no pause, 1 s up",
        "Rest 75 to 90 s after each round.",
        "Too hard today (under 5 each side): low step-up, 12 kg at the chest.",
        "Too easy: high step-up, 12 kg at the chest.",
        "Left calf: nothing above the two-leg heel raise until 12 March.",
        cautions.FINDING_WEEK,
        cautions.RED_FLAG_HEAD,
        cautions.RED_FLAG_TAIL,
        *cautions.RED_FLAGS,
        *cautions.pain_rule(House()),
        cautions.PURPOSE,
        "coach@example.org",
        "copy 2f9c",
        "page 1 of",
    ):
        assert said in text, said


def test_a_draft_says_so_on_every_page_and_a_sent_sheet_never() -> None:
    draft = pypdf.PdfReader(io.BytesIO(_pdf(draft=True)))
    assert all("DRAFT" in p.extract_text() for p in draft.pages)
    assert cautions.DRAFT in _text(_pdf(draft=True))
    assert "draft" not in _text(_pdf()).lower()


def test_no_number_of_the_model_reaches_the_runner() -> None:
    text = _text(_pdf())
    assert "%" not in text
    assert "N·m" not in text
    assert "in reserve" not in text
    for reason in sample.press_up().reasons:
        assert reason.text not in text


def test_the_same_week_is_the_same_bytes() -> None:
    assert _pdf(copy_id="a") == _pdf(copy_id="a")
    assert _pdf(copy_id="a") != _pdf(copy_id="b")


def test_hostile_text_is_printed_as_text() -> None:
    text = _text(_pdf(sample.hostile_week(), copy_id="<#x>"))
    assert "<b>Zoë</b> #eval(1) @ref" in text
    assert "A box stands for a letter this paper cannot show." in text


def test_a_name_in_a_script_the_fonts_lack_is_boxes_and_said() -> None:
    text = _text(_pdf(replace(sample.week(), runner_name="日本 花子")))
    assert "□□ □□" in text
    assert "R07" in text
    assert "A box stands for" in text


@pytest.mark.parametrize("name", ["Žiga Šćepanović", "Łucja Żółć", "Ελένη", "Наталья", "مرحبا", "Ødegård & Søn <3"])
def test_names_of_many_places_print_whole(name: str) -> None:
    data = _pdf(replace(sample.week(), runner_name=name))
    assert "A box stands for" not in _text(data)
    assert pypdf.PdfReader(io.BytesIO(data)).metadata.title.startswith(clean(name))  # type: ignore[union-attr]


def test_the_way_to_do_both_sides_is_said_once() -> None:
    text = _text(_pdf())
    assert text.count(SIDES) == 1
    assert "then right" not in text.replace("rest 20 s, then right", ""), (
        "only a rest between the sides is a line's own"
    )


def test_conditions_stand_out_in_the_lead() -> None:
    week = replace(sample.week(), notes=("Every rep clean.",), conditions=("If pain above 3: stop.",))
    lead = sheet_data(week, LIBRARY, sample.HOUSE, draft=False, copy_id="")["lead"]
    assert {"text": "If pain above 3: stop.", "strong": True} in lead
    assert {"text": "Every rep clean.", "strong": False} in lead
    assert "Every rep clean. If pain above 3: stop." in _text(_pdf(week))


def test_three_sessions_fit_two_pages() -> None:
    week = sample.week()
    third = replace(week.sessions[0], uid="r07-w2-s3@example.org", key="3")
    assert len(pypdf.PdfReader(io.BytesIO(_pdf(replace(week, sessions=(*week.sessions, third))))).pages) == 2


def test_sessions_done_many_times_and_blocks_by_the_clock() -> None:
    data = _pdf(sample_many.week())
    text = _text(data)
    for said in (
        "Monday 19, Wednesday 21 and Friday 23 January, about 34 min each time",
        "Every day, Monday 19 to Sunday 25 January, morning and evening (7:00 and 18:00), about 5 min each time",
        "15 reps. Lowering only; rest 20 s, then as many more as you can, 3 times.",
        "Circuit B, go round for 12 minutes: legs and trunk",
        "40 s work, 20 s rest at each. Rest 90 s after each round.",
        "Choose 3 of these.",
        "Cool-down",
        "As long as it does you good.",
        "Session 4: hops (2 of its 3 times): no day this week.",
    ):
        assert text.count(said) == 1, said
    assert "not fitted" not in text
    assert "12 min." not in text, "the title has said it"
    assert text.count("Session 2: calf") == 1
    assert len(pypdf.PdfReader(io.BytesIO(data)).pages) == 2


def test_hostile_text_in_the_newer_places_is_printed_as_text() -> None:
    week = sample.hostile_week()
    block = replace(week.sessions[0].blocks[0], name=sample.HOSTILE, minutes=12)
    text = _text(_pdf(replace(week, sessions=(replace(week.sessions[0], blocks=(block,)),))))
    assert text.count("<b>Zoë</b> #eval(1)") > 4


def test_without_a_drawing_the_words_still_stand() -> None:
    data = sheet_pdf(sample.week(), sample.library(), sample.HOUSE, draft=False)
    assert _figures(data) == []
    assert "Stop at 7 each side" in _text(data)


def test_an_empty_week_is_still_a_sheet() -> None:
    text = _text(_pdf(replace(sample.week(), sessions=())))
    assert cautions.RED_FLAG_HEAD in text
