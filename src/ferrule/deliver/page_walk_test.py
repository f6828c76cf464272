"""The minutes printed on the page against a walk through the page itself, in a browser with a clock that is set by hand.

The runner of this test knows nothing but the page: what its lines say is done at the tempo they say, each round is
ticked with the page's own button, and the next one begins when the page's own timer has come to the middle of the rest.

What the page cannot time is counted by docs/fit.md, apart: getting ready for an exercise (`setup_s` of the library),
5 s to change sides, going on to the next exercise, and a minute to the next block. The tolerance is the rounding of what
is printed (to a tenth of a minute in the model, to whole minutes on the page) and half a second for each rest: the page
looks at the clock four times a second.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from ferrule.deliver.browser_test import FLAGS, LIBRARY, browser
from ferrule.deliver.clock_walk_test import HOUSE, MONDAY, RUNNER
from ferrule.deliver.page import runner_page
from ferrule.fit.runner import fit_runner
from ferrule.model.fitted import FittedSession, FittedWeek
from ferrule.programme.reader import read_programme

__all__ = ["FLAGS", "browser"]
pytestmark = pytest.mark.browser

HEAD = "---\nprogramme: Clock\nweeks: 6\n---\n\n## Cycle 1, weeks 1-6: One\n\n### Session 1: all, 90 min\n\n"
SESSIONS = (
    "Pair A, 3 rounds, between 10 s, rest 75-90 s\n\n- Squat, half: 8, tempo 3-1-2\n"
    "- Split squat: 6/side, side rest 20 s, tempo 2-0-2\n\n"
    "Straight, 3 sets, rest 60 s\n\n- Press-up: 10, tempo 2-0-1\n- Front plank: 30 s\n",
    "Circuit A, 4 rounds, between 10 s, rest 90 s\n\n- Squat, half: 10, tempo 2-1-1\n- Side plank: 20 s/side\n"
    "- Press-up: 8, tempo 2-0-1\n\nPair B, 2 rounds, between 15 s, rest 2 min\n\n"
    "- Bridge, one leg: 8/side, tempo 2-1-2\n- Front plank: 40 s\n",
)
SIDE_S, WALK_S, NEXT_S = 5.0, 60.0, 60.0
REST_ERROR_S = 0.5


def _week(blocks: str) -> FittedWeek:
    programme, findings = read_programme(HEAD + blocks, "p.md", LIBRARY)
    assert not [f for f in findings if f.level == "error"], findings
    week = fit_runner(programme, RUNNER, LIBRARY, HOUSE, MONDAY)
    assert isinstance(week, FittedWeek)
    return week


def _now(page: Page) -> float:
    return float(page.evaluate("Date.now()")) / 1000


def _set_s(words: str) -> float:
    """Seconds of one set, read from the words of its line alone."""
    tempo = re.search(r"(\d+) s down, (?:(\d+) s|no) pause, (\d+) s up", words)
    hold = re.search(r"[Hh]old (\d+) s", words)
    if hold:
        one = float(hold[1])
    else:
        assert tempo is not None, words
        count = re.search(r"(\d+) (?:reps|each side)", words)
        assert count is not None, words
        one = int(count[1]) * sum(float(p or 0) for p in tempo.groups())
    if "each side" not in words:
        return one
    change = re.search(r"rest (\d+) s, then right", words)
    return 2 * one + (float(change[1]) if change else SIDE_S)


def _rest(page: Page) -> float:
    """Wait as the page's timer says, to the middle between "rest is over" and its end; returns the seconds it took."""
    began, left = _now(page), page.locator("#left")
    shown = re.fullmatch(r"Rest (\d+):(\d\d)", left.inner_text())
    assert shown is not None, left.inner_text()
    page.clock.run_for(1000 * (60 * int(shown[1]) + int(shown[2])) + 250)
    window = re.fullmatch(r"Start within (\d+):(\d\d)", left.inner_text())
    if window is None:
        assert left.inner_text() == "Rest is over"
    else:
        page.clock.run_for(500 * (60 * int(window[1]) + int(window[2])))
    return _now(page) - began


def _walk(page: Page, session: FittedSession) -> tuple[float, float, int]:
    """(seconds in all, of them not timed by the page, rests taken)."""
    began, untimed, rests = _now(page), 0.0, 0

    def aside(seconds: float) -> None:
        nonlocal untimed
        untimed += seconds
        page.clock.run_for(int(1000 * seconds))

    for n, block in enumerate(session.blocks, 1):
        shown = page.locator(f".block:has(#s1b{n})")
        lines = [(shown.locator(".item").nth(i), item) for i, item in enumerate(block.items)]
        together = block.kind != "straight"
        between = re.search(r"(\d+) s between", " ".join(shown.locator("p.rest").all_inner_texts()))
        if n > 1:
            aside(WALK_S)
        for m, part in enumerate([lines] if together else [[line] for line in lines]):
            if m:
                aside(NEXT_S)
            where = shown if together else part[0][0]
            count = where.locator("input[data-tick]").count()
            for number in range(count):
                for i, (line, item) in enumerate(part):
                    if i:
                        assert between is not None
                        aside(float(between[1]))
                    if number == 0:
                        aside(LIBRARY.variants[item.variant_id].setup_s)
                    page.clock.run_for(int(1000 * _set_s(" ".join(line.locator(".text").inner_text().split()))))
                where.locator("button.done").click()
                if number + 1 < count:
                    rests += 1
                    _rest(page)
    return _now(page) - began, untimed, rests


@pytest.mark.parametrize("blocks", SESSIONS)
def test_the_minutes_are_those_of_a_walk_through_the_page(browser: Browser, tmp_path: Path, blocks: str) -> None:
    week = _week(blocks)
    (session,) = week.sessions
    path = tmp_path / "walk.html"
    path.write_text(runner_page(week, LIBRARY, HOUSE, draft=False, copy_id="w1"), encoding="utf-8")
    context = browser.new_context(viewport={"width": 360, "height": 740}, offline=True, timezone_id="UTC")
    page = context.new_page()
    page.clock.install(time="2026-01-19T18:00:00Z")
    page.goto(path.as_uri())
    page.clock.pause_at("2026-01-19T18:01:00Z")
    walked_s, untimed_s, rests = _walk(page, session)
    said = re.search(r"about (\d+) min", page.locator("#s1 > .fade").first.inner_text())
    assert page.locator("#s1 .track button.done:enabled").count() == 0, "every round was ticked"
    context.close()
    assert said is not None
    error_min = REST_ERROR_S * rests / 60
    assert walked_s / 60 == pytest.approx(session.minutes, abs=0.05 + error_min)
    assert walked_s / 60 == pytest.approx(float(said[1]), abs=0.5 + 0.05 + error_min)
    assert untimed_s < walked_s / 3, "most of the session is timed by what the page says"
