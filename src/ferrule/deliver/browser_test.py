"""The pages in a browser, from disk and offline: ticks stay, time is kept, nothing runs off the side, axe finds nothing."""

from __future__ import annotations

import io
import os
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, sync_playwright

from ferrule.deliver import sample, sample_cycle, sample_many
from ferrule.deliver.document import Document, html_of
from ferrule.deliver.hand_over import hand_over
from ferrule.deliver.page import runner_page
from ferrule.deliver.physio import physio_page
from ferrule.deliver.summary import squad_page
from ferrule.library.reader import load_library
from ferrule.model.squad import Squad
from ferrule.notice.told import Due

pytestmark = pytest.mark.browser

FLAGS = ["--no-sandbox", "--disable-dev-shm-usage", "--disable-background-networking"]
LIBRARY, _ = load_library()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    path = shutil.which("chromium")
    if path is None:
        if os.environ.get("CI") == "true":
            pytest.fail("Chromium is missing: these tests must run here")
        pytest.skip("Chromium is not installed")
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield running
        running.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A phone, 360 px wide, without network. A message on the console or a fault fails the test."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, offline=True)
    opened = context.new_page()
    said: list[str] = []
    opened.on("console", lambda m: said.append(m.text))
    opened.on("pageerror", lambda e: said.append(str(e)))
    yield opened
    context.close()
    assert said == []


@pytest.fixture
def sheet(tmp_path: Path) -> str:
    """Address of the runner's page on disk."""
    path = tmp_path / "week.html"
    path.write_text(runner_page(sample.week(), LIBRARY, sample.HOUSE, draft=True, copy_id="c1"), encoding="utf-8")
    return path.as_uri()


@pytest.fixture
def many(tmp_path: Path) -> str:
    """Address of a page with sessions done many times and blocks by the clock."""
    path = tmp_path / "many.html"
    text = runner_page(sample_many.week(), LIBRARY, sample.HOUSE, draft=False, copy_id="c3")
    path.write_text(text, encoding="utf-8")
    return path.as_uri()


@pytest.fixture
def summary(tmp_path: Path) -> str:
    """Address of the coach's page on disk, with every picture open."""
    path = tmp_path / "summary.html"
    text = squad_page(sample.squad_week(), sample.library(), sample.HOUSE).replace("<details>", "<details open>")
    path.write_text(text, encoding="utf-8")
    return path.as_uri()


def reopened(page: Page) -> None:
    """Load the page again and wait until it has looked at what it keeps."""
    page.reload()
    page.locator("body[data-ready]").wait_for()


def _pair(page: Page) -> str:
    assert page.locator("#s1b2").inner_text() == "Pair A, 4 rounds"
    return ".block:has(#s1b2)"


def test_a_tapped_round_is_kept_over_a_reload(page: Page, sheet: str) -> None:
    page.goto(sheet)
    block = _pair(page)
    button = page.locator(f"{block} button.done")
    assert button.inner_text() == "Round done, rest 75 to 90 s"
    button.click()
    button.click()
    assert page.locator(f"{block} input:checked").count() == 2
    reopened(page)
    assert page.locator(f"{block} input:checked").count() == 2
    assert page.locator("input:checked").count() == 2
    assert (button.get_attribute("aria-label") or "").endswith("2 of 4 done")


def test_a_tick_can_be_taken_back(page: Page, sheet: str) -> None:
    page.goto(sheet)
    block = _pair(page)
    page.locator(f"{block} button.done").click()
    page.locator(f"{block} input").first.click()
    reopened(page)
    assert page.locator(f"{block} input:checked").count() == 0


def test_the_last_round_asks_for_no_rest_and_praises_nobody(page: Page, sheet: str) -> None:
    page.goto(sheet)
    button = page.locator(f"{_pair(page)} button.done")
    for _ in range(3):
        button.click()
    assert button.inner_text() == "Round done"
    button.click()
    assert button.is_disabled()
    assert button.inner_text() == "All ticked"
    assert page.locator("#timer").is_hidden()


def test_ticks_of_another_copy_are_not_taken_over(page: Page, sheet: str, tmp_path: Path) -> None:
    page.goto(sheet)
    page.locator(f"{_pair(page)} button.done").click()
    text = runner_page(sample.week(), LIBRARY, sample.HOUSE, draft=False, copy_id="c2")
    (tmp_path / "week.html").write_text(text, encoding="utf-8")
    reopened(page)
    assert page.locator("input:checked").count() == 0


