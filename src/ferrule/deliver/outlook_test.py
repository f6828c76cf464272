"""Lanes, what runs out and what a week asks, in words."""

from __future__ import annotations

from datetime import date

from ferrule.deliver.outlook import (
    kit_rows,
    lane_lines,
    lanes_summary,
    outlook_lines,
    region_words,
    runs_out_rest,
    variant_rows,
    when_words,
)
from ferrule.model.fitted import LineLanes, RegionLoad, RunsOut, SquadLanes, SquadWeek, When

NEVER = When(None, None, None)


def out(variant: When, kit: When, runner: str = "R1") -> RunsOut:
    return RunsOut(runner, "Ann", "1", "A1", "Step-up", "Step-up, low", "Step-up, high", variant, kit, 3, 6)


def test_weeks_are_those_of_the_programme_with_their_interval() -> None:
    r = out(NEVER, NEVER)
    assert when_words(r, When(0, 2, None)) == "about week 5 (80 %: now to after the programme)"
    assert when_words(r, When(0, 0, 3)) == "already now (80 %: now to week 6)"
    assert when_words(r, When(1, 4, 9)) == "not within the programme"
    assert when_words(r, NEVER) == "not within the programme"


def test_kit_comes_soonest_first_and_the_rest_is_counted() -> None:
    found = [
        out(When(0, 1, 2), When(1, 3, 4)),
        out(When(0, 0, 1), When(0, 1, 3), "R2"),
        out(When(0, 2, 3), NEVER, "R3"),
    ]
    found.append(out(NEVER, NEVER, "R4"))
    assert [r.who for r in kit_rows(found)] == ["R2 Ann", "R1 Ann"]
    assert [r.who for r in variant_rows(found)] == ["R3 Ann"]
    assert runs_out_rest(found) == "1 of 4 lines with a stated effort: not within the programme."
    assert " 1 more likely too easy" in runs_out_rest([*found, out(When(0, 0, None), NEVER, "R5")])
    assert runs_out_rest(()) == ""


def test_a_terminal_tells_lines_whose_interval_ends_inside_the_programme() -> None:
    """Programme week 3 of 6: three weeks on is the last; a middle inside with a late end after it is only counted."""
    known = [out(When(0, 0, 1), When(0, 1, 3)), out(NEVER, When(0, 0, 0), "R2")]
    vague = [out(NEVER, When(0, 0, None), "R3"), out(NEVER, When(0, 1, 4), "R4")]
    lasting = [out(NEVER, When(2, 4, 9), "R5"), out(NEVER, NEVER, "R6")]

    def told(*found: RunsOut) -> tuple[tuple[str, tuple[str, ...]], ...]:
        return outlook_lines(SquadWeek("Made", date(2026, 1, 5), (), (), 0, 60, (), runs_out=found))

    heading = "Runs out: nothing harder left that they may do"
    two = (
        "R2 Ann: 1 A1 Step-up: already now (80 %: now to now)",
        "R1 Ann: 1 A1 Step-up: about week 4 (80 %: now to week 6)",
    )
    assert told(*known, *vague, *lasting) == (
        (heading, (*two, "and 2 lines of which too little is known to say when")),
    )
    assert told(*known, *lasting) == ((heading, two),)
    assert told(*vague[:1], *lasting) == ((heading, ("1 line of which too little is known to say when",)),)
    assert told(*lasting) == ()


def test_lanes_say_what_they_cost_and_who_is_apart() -> None:
    line = LineLanes("1", "2", "A1", "Step-up", (("a", "Step-up", ("R1", "R2")), ("b", "Squat", ("R3",))), 4,
                     (("R9", "Side plank"),), 0.0)  # fmt: skip
    lanes = SquadLanes(2, (line,), 120, 9.5, 4, 100, 8.0, 3)
    assert lanes_summary(lanes).startswith("At most 2 versions a line over the squad: 1 line wants more. Lines off")
    assert "4 (alone 3)" in lanes_summary(lanes)
    (told,) = lane_lines(lanes)
    assert told.where == "2 A1 Step-up"
    assert told.said == "Step-up (2); Squat (1); 4 wanted. none of them is possible for R9 Side plank."
    assert lanes_summary(None) == ""
    assert "costs nothing" in lanes_summary(SquadLanes(3, (), 1, 1, 1, 1, 1, 1))


def test_regions_by_level_with_sides_where_they_differ() -> None:
    loads = (
        RegionLoad("calf", "left", 3, 12, 0, (0, 1, 2), 3),
        RegionLoad("calf", "right", 3, 12, 0, (0, 1, 2), 3),
        RegionLoad("knee", "left", 2, 5, 5, (0,), 1),
        RegionLoad("knee", "right", 1, 2, 1.5, (0,), 1),
    )
    assert region_words(loads) == (
        "Much: calf (3 days running).",
        "Some: left knee (all on the way).",
        "Light: right knee (mostly on the way).",
    )
