"""The session score: the minutes model along the way, each side at its place, clashes named, words for what is drawn."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from importlib.resources import files
from itertools import pairwise

import pytest

from ferrule.capacity.curves import k_of, share_at
from ferrule.check.minutes import written_minutes
from ferrule.deliver import sample, sample_many
from ferrule.deliver.score import NARROW, WIDE, alt_of, score_of_fitted, score_of_session, scores_of_week
from ferrule.deliver.score_marks import TYPICAL, Mark, Score, fitted_marks, score_marks
from ferrule.fit.verify.amounts import session_min
from ferrule.library.reader import load_library
from ferrule.model.programme import Session
from ferrule.programme.reader import read_programme
from ferrule.programme.weeks import week_of

SVG = "{http://www.w3.org/2000/svg}"
LIBRARY, _ = load_library({})
DEMO, _ = read_programme((files("ferrule.demo") / "programme.md").read_bytes(), "p.md", LIBRARY)


def session(*lines: str, head: str = "Pair A, 3 rounds, rest 60 s") -> Session:
    text = f"### Session 1: x\n\n{head}\n\n" + "".join(f"- {line}\n" for line in lines)
    week = week_of(read_programme(text, "p.md", LIBRARY)[0], 1)
    assert week is not None
    return week.sessions[0]


def said_in(svg: str) -> str:
    return " ".join(t.text or "" for t in ET.fromstring(svg).iter(f"{SVG}text"))


def main(score: Score) -> list[Mark]:
    return [m for m in score.marks if m.asked == "main"]


@pytest.mark.parametrize("week", [1, 3, 4, 6])
def test_time_runs_by_the_minutes_model(week: int) -> None:
    resolved = week_of(DEMO, week)
    assert resolved is not None
    for one in resolved.sessions:
        score = score_marks(one, LIBRARY)
        assert score.end_s / 60 == pytest.approx(written_minutes(one, LIBRARY))
        assert all(0 <= m.start_s < m.end_s <= score.end_s + 1e-6 for m in score.marks)
        assert not score.unknown
        by_line: dict[int, list[Mark]] = {}
        for m in main(score):
            by_line.setdefault(m.line, []).append(m)
        for marks in by_line.values():
            assert all(a.end_s <= b.start_s for a, b in pairwise(marks)), "a line meets itself"


def test_a_set_stands_where_a_stop_clock_would_have_it() -> None:
    """Worked by hand: set-ups first, then left, 5 s to change, right, 10 s to the next exercise, 60 s after the round."""
    score = score_marks(session("Step-up: 10/side, 2 RIR, tempo 2-0-1", "Press-up: 10, 3 RIR, tempo 1-0-1", head="Pair A, 2 rounds, rest 60 s"), LIBRARY)  # fmt: skip
    ready = LIBRARY.variants["step-up"].setup_s + LIBRARY.variants["press-up"].setup_s
    told = [(m.area, m.half, m.start_s - ready, m.end_s - ready) for m in main(score)]
    first = [("knee and hip", "left", 0, 30), ("knee and hip", "right", 35, 65), ("arms", "both", 75, 95)]
    second = [("knee and hip", "left", 155, 185), ("knee and hip", "right", 190, 220), ("arms", "both", 230, 250)]
    order = {"left": 0, "right": 1, "both": 2}
    assert sorted(told, key=lambda t: (t[2], order[t[1]])) == [*first, *second]
    assert score.end_s - ready == 250


def test_left_and_right_written_apart_take_their_own_time() -> None:
    marks = main(score_marks(session("Step-up: left 10, right 5, tempo 2-0-1", head="Straight, 1 set"), LIBRARY))
    assert [(m.half, m.end_s - m.start_s) for m in marks] == [("left", 30), ("right", 15)]


def test_the_height_is_the_effort_the_coach_wrote() -> None:
    """8 reps with 2 left: the share of best at which 10 or 11 are possible (the curve of capacity/curves.py)."""
    (mark,) = main(score_marks(session("Squat: 8, 2 RIR", head="Straight, 1 set"), LIBRARY))
    assert mark.share == pytest.approx(share_at(10.5, k_of("knee and hip")))
    (bare,) = main(score_marks(session("Squat: 8", head="Straight, 1 set"), LIBRARY))
    squat = LIBRARY.variants["squat"].main
    assert squat is not None
    assert bare.share == pytest.approx(squat.base / TYPICAL["knee and hip"])


def test_the_warm_up_is_never_drawn_as_work_and_mobility_never_with_a_share() -> None:
    score = score_marks(session("Squat: 8", "Ankle rock: 8/side", head="Warm-up, 1 round"), LIBRARY)
    assert {m.asked for m in score.marks} == {"easy"}
    hop = score_marks(session("Hop in place: 5/side", head="Straight, 2 sets"), LIBRARY)
    assert {(m.asked, m.share) for m in hop.marks} == {("counted", None)}
    assert len(hop.marks) == 4


def test_two_exercises_of_a_pair_in_one_row_are_a_clash_and_elsewhere_not() -> None:
    clash = score_marks(session("Step-up: 8/side, 2 RIR", "Split squat: 8/side, 2 RIR"), LIBRARY)
    assert [b.clash for b in clash.labels] == [("knee and hip",)]
    assert "clash: Pair A works the knee and hip twice in a round" in alt_of(clash)
    svg = score_of_session(session("Step-up: 8/side, 2 RIR", "Split squat: 8/side, 2 RIR"), LIBRARY)
    assert "clash: knee and hip twice in a round" in svg
    for other in (
        session("Step-up: 8/side, 2 RIR", "Press-up: 8, 2 RIR"),
        session("Step-up: 8/side, 2 RIR", "Split squat: 8/side, 2 RIR", head="Straight, 3 sets"),
    ):
        assert not any(b.clash for b in score_marks(other, LIBRARY).labels)
        assert "clash" not in score_of_session(other, LIBRARY)


def test_what_the_library_does_not_know_takes_its_time_and_is_named() -> None:
    score = score_marks(session("Fence step: 8/side", "Press-up: 8, 2 RIR"), LIBRARY)
    assert score.unknown == ("Fence step",)
    assert {m.area for m in main(score)} == {"arms"}
    alone = session("Fence step: 8/side", head="Straight, 1 set")
    assert "not known: Fence step" in said_in(score_of_session(alone, LIBRARY))


def test_a_limit_is_drawn_for_a_runner_only() -> None:
    library, first = sample.library(), sample.first_session()
    score = fitted_marks(first, library)
    assert score.limits == {"knee and hip", "arms"}
    assert {round(m.share or 0, 2) for m in score.marks if m.area == "knee and hip" and m.asked == "main"} == {0.76}
    assert score.end_s / 60 == pytest.approx(session_min(first, library))
    dotted = score_of_fitted(first, library).count('stroke-dasharray="1 3"')
    assert dotted == 4
    assert "dotted: this runner's best" in said_in(score_of_fitted(first, library))
    bare = replace(first, blocks=tuple(replace(b, items=tuple(replace(i, prediction=None) for i in b.items)) for b in first.blocks))  # fmt: skip
    assert "stroke-dasharray" not in score_of_fitted(bare, library)


def test_blocks_by_the_clock_last_as_long_fitted_as_they_do_on_the_sheet() -> None:
    library = sample.library()
    for one in sample_many.week().sessions:
        assert fitted_marks(one, library).end_s / 60 == pytest.approx(session_min(one, library))


@pytest.mark.parametrize("wide", [WIDE, NARROW])
def test_everything_stands_inside_the_picture_and_no_ids_are_needed(wide: float) -> None:
    for n in (1, 4, 5):
        week = week_of(DEMO, n)
        assert week is not None
        for one in week.sessions:
            svg = score_of_session(one, LIBRARY, wide=wide)
            root = ET.fromstring(svg)
            _, _, right, bottom = map(float, (root.get("viewBox") or "").split())
            assert " id=" not in svg
            for r in root.iter(f"{SVG}rect"):
                x, y, w, h = (float(r.get(k) or 0) for k in ("x", "y", "width", "height"))
                assert 0 <= x <= x + w <= right
                assert 0 <= y <= y + h <= bottom
            for t in root.iter(f"{SVG}text"):
                size, text = float(t.get("font-size") or 12), t.text or ""
                long = len(text) * size * 0.56
                x, anchor = float(t.get("x") or 0), t.get("text-anchor")
                left = x - long if anchor == "end" else x - long / 2 if anchor == "middle" else x
                assert left >= -1, text
                assert left + long <= right + 8, text


def test_the_alternative_text_says_every_line() -> None:
    week = week_of(DEMO, 1)
    assert week is not None
    said = alt_of(score_marks(week.sessions[0], LIBRARY))
    for name in (
        "Ankle rock",
        "Step-up, low works the knee and hip",
        "Press-up works the arms, on the way trunk",
        "min;",
    ):
        assert name in said


def test_text_of_a_file_cannot_become_markup() -> None:
    one = replace(session('<script>alert("x")</script>: 8'), name='"><script>')
    svg = scores_of_week((one,), LIBRARY)
    ET.fromstring(svg)
    assert "<script" not in svg
    ET.fromstring(scores_of_week((), LIBRARY))