def test_the_timer_follows_the_clock_through_a_locked_screen(page: Page, sheet: str) -> None:
    page.clock.install(time="2026-01-19T18:30:00Z")
    page.goto(sheet)
    page.clock.pause_at("2026-01-19T18:31:00Z")
    page.locator(f"{_pair(page)} button.done").click()
    left = page.locator("#left")
    assert left.inner_text() == "Rest 1:15"
    page.clock.run_for(15_250)  # the page looks at the clock four times a second
    assert left.inner_text() == "Rest 1:00"
    page.clock.fast_forward(50_000)  # as a sleeping phone: timers fire at most once
    assert left.inner_text() == "Rest 0:10"
    reopened(page)
    assert left.inner_text() == "Rest 0:10"
    page.clock.run_for(11_000)
    assert left.inner_text() == "Start within 0:14"
    assert page.locator("#said").inner_text() == "Rest is over."
    page.clock.run_for(15_000)
    assert left.inner_text() == "Rest is over"
    page.locator("#end").click()
    assert page.locator("#timer").is_hidden()
    reopened(page)
    assert page.locator("#timer").is_hidden()


def test_yesterdays_rest_is_forgotten(page: Page, sheet: str) -> None:
    page.clock.install(time="2026-01-19T18:30:00Z")
    page.goto(sheet)
    page.locator(f"{_pair(page)} button.done").click()
    page.clock.fast_forward(24 * 3600_000)
    reopened(page)
    assert page.locator("#timer").is_hidden()
    assert page.locator("input:checked").count() == 1


def test_the_first_screen_says_what_to_fetch_and_which_session_is_today(page: Page, sheet: str) -> None:
    page.clock.install(time="2026-01-22T12:00:00Z")
    page.goto(sheet)
    links = page.locator("nav a").all_inner_texts()
    assert links[:2] == ["Mon 19: Session 1: calf and hip", "Thu 22: Session 2: steps and trunk (today)"]
    box = page.locator("#s1 .fetch").bounding_box()
    assert box is not None
    assert box["y"] + box["height"] < 740


def test_one_block_at_a_time_and_back_again(page: Page, sheet: str) -> None:
    page.goto(sheet)
    page.locator("#s1 .one").click()
    assert page.locator(".block:visible").count() == 1
    page.locator("#s1 .next").click()
    assert page.locator("#s1b2").is_visible()
    assert page.evaluate("document.activeElement.id") == "s1b2"
    assert page.locator("#stop").is_visible()
    page.locator("#s1 .all").click()
    assert page.locator(".block:visible").count() == page.locator(".block").count()


def test_ticks_are_kept_for_each_time_of_a_session(page: Page, many: str) -> None:
    page.clock.install(time="2026-01-21T19:00:00")
    page.goto(many)
    assert page.locator("nav a").first.inner_text() == "Mon 19, Wed 21, Fri 23: Session 1: calf and hip (today)"
    times, block = page.locator("#s1-t"), ".block:has(#s1b2)"
    assert times.evaluate("s => s.selectedOptions[0].text") == "Wed 21"
    assert page.locator("#s2-t").evaluate("s => s.selectedOptions[0].text") == "Wed 21, evening"
    assert page.locator(f"{block} .track:visible").count() == 1
    page.locator(f"{block} button.done:visible").click()
    times.select_option("Mon 19")
    assert page.locator(f"{block} input:checked:visible").count() == 0
    page.locator(f"{block} button.done:visible").click()
    page.locator(f"{block} button.done:visible").click()
    reopened(page)
    assert times.evaluate("s => s.selectedOptions[0].text") == "Mon 19", "a choice made today stays"
    assert page.locator(f"{block} input:checked:visible").count() == 2
    times.select_option("Wed 21")
    assert page.locator(f"{block} input:checked:visible").count() == 1
    page.clock.set_system_time("2026-01-23T08:00:00")
    reopened(page)
    assert times.evaluate("s => s.selectedOptions[0].text") == "Fri 23"
    assert page.locator("#s2-t").evaluate("s => s.selectedOptions[0].text") == "Fri 23, morning"


