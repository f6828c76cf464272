"""The coach's pictures say in words what they draw."""

import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date, time

from ferrule.capacity.curves import k_of, reps_at
from ferrule.deliver import sample
from ferrule.deliver.family_picture import band, family_picture, points
from ferrule.deliver.pictures import spread_picture, week_picture
from ferrule.model.finding import Span
from ferrule.model.fitted import LineSpread
from ferrule.model.squad import Run, Runner

SVG = "{http://www.w3.org/2000/svg}"
RUNS = (Run(1, "key", time(19)), Run(3, "easy"), Run(6, "long", time(9)))


def _runner(*runs: Run, races: tuple[date, ...] = ()) -> Runner:
    return Runner("R07", "Runner 07", "some", (), (0, 3), runs, None, Span("squad.csv", 1), races=races)


def _rects(svg: str) -> list[ET.Element]:
    return list(ET.fromstring(svg).iter(f"{SVG}rect"))


def _texts(svg: str) -> list[str]:
    return [t.text or "" for t in ET.fromstring(svg).iter(f"{SVG}text")]


def test_one_square_a_runner_and_a_word_and_number_beside_each_row() -> None:
    spread = LineSpread("1", "A1", "Step-up", ("a",), ("b", "c", "d"), ("e", "f"), ("g",), ())
    svg = spread_picture(spread)
    assert len(_rects(svg)) == 7
    assert _texts(svg) == ["too easy", "1", "right", "3", "too hard", "2", "cannot", "1"]
    assert ET.fromstring(svg).get("aria-label") == "As written: too easy 1, right 3, too hard 2, cannot 1"


def test_a_large_squad_stays_inside_the_picture() -> None:
    svg = spread_picture(LineSpread("1", "A1", "x", (), tuple(map(str, range(500))), (), (), ()))
    assert max(float(r.get("x", 0)) + float(r.get("width", 0)) for r in _rects(svg)) <= 320
    assert _texts(spread_picture(LineSpread("1", "A1", "x", (), (), (), (), ())))[1::2] == ["0", "0", "0", "0"]


def test_the_four_kinds_differ_without_colour() -> None:
    one: tuple[str, ...] = ("r",)
    kinds = (
        LineSpread("1", "A", "x", one, (), (), (), ()),
        LineSpread("1", "A", "x", (), one, (), (), ()),
        LineSpread("1", "A", "x", (), (), one, (), ()),
        LineSpread("1", "A", "x", (), (), (), one, ()),
    )
    drawn = set()
    for spread in kinds:
        root = ET.fromstring(spread_picture(spread))
        drawn.add((root.find(f"{SVG}rect").get("fill"), len(list(root.iter(f"{SVG}line")))))  # type: ignore[union-attr]
    assert len(drawn) == 4


def test_a_week_names_sessions_runs_and_hours() -> None:
    svg = week_picture(sample.week(), _runner(*RUNS, races=(date(2026, 1, 24),)))
    texts = _texts(svg)
    for said in ("session 1", "session 2", "key run", "easy", "long run", "race", "24 h", "62 h", "Mon", "Sun"):
        assert said in texts
    alt = ET.fromstring(svg).get("aria-label") or ""
    assert "Mon 18:30 session 1, 24 h to the next key run" in alt
    assert "Sat race" in alt


def test_an_arc_starts_where_its_hours_are_counted_from() -> None:
    """Thursday 07:00 + 28 min + 49.5 h is Saturday 09:00; from 18:00 it would be 38.5 h."""
    session = replace(sample.second_session(), hours_to_key=49.5)
    runner = _runner(Run(5, "long", time(9)))
    bar = next(
        r for r in _rects(week_picture(replace(sample.week(), sessions=(session,)), runner)) if r.get("width") == "12"
    )
    assert abs(float(bar.get("x", 0)) + 6 - (8 + 55 * (3 + 7 / 24))) < 0.1
    evening = replace(session, hours_to_key=38.5)
    bar = next(
        r for r in _rects(week_picture(replace(sample.week(), sessions=(evening,)), runner)) if r.get("width") == "12"
    )
    assert abs(float(bar.get("x", 0)) + 6 - (8 + 55 * (3 + 18 / 24))) < 0.1


def test_without_known_runs_the_arc_still_ends_at_a_named_mark() -> None:
    assert _texts(week_picture(sample.week(), None)).count("key run") == 2


def test_an_empty_week_is_drawn() -> None:
    assert (
        ET.fromstring(week_picture(replace(sample.week(), sessions=()), _runner())).get("aria-label")
        == "Week: no session"
    )


def test_shares_of_a_family_follow_the_demand_by_hand() -> None:
    """Press-up at share s of best: hands raised is 0.64 of it by its base; 0.58 on the raised one gives 0.90625."""
    item = sample.press_up()
    shown = points(item, sample.library(), None)
    assert [(p.name, round(p.bare, 5)) for p in shown] == [("Press-up, hands raised", 0.58), ("Press-up", 0.90625)]
    assert [p.chosen for p in shown] == [True, False]
    assert [p.written for p in shown] == [False, True]


def test_a_load_needs_the_body_mass() -> None:
    """Step-up with 12 kg at the chest at 65 kg: (1 + 0.9 * 12 / 65) / capacity = 0.76."""
    library = sample.library()
    assert points(sample.step_up(), library, None) == ()
    shown = points(sample.step_up(), library, 65.0)
    capacity = (1 + 0.9 * 12 / 65) / 0.76
    assert [p.name for p in shown] == ["Low step-up", "Step-up", "High step-up"]
    assert abs(shown[0].bare - 0.72 / capacity) < 1e-12
    assert abs((shown[0].loaded or 0) - (0.72 + 0.9 * 12 / 65) / capacity) < 1e-12
    assert abs((shown[1].loaded or 0) - 0.76) < 1e-12
    svg = family_picture(sample.step_up(), library, 65.0)
    assert "small dot: no weight; at the end of its line: 12 kg at chest" in _texts(svg)


def test_the_band_is_where_the_reserve_is_as_meant() -> None:
    meant = band(sample.step_up(), sample.library())
    assert meant is not None
    k = k_of("knee and hip")
    assert abs(reps_at(meant.low, k) - (7 + 2)) < 1e-9
    assert abs(reps_at(meant.high, k) - (5 + 2)) < 1e-9


def test_the_family_picture_says_it_in_words_and_is_left_out_where_it_says_nothing() -> None:
    svg = family_picture(sample.press_up(), sample.library(), None)
    assert "Press-up, hands raised (fitted)" in _texts(svg)
    assert "Press-up (written)" in _texts(svg)
    assert "Press-up 91% (written)" in (ET.fromstring(svg).get("aria-label") or "")
    assert family_picture(sample.heel_raise(), sample.library(), None) == ""
