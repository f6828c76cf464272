"""The numbers of a dry run, from rows made by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from ferrule.simulate.dry_run import DryRun, LineDone, WeekDone, band_of
from ferrule.simulate.dry_run_summary import LEAST_SAID, band, strata_of, summary_of, wilson
from ferrule.simulate.dry_run_words import as_data, told

LINE = LineDone(
    "A", 1, "1", "A1", "Split squat", "split-squat", 0.0, 1.0, "right", 2.0, True, "right", 0.9, True, 3, 0, False
)


def week(runner: str, number: int, *lines: LineDone) -> WeekDone:
    own = tuple(replace(x, runner_id=runner, week=number) for x in lines)
    return WeekDone(runner, number, "Start", "sent", own, (30.0,), (0,))


def run(*weeks: WeekDone) -> DryRun:
    return DryRun("Text", 1, False, len({w.runner_id for w in weeks}), weeks, ())


def test_a_share_and_its_band_over_runners() -> None:
    hard = replace(LINE, effort="too hard", failed=3)
    weeks = [week(r, 1, LINE if r < "F" else hard) for r in "ABCDEFGHIJ"]
    found = band(weeks, lambda w: (float(sum(x.failed for x in w.lines)), float(sum(x.sets for x in w.lines))))
    assert found.value == 0.5
    assert 0.2 < found.low < 0.4 < 0.6 < found.high < 0.8
    assert math.isnan(band([], lambda _: (0.0, 0.0)).value)
    summary = summary_of(run(*weeks))
    assert summary.weeks[0].too_hard.value == 0.5
    (line,) = summary.lines
    assert (line.right.value, line.failed.value, line.runner_weeks) == (0.5, 0.5, 10)


def test_stalled_is_three_weeks_off_the_same_way_without_a_step() -> None:
    easy = replace(LINE, effort="too easy", spare=12.0)
    still = [week("A", n, easy) for n in (1, 2, 3)]
    assert [(s.runner_id, s.way) for s in summary_of(run(*still)).stalls] == [("A", "too easy")]
    rising = [week("A", n, replace(easy, demand=1.0 + 0.1 * n)) for n in (1, 2, 3)]
    assert summary_of(run(*rising)).stalls == ()
    short = [week("A", n, easy) for n in (1, 2)]
    assert summary_of(run(*short)).stalls == ()
    mixed = [week("A", n, LINE if n == 2 else easy) for n in (1, 2, 3)]
    assert summary_of(run(*mixed)).stalls == ()


def test_strata_show_their_interval_and_need_enough_sets() -> None:
    many = [replace(LINE, p_complete=0.9, completed=n % 10 > 0) for n in range(200)]
    few = [replace(LINE, p_complete=0.5, completed=False) for _ in range(LEAST_SAID - 1)]
    low, high = strata_of([*many, *few, replace(LINE, p_complete=None), replace(LINE, completed=None)])
    assert not low.enough
    assert not low.agrees
    assert (high.enough, high.agrees, high.sets) == (True, True, 200)
    assert high.happened == pytest.approx(0.9)


def test_wilsons_interval_as_in_a_textbook() -> None:
    """81 of 263: 0.2553 to 0.3662 (Newcombe 1998, method 3 in table I, from memory)."""
    low, high = wilson(81 / 263, 263)
    assert (round(low, 4), round(high, 4)) == (0.2553, 0.3662)


def test_when_a_runner_is_in_the_band() -> None:
    off = replace(LINE, effort="too easy", reachable=True)
    never = replace(off, reachable=False)
    weeks = (
        week("A", 1, off, never),
        week("A", 2, replace(LINE, reachable=True), never),
        week("B", 1, off),
        week("B", 2, off),
    )
    assert summary_of(run(*weeks)).there == (("A", 2), ("B", 0))


def test_words_and_data_say_the_same_and_nothing_is_not_a_number() -> None:
    found = run(week("A", 1, LINE), WeekDone("B", 1, "", "held", why="health"))
    summary = summary_of(found)
    text, data = told(found, summary), as_data(found, summary)
    assert "1 runner-weeks held: health" in text
    assert "Safety rules: none broken in 1 runner-weeks" in text
    assert data["runner_weeks"] == 1
    assert data["weeks"][0]["right"]["value"] == 1.0
    empty = as_data(run(week("A", 1)), summary_of(run(week("A", 1))))
    assert empty["weeks"][0]["right"] == {"value": None, "low": None, "high": None}
    assert band_of is not None
