from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.fit import while_writing
from ferrule.fit.build import Laid
from ferrule.fit.runner import lay
from ferrule.fit.spread import verdicts
from ferrule.fit.while_writing import Spread, WrittenLine, spread
from ferrule.library.reader import load_library
from ferrule.model.house import House
from ferrule.model.squad import Site, Squad
from ferrule.programme.reader import read_programme
from ferrule.squad.place import first_monday
from ferrule.squad.reader import read_squad

DEMO = files("ferrule.demo")
TEXT = (DEMO / "programme.md").read_text(encoding="utf-8")
LIBRARY, _ = load_library()
SQUAD, _ = read_squad((DEMO / "squad.csv").read_bytes(), "squad.csv", LIBRARY)
HOUSE = House()
SMALL = "## Cycle 1, weeks 1-2: A\n\n### Session 1: a\n\nStraight, 3 sets, rest 90 s\n\n- Press-up: 10, 3 RIR\n- Ankle rock: 8\n- Step-up-ish: 8\n- any hinge, one leg: 8/side, 2 RIR\n"


def line_of(found: Spread, start: str) -> WrittenLine:
    return next(x for x in found.lines.values() if x.written.startswith(start))


@pytest.mark.parametrize("week", [1, 4, 5])
def test_the_verdicts_are_those_of_the_read_back(week: int) -> None:
    """`fit.spread.verdicts` for a laid week says the same of every line and runner."""
    programme, _ = read_programme(TEXT, "programme.md", LIBRARY)
    found = spread(TEXT, SQUAD, LIBRARY, HOUSE, week)
    compared = 0
    for runner in SQUAD.runners:
        start = first_monday(runner, programme.weeks)
        if start is None or runner.id not in found.counted:
            continue
        laid = lay(programme, runner, LIBRARY, HOUSE, start + timedelta(weeks=week - 1))
        if not isinstance(laid, Laid):
            continue
        for one in verdicts(laid):
            mine = next(
                x for x in found.lines.values() if (x.session_key, x.item_key) == (one.session_key, one.item_key)
            )
            says = next(
                w
                for w in ("too easy", "right", "too hard", "cannot", "not dosed")
                if runner.id in getattr(mine, w.replace(" ", "_"))
            )
            assert (one.says if says != "not dosed" else "right") == one.says
            assert says == one.says or (says == "not dosed" and one.says == "right")
            compared += 1
    assert compared > 300


def test_every_line_counts_everybody_once_and_says_so() -> None:
    found = spread(TEXT, SQUAD, LIBRARY, HOUSE)
    assert found.week == 1
    assert set(found.counted) | {r for r, _ in found.left_out} == {r.id for r in SQUAD.runners}
    lines = TEXT.split("\n")
    for (number, key), line in found.lines.items():
        every = [*line.too_easy, *line.right, *line.too_hard, *line.cannot, *line.not_dosed]
        assert sorted(every) == sorted(found.counted)
        assert {r for r, _ in line.why} == set(line.cannot)
        assert (number, key) == (line.line, line.item_key)
        assert line.written.split(":")[0] in lines[number - 1]
    press = line_of(found, "Press-up: ")
    assert press.summary == ", ".join(
        f"{len(ids)} {words}"
        for ids, words in (
            (press.right, "right"),
            (press.too_easy, "too easy"),
            (press.too_hard, "too hard"),
            (press.cannot, "cannot"),
        )
        if ids
    )


def test_runners_on_hold_are_left_out_with_the_reason() -> None:
    found = spread(TEXT, SQUAD, LIBRARY, HOUSE)
    held = {r.id: r.holds[0].reason for r in SQUAD.runners if any(h.cleared_by is None for h in r.holds)}
    assert held
    assert dict(found.left_out) == held


def test_lines_that_are_not_dosed_or_not_known_say_so() -> None:
    found = spread(SMALL, SQUAD, LIBRARY, HOUSE)
    assert line_of(found, "Ankle rock").summary == "not dosed"
    unknown = line_of(found, "Step-up-ish")
    assert (unknown.known, unknown.summary, unknown.right) == (False, "the exercise is not known", ())
    assert line_of(found, "any hinge, one leg").right