def test_the_time_can_be_chosen_without_script(browser: Browser, many: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 740}, offline=True, java_script_enabled=False)
    page = context.new_page()
    page.goto(many)
    block = ".block:has(#s2b1)"
    assert page.locator(f"{block} .track:visible legend").all_inner_texts() == ["Sets done, Mon 19, morning"]
    page.locator("#s2-t").select_option("Sun 25, evening")
    assert page.locator(f"{block} .track:visible legend").all_inner_texts() == ["Sets done, Sun 25, evening"]
    page.emulate_media(media="print")
    assert page.locator(f"{block} .track:visible").count() == 14
    context.close()


def test_the_clock_counts_work_and_rest(page: Page, many: str) -> None:
    page.clock.install(time="2026-01-22T18:00:00Z")
    page.goto(many)
    page.clock.pause_at("2026-01-22T18:01:00Z")
    page.locator(".block:has(#s3b3) .clock button").click()
    left, said = page.locator("#left"), page.locator("#said")
    assert left.inner_text() == "Get ready 0:05"
    page.clock.run_for(5_250)
    assert left.inner_text() == "Work 1 of 3 0:40"
    assert said.inner_text() == "Work 1 of 3."
    page.clock.run_for(40_000)
    assert left.inner_text() == "Rest 0:20"
    page.clock.fast_forward(70_000)  # as a sleeping phone
    reopened(page)
    assert left.inner_text() == "Rest 0:10"
    assert page.locator("#end").inner_text() == "Stop the clock"
    page.clock.run_for(51_000)
    assert left.inner_text() == "Time is over"
    assert said.inner_text() == "Time is over."
    page.locator("#end").click()
    assert page.locator("#timer").is_hidden()
    assert page.locator("input:checked").count() == 0, "the clock ticks nothing"


def test_the_keyboard_reaches_and_ticks(page: Page, sheet: str) -> None:
    page.goto(sheet)
    box = page.locator(f"{_pair(page)} input").first
    box.focus()
    page.keyboard.press("Space")
    assert box.is_checked()
    for _ in range(4):
        page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "done"
    page.keyboard.press("Enter")
    assert page.locator(f"{_pair(page)} input:checked").count() == 2


def test_without_storage_it_still_works(page: Page, sheet: str) -> None:
    page.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } });")
    page.goto(sheet)
    page.locator(f"{_pair(page)} button.done").click()
    assert page.locator("input:checked").count() == 1
    assert page.locator("#timer").is_visible()


def test_without_script_all_of_it_can_be_read_and_ticked(browser: Browser, sheet: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 740}, offline=True, java_script_enabled=False)
    page = context.new_page()
    page.goto(sheet)
    assert page.locator("button:visible").count() == 0
    assert page.locator(".block:visible").count() == page.locator(".block").count()
    page.locator(f"{_pair(page)} input").first.check()
    assert page.locator(f"{_pair(page)} input").first.is_checked()
    context.close()


@pytest.mark.parametrize("wide", [320, 360, 900, 1100])
@pytest.mark.parametrize("which", ["sheet", "many", "summary"])
def test_nothing_runs_off_the_side(page: Page, wide: int, which: str, request: pytest.FixtureRequest) -> None:
    page.set_viewport_size({"width": wide, "height": 740})
    page.goto(request.getfixturevalue(which))
    assert page.evaluate("document.documentElement.scrollWidth") <= wide


