from __future__ import annotations

from dataclasses import replace
from datetime import date
from xml.etree import ElementTree

import pytest

from ferrule.capacity import curves
from ferrule.capacity.explain import ExerciseBelief, GroupBelief, Likely, Point, ToldSet
from ferrule.capacity.telling import AskedSet, Telling
from ferrule.deliver.explain import (
    Explanation,
    exercise_words,
    explain_page,
    explain_text,
    picture_of,
    telling_words,
    usual_band,
)
from ferrule.model.quantity import Range

LOW, STEP = (
    Point("low", "Low step <b>", 0, None, Likely(0.3, 0.4, 0.5), False),
    Point("step", "Step-up", 0, None, Likely(0.4, 0.5, 0.62), False),
)
ASKED = Point("step", "Step-up", 12, "chest", Likely(0.6, 0.75, 0.93), True)
BELIEF = ExerciseBelief(
    "step", "Step-up", "knee and hip", False, 12, Likely(6, 11, 19), "roughly known", 2,
    (ToldSet(date(2026, 1, 5), "8 done, 2 left with 12 kg"),), (LOW, STEP, ASKED), Likely(8, 11, 15),
)  # fmt: skip
GROUP = GroupBelief(
    "knee and hip", "Step-up", Likely(6, 11, 19), False, "roughly known", True, 2, date(2026, 1, 5), ("norm <i>",)
)
TOLD = Telling(
    AskedSet("1", "A1", "Step-up", "step", "knee and hip", 3, 8, False, 2, 12, "chest"),
    0.1,
    0.25,
    0.2,
    0.1,
    ("Lunge",),
    0.1,
)
WHOLE = Explanation(
    "R01", "Ana <T>", date(2026, 1, 12), "week of 12 January, as fitted", 2, (GROUP,), BELIEF, Range(0.7, 0.8),
    "8 repetitions, 2 left", (TOLD,), ("A set was 80 repetitions.",),
)  # fmt: skip


def test_the_words_say_what_from_which_sets_how_sure_and_what_one_more_teaches() -> None:
    text = explain_text(WHOLE)
    for part in (
        "likely 6 to 19; roughly known, from 2 sets, last 5 January.",
        "Step-up with 12 kg: likely 6 to 19 repetitions",
        "5 January: 8 done, 2 left with 12 kg",
        "would leave a range about as wide as 8 to 15.",
        "8 repetitions, 2 left: 70% to 80% of best",
        "1. session 1, Step-up (8 reps with 12 kg, about 2 left): takes away 25% of the doubt that matters this week; also narrows Lunge.",
        "A set was 80 repetitions.",
    ):
        assert part in text


def test_only_next_leaves_the_rest_out() -> None:
    text = explain_text(WHOLE, only_next=True)
    assert "takes away 25%" in text
    assert "roughly known" not in text


def test_no_information_is_said_for_what_was_never_told() -> None:
    text = explain_text(replace(WHOLE, logged=0, groups=(replace(GROUP, informed=False, sets=0, last=None),)))
    assert "Nothing is logged yet: only what is usual" in text
    assert "No information on it yet: what is usual." in text


def test_a_set_that_will_leave_many_says_so() -> None:
    assert '"4 or more", which tells less' in telling_words(replace(TOLD, p_four=0.9))
    words = exercise_words(replace(BELIEF, after=BELIEF.possible))
    assert words[-1] == "One more set would not narrow it by a whole repetition."


def test_the_picture_shows_each_exercise_once_each_load_and_what_is_asked() -> None:
    drawn = picture_of(WHOLE)
    root = ElementTree.fromstring(drawn)
    texts = ["".join(t.itertext()) for t in root.iter("{http://www.w3.org/2000/svg}text")]
    assert texts.count("Low step <b>") == 1
    assert texts.count("Step-up") == 1
    assert "12 kg" in texts
    assert "100%" in texts
    assert len(list(root.iter("{http://www.w3.org/2000/svg}circle"))) == 3
    alt = root.attrib["aria-label"]
    assert "with 12 kg 75% (likely 60% to 93%), asked this week" in alt
    assert "Meant, 8 repetitions, 2 left: 70% to 80%." in alt


def test_the_less_is_known_the_wider_the_band_is_blurred() -> None:
    def reach(share: Likely) -> float:
        points = (replace(STEP, share=share),)
        root = ElementTree.fromstring(picture_of(replace(WHOLE, exercise=replace(BELIEF, points=points))))
        return max(float(r.attrib["width"]) for r in root.iter("{http://www.w3.org/2000/svg}rect"))

    assert reach(Likely(0.3, 0.5, 0.8)) > reach(Likely(0.45, 0.5, 0.55))


def test_there_is_no_picture_without_an_exercise() -> None:
    assert picture_of(replace(WHOLE, exercise=None)) == ""


def test_the_page_is_escaped_and_whole() -> None:
    page = explain_page(WHOLE)
    assert "Ana &lt;T&gt;" in page
    assert "norm &lt;i&gt;" in page
    assert "<i>" not in page
    assert "default-src 'none'" in page
    assert "not treatment" in page


@pytest.mark.parametrize("hold", [False, True])
def test_the_usual_band_is_that_of_the_curves(hold: bool) -> None:
    band, words = usual_band("trunk front" if hold else "push", hold=hold)
    assert band.low < band.high < 1
    assert "the week does not ask for it" in words
    if not hold:
        assert band == Range(curves.share_at(15, curves.K_PRESS), curves.share_at(9, curves.K_PRESS))


def test_sets_of_a_day_that_say_the_same_are_one_line_and_all_are_counted() -> None:
    days = [date(2026, 1, 5 + n) for n in range(8)]
    told = tuple(ToldSet(day, "Done was tapped") for day in days for _ in range(3))
    text = explain_text(replace(WHOLE, exercise=replace(BELIEF, told=told)))
    assert "12 January: Done was tapped (3 sets)" in text
    assert text.count("Done was tapped") == 6
    assert "and 6 earlier" in text