def test_the_week_is_the_first_of_the_cycle_of_the_cursor() -> None:
    second = TEXT.split("\n").index("## Cycle 2, weeks 4-6: Make it stronger") + 1
    assert spread(TEXT, SQUAD, LIBRARY, HOUSE, line=second - 1).week == 1
    assert spread(TEXT, SQUAD, LIBRARY, HOUSE, line=second).week == 4
    assert spread(TEXT, SQUAD, LIBRARY, HOUSE, line=10**6).week == 4
    assert spread(TEXT, SQUAD, LIBRARY, HOUSE, 6, line=1).week == 6


def test_a_week_that_is_not_there_has_no_lines() -> None:
    found = spread(TEXT, SQUAD, LIBRARY, HOUSE, 99)
    assert (found.week, dict(found.lines)) == (None, {})


def test_by_week_tables_are_applied() -> None:
    text = SMALL + "\n| week | 1 | 2 |\n|---|---|---|\n| Press-up: reps | 4 | 40 |\n"
    first, second = (line_of(spread(text, SQUAD, LIBRARY, HOUSE, w), "Press-up") for w in (1, 2))
    assert first.written.startswith("Press-up: 4,")
    assert len(second.too_hard) > len(first.too_hard)


def test_lines_with_errors_do_not_hide_the_others() -> None:
    broken = SMALL.replace("- Ankle rock: 8", "- Ankle rock: eight or so\n- Press-up: 3 x x 8,, kg\n|").replace(
        "rest 90 s", "rest ninety"
    )
    found = spread(broken, SQUAD, LIBRARY, HOUSE)
    assert line_of(found, "any hinge, one leg").right
    assert len(found.lines) >= 4


def test_without_an_anchor_a_runner_takes_the_week_of_the_others_or_is_left_out() -> None:
    some = Squad("s", tuple(replace(r, anchor=None) for r in SQUAD.runners[:2]))
    assert spread(SMALL, some, LIBRARY, HOUSE).left_out == tuple(
        (r.id, "no anchor: nothing says when the programme begins") for r in some.runners
    )
    assert len(spread(SMALL, some, LIBRARY, HOUSE, monday=date(2026, 1, 19)).counted) == 2
    mixed = Squad("s", (*some.runners, SQUAD.runners[2]))
    assert len(spread(SMALL, mixed, LIBRARY, HOUSE).counted) == 3


def test_what_is_remembered_changes_nothing() -> None:
    while_writing.forget()
    cold = spread(TEXT, SQUAD, LIBRARY, HOUSE, 4)
    changed = TEXT.replace("- Press-up: 8-12, 2 RIR", "- Press-up: 18-22, 2 RIR")
    other = spread(changed, SQUAD, LIBRARY, HOUSE, 4)
    assert spread(TEXT, SQUAD, LIBRARY, HOUSE, 4) == cold
    while_writing.forget()
    assert spread(changed, SQUAD, LIBRARY, HOUSE, 4) == other
    assert len(line_of(other, "Press-up: 18").too_hard) > len(line_of(cold, "Press-up: 8").too_hard)
    kit = Squad("s", tuple(replace(r, kit=(), sites=()) for r in SQUAD.runners))
    assert spread(TEXT, kit, LIBRARY, HOUSE, 4) != cold


@settings(max_examples=40, derandomize=True, deadline=None)
@given(
    st.lists(
        st.sampled_from([*SMALL.split("\n"), "- ", "- or ", "- Press-up: max", "| week | 1 |", "- Squat: 3-", "\x00"]),
        max_size=12,
    )
)
def test_no_half_written_text_raises(lines: list[str]) -> None:
    few = Squad("s", SQUAD.runners[:2])
    for line in spread("\n".join(lines), few, LIBRARY, HOUSE).lines.values():
        assert line.summary


def test_who_may_do_a_line_at_one_of_their_sites_is_counted_there() -> None:
    bare, full = (
        replace(r, kit=kit, sites=()) for r, kit in zip([SQUAD.runners[0]] * 2, ((), SQUAD.runners[0].kit), strict=True)
    )
    both = replace(bare, sites=(Site("home", (), (0, 2)), Site("club", full.kit, (4,))))
    lines = [spread(TEXT, Squad("s", (r,)), LIBRARY, HOUSE).lines.values() for r in (bare, full, both)]
    assert any(a.cannot != b.cannot for a, b in zip(lines[0], lines[1], strict=True))
    assert [(x.right, x.too_easy, x.too_hard, x.cannot) for x in lines[2]] == [
        (a.right, a.too_easy, a.too_hard, a.cannot) if not a.cannot else (b.right, b.too_easy, b.too_hard, b.cannot)
        for a, b in zip(lines[0], lines[1], strict=True)
    ]