def test_hostile_text_does_not_run_off_either(page: Page, tmp_path: Path) -> None:
    path = tmp_path / "bad.html"
    week = sample.hostile_week()
    path.write_text(runner_page(week, LIBRARY, sample.HOUSE, draft=False, copy_id="<x>\"'"), encoding="utf-8")
    page.goto(path.as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.locator("button.done").first.click()
    reopened(page)
    assert page.locator("input:checked").count() == 1


@pytest.mark.parametrize("which", ["sheet", "many", "summary"])
def test_axe_finds_nothing(page: Page, which: str, request: pytest.FixtureRequest) -> None:
    page.goto(request.getfixturevalue(which))
    for details in page.locator("details").all():
        details.evaluate("d => { d.open = true; }")
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def test_axe_finds_nothing_while_the_timer_runs(page: Page, sheet: str) -> None:
    page.goto(sheet)
    page.locator(f"{_pair(page)} button.done").click()
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def test_targets_are_large_enough_for_a_thumb(page: Page, sheet: str) -> None:
    page.goto(sheet)
    page.locator("#s1 .one").click()
    for button in page.locator("button:visible, .track label:visible").all():
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 44
        assert box["width"] >= 44


_RUNNING = "svg => svg.getAnimations({subtree: true}).filter(a => a.playState === 'running').length"


def test_a_figure_moves_when_it_is_opened_and_not_before(page: Page, sheet: str) -> None:
    page.goto(sheet)
    details = page.locator("details:has(.way)").first
    svg = details.locator(".way svg")
    assert svg.evaluate(_RUNNING) == 0
    details.locator("summary").click()
    assert svg.evaluate(_RUNNING) > 0
    limb = svg.locator("[class^=m] path[class^=m]").first
    seen = set()
    for _ in range(6):
        page.wait_for_timeout(150)
        seen.add(limb.evaluate("e => getComputedStyle(e).transform"))
    assert len(seen) > 3
    details.locator("summary").click()
    assert svg.evaluate(_RUNNING) == 0


def test_what_rests_stays_on_its_place_while_the_figure_moves(page: Page, sheet: str) -> None:
    """The foot on the step, in the browser's own numbers: a millimetre is a tenth of a unit of the drawing."""
    page.goto(sheet)
    details = page.locator("details:has(.way)").first
    details.locator("summary").click()
    moved = details.locator(".way svg").evaluate(
        """svg => {
          const all = svg.getAnimations({subtree: true});
          const still = [...svg.querySelectorAll('path')].map(e => {
            const places = [0, 0.13, 0.29, 0.42, 0.58, 0.77, 1].map(part => {
              for (const a of all) { a.pause(); a.currentTime = part * a.effect.getComputedTiming().duration; }
              const m = svg.getScreenCTM().inverse().multiply(e.getScreenCTM()), box = e.getBBox();
              return [box.x + box.width / 2, box.y + box.height].map((v, i, p) => i ? m.b * p[0] + m.d * p[1] + m.f
                                                                                   : m.a * p[0] + m.c * p[1] + m.e);
            });
            return Math.max(...places.map(p => Math.hypot(p[0] - places[0][0], p[1] - places[0][1])));
          });
          return [Math.max(...still), still.filter(v => v < 0.1).length];
        }"""
    )
    assert moved[0] > 5, "something moves by more than 5 cm"
    assert moved[1] >= 2, "the floor and what rests do not"


def test_who_asks_for_less_motion_sees_both_ends_at_rest(browser: Browser, sheet: str) -> None:
    context = browser.new_context(reduced_motion="reduce")
    opened = context.new_page()
    opened.goto(sheet)
    details = opened.locator("details:has(.way)").first
    details.locator("summary").click()
    svg = details.locator(".way svg")
    assert svg.evaluate(_RUNNING) == 0
    assert svg.locator("path.g").is_visible()
    context.close()


def _big_hand_over() -> Document:
    """Of 24 runners, half of them with effort far off."""
    runners = tuple(replace(sample_cycle.BRAM, id=f"R{n:02}") for n in range(1, 25))
    weeks = {r.id: sample_cycle.copies(sample_cycle.BRAM)[3].week for r in runners}
    fact = "Sat 31 Jan, Towel row: 4 or more left, meant 2"
    dues = [Due("effort far off", r.id, r.name, sample_cycle.MONDAYS[3], (fact, fact), "", 3, ()) for r in runners[::2]]
    return hand_over(
        Squad("squad.csv", runners), sample_cycle.PROGRAMME, sample_cycle.LIBRARY, sample.HOUSE, (), weeks, dues,
        sample_cycle.TODAY,
    )  # fmt: skip


@pytest.mark.parametrize("name", ["physio", "hand-over"])
def test_the_one_page_reports_print_on_one_side(name: str, page: Page, tmp_path: Path) -> None:
    if name == "physio":
        review = sample_cycle.review(sample_cycle.ARLA)
        made = physio_page(review, sample_cycle.entries(), sample_cycle.LIBRARY, sample.HOUSE)
    else:
        made = _big_hand_over()
    path = tmp_path / "report.html"
    path.write_text(html_of(made), encoding="utf-8")
    page.goto(path.as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert len(pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True))).pages) == 1
