"""The log on the page, in a browser, from disk and offline; what it hands over is read as `ferrule log` reads it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from uuid import UUID

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Locator, Page

from ferrule.deliver import cautions, sample, sample_many
from ferrule.deliver.browser_test import LIBRARY, browser, reopened
from ferrule.deliver.page import runner_page
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.fact import Asked, Entry, PainTold, SessionTold, TakenBack, WeekTold
from ferrule.model.fitted import FittedWeek
from ferrule.record.phone import read_phone_file
from ferrule.record.standing import pains_of, sessions_of, sets_of, standing

__all__ = ["browser"]
pytestmark = pytest.mark.browser

PAIR = ".block:has(#s1b2)"
MONDAY = date(2026, 1, 19)
NO_LOCAL = "Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } });"
NO_SECOND = "Object.defineProperty(window, 'indexedDB', { get() { throw new Error('refused'); } });"
FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };"
FULL_SECOND = "IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); };"
NO_SHARE = "delete Navigator.prototype.canShare;"


def _sent(copy_id: str) -> FittedWeek | None:
    return {"c1": sample.week(), "c3": sample_many.week()}.get(copy_id)


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    """A phone without network, on a Monday evening. A message on the console or a fault fails the test."""
    context = browser.new_context(
        viewport={"width": 390, "height": 740}, offline=True, timezone_id="Europe/Berlin", accept_downloads=True
    )
    said: list[str] = []
    context.on("console", lambda m: said.append(m.text))
    context.on("weberror", lambda e: said.append(str(e.error)))
    context.clock.install(time="2026-01-19T18:00:00+01:00")
    context.add_init_script(NO_SHARE)
    yield context
    context.close()
    assert said == []


@pytest.fixture
def sheet(tmp_path: Path) -> str:
    path = tmp_path / "week.html"
    path.write_text(runner_page(sample.week(), LIBRARY, sample.HOUSE, draft=False, copy_id="c1"), encoding="utf-8")
    return path.as_uri()


@pytest.fixture
def page(phone: BrowserContext, sheet: str) -> Page:
    opened = phone.new_page()
    opened.goto(sheet)
    opened.locator("body[data-ready]").wait_for()
    return opened


def _saved(page: Page) -> bytes:
    with page.expect_download() as got:
        page.locator("#log .save").click()
    assert got.value.suggested_filename == "ferrule-log-c1.json"
    return Path(got.value.path()).read_bytes()


def _read(data: bytes) -> tuple[Entry, ...]:
    entries, findings = read_phone_file(data, "log.json", _sent)
    assert findings == ()
    return entries


def _handed(page: Page) -> tuple[Entry, ...]:
    return standing(_read(_saved(page)))


def _tap(page: Page, times: int, block: str = PAIR) -> None:
    for _ in range(times):
        page.locator(f"{block} button.done:visible").first.click()
        page.clock.fast_forward(180_000)


def _told(page: Page, name: str, session: str = "#s1") -> Locator:
    return page.locator(f"{session} details.told", has=page.locator("summary b", has_text=name)).first


def _pick(where: Locator, group: str, words: str) -> None:
    where.locator(group).get_by_label(words, exact=True).click()


def test_a_session_from_the_first_tap_to_the_file(page: Page) -> None:
    _tap(page, 4)
    step = _told(page, "Step-up")
    assert step.evaluate("d => d.open"), "asked once, after the last set"
    _pick(step, ".left", "2")
    _pick(step, ".count", "6")
    heel = _told(page, "Heel raise, knee bent")
    _pick(heel, ".left", "don't know")
    whole = page.locator("#s1 details.whole")
    whole.locator("summary").click()
    whole.locator(".rating").select_option("6")
    data = _saved(page)
    assert json.loads(data)["runner"] == "R07"
    entries = _read(data)
    assert all(UUID(e.entry_id).version == 7 for e in entries)
    assert len({e.entry_id for e in entries}) == len(entries)
    assert {e.runner_id for e in entries} == {"R07"}
    assert {e.recorded_at.isoformat()[-6:] for e in entries} == {"+01:00"}
    stands = standing(entries)
    sets = {(s.item_key, s.number): s for s in sets_of(stands, "R07")}
    assert sorted(sets) == [(item, n) for item in ("A1", "A2") for n in (1, 2, 3, 4)]
    assert {s.outcome for key, s in sets.items() if key[1] < 4} == {"tapped"}
    last, heel_last = sets["A1", 4], sets["A2", 4]
    assert (last.outcome, last.done, last.reserve, last.effort_asked) == ("counted", 6, Reserve(2, 2), True)
    assert (last.variant_id, last.load_kg, last.asked, last.copy_id, last.day) == ("step-up", 12, 5, "c1", MONDAY)
    assert (heel_last.outcome, heel_last.done, heel_last.reserve, heel_last.effort_asked) == ("counted", 12, None, True)
    (session,) = sessions_of(stands, "R07")
    assert (session.outcome, session.rating, session.minutes, session.session_key) == ("part", 6, 9, "1")


def test_the_effort_can_be_told_without_a_tap_and_four_or_more_is_a_bound(page: Page) -> None:
    step = _told(page, "Step-up")
    step.locator("summary").first.click()
    _pick(step, ".left", "4 or more")
    (told,) = sets_of(_handed(page), "R07")
    assert (told.number, told.reserve, told.outcome) == (4, Reserve(4, None), "tapped")
    assert page.locator(f"{PAIR} > .track input:checked").count() == 0, "the round is not ticked: half of it was told"


def test_a_tick_taken_back_is_an_entry_of_its_own(page: Page) -> None:
    _tap(page, 2)
    page.locator(f"{PAIR} > .track input").nth(1).click()
    entries = _read(_saved(page))
    back = [e for e in entries if isinstance(e.fact, TakenBack)]
    assert {e.replaces for e in back} <= {e.entry_id for e in entries if isinstance(e.fact, LoggedSet)}
    assert len(back) == 2
    assert {s.number for s in sets_of(standing(entries), "R07")} == {1}
    reopened(page)
    assert page.locator(f"{PAIR} > .track input:checked").count() == 1
    page.locator(f"{PAIR} > .track input").nth(1).click()
    assert {s.number for s in sets_of(_handed(page), "R07")} == {1, 2}, "ticked again"


def test_it_went_another_way(page: Page) -> None:
    _tap(page, 4)
    step = _told(page, "Step-up")
    step.locator(".other > summary").click()
    step.locator(".each input").nth(3).fill("3")
    step.locator(".kg").fill("10")
    step.locator(".why").select_option("failed")
    assert step.locator(".why").input_value() == "failed"
    told = {s.number: s for s in sets_of(_handed(page), "R07") if s.item_key == "A1"}
    assert {s.load_kg for s in told.values()} == {10}
    assert (told[4].outcome, told[4].done) == ("failed", 3)
    assert told[3].outcome == "tapped"
    step.locator(".why").select_option("time")
    told = {s.number: s for s in sets_of(_handed(page), "R07") if s.item_key == "A1"}
    assert (told[4].outcome, told[4].done, told[4].stopped) == ("counted", 3, "time")
    reopened(page)
    step.locator("summary").first.click()
    step.locator(".other > summary").click()
    assert [f.input_value() for f in step.locator(".each input").all()] == ["", "", "", "3"]
    assert step.locator(".kg").input_value() == "10"


def test_the_printed_way_out_can_be_told(page: Page) -> None:
    step = _told(page, "Step-up")
    step.locator("summary").first.click()
    step.locator(".other > summary").click()
    step.locator(".way-done").select_option("low step-up, 12 kg at the chest")
    assert step.locator(".way-done").evaluate("s => s.selectedOptions[0].text") == "low step-up, 12 kg at the chest"
    _tap(page, 4)
    told = [s for s in sets_of(_handed(page), "R07") if s.item_key == "A1"]
    assert [(s.number, s.variant_id, s.outcome) for s in told] == [(n, "step-up-low", "tapped") for n in (1, 2, 3, 4)]


@pytest.mark.parametrize(("button", "stopped"), [(".skip", "other"), (".nokit", "kit")])
def test_what_was_left_out_is_told_and_can_be_taken_back(page: Page, button: str, stopped: str) -> None:
    step = _told(page, "Step-up")
    step.locator("summary").first.click()
    step.locator(".other > summary").click()
    step.locator(button).click()
    assert step.locator(button).get_attribute("aria-pressed") == "true"
    (left,) = sets_of(_handed(page), "R07")
    assert (left.number, left.outcome, left.done, left.stopped) == (1, "counted", 0, stopped)
    _tap(page, 4)
    assert page.locator(f"{PAIR} > .track input:checked").count() == 4, "the other exercise of the pair goes on"
    told = [(s.item_key, s.number) for s in sets_of(_handed(page), "R07")]
    assert sorted(told) == [("A1", 1), ("A2", 1), ("A2", 2), ("A2", 3), ("A2", 4)]
    step.locator(button).click()
    assert step.locator(button).get_attribute("aria-pressed") == "false"
    assert page.locator(f"{PAIR} > .track input:checked").count() == 0
    assert {s.item_key for s in sets_of(_handed(page), "R07")} == {"A2"}


def test_pain_with_its_flag_and_the_next_morning(page: Page) -> None:
    step = _told(page, "Step-up")
    step.locator("summary").first.click()
    step.locator(".other > summary").click()
    step.locator(".hurt").click()
    form = page.locator("#s1 .pain")
    form.locator(".region").select_option("calf")
    _pick(form, ".side", "left")
    assert form.locator(".above").is_hidden()
    form.locator(".worst").select_option("4")
    assert form.locator(".above").inner_text() == cautions.pain_rule(sample.HOUSE)[0]
    alarm = form.locator(".alarm")
    assert alarm.is_hidden()
    form.get_by_label("a calf that is swollen or warm").check()
    assert alarm.is_visible()
    said = alarm.inner_text()
    assert cautions.RED_FLAG_HEAD + " a calf that is swollen or warm." in said
    assert cautions.RED_FLAG_TAIL in said
    form.locator("textarea").fill("tight from the second round")
    (pain,) = pains_of(_handed(page), "R07")
    assert pain == PainTold(
        MONDAY, "calf", "left", 4, None, "1", "A1", "step-up", ("calf swelling",), "tight from the second round"
    )
    page.clock.set_system_time("2026-01-20T07:00:00+01:00")
    reopened(page)
    morning = page.locator("#morning")
    assert "left calf on Monday 19 January (4 of 10 then)" in " ".join(morning.inner_text().split())
    morning.locator("select").select_option("2")
    (pain,) = pains_of(_handed(page), "R07")
    assert (pain.day, pain.worst, pain.morning, pain.flags) == (MONDAY, 4, 2, ("calf swelling",))
    reopened(page)
    assert page.locator("#morning").is_hidden(), "asked once"
    assert page.locator("#s1 .pain .alarm").count() == 1
    page.locator("#s1 details.pains > summary").click()
    assert page.locator("#s1 .pain .alarm").is_visible(), "the words stay with the flag"
    page.locator("#s1 .takeback").click()
    assert pains_of(_handed(page), "R07") == ()


def test_pain_elsewhere_and_two_at_once(page: Page) -> None:
    log = page.locator("#log")
    log.locator("details.pains > summary").click()
    for region in ("foot", "back"):
        log.locator(".another").click()
        log.locator(".pain").last.locator(".region").select_option(region)
    log.locator(".pain").first.locator(".worst").select_option("0")
    told = {p.region: (p.worst, p.session_key) for p in pains_of(_handed(page), "R07")}
    assert told == {"foot": (0, ""), "back": (None, "")}


def test_the_week_in_one_answer_and_a_question(page: Page) -> None:
    week = page.locator("#week")
    week.locator("summary").click()
    _pick(week, ".did", "some")
    _pick(week, ".felt", "too hard")
    _pick(week, ".any", "no")
    page.locator("#log summary", has_text=cautions.CHANGED).click()
    page.locator("#log .ask").click()
    facts = [e.fact for e in _handed(page)]
    assert [f for f in facts if isinstance(f, WeekTold)] == [WeekTold(MONDAY, "some", "too hard", False, "", "c1")]
    (asked,) = (f for f in facts if isinstance(f, Asked))
    assert asked.day == MONDAY


def test_a_session_done_on_another_day_takes_its_sets_along(page: Page) -> None:
    page.clock.set_system_time("2026-01-21T08:00:00+01:00")
    _tap(page, 1)
    whole = page.locator("#s1 details.whole")
    whole.locator("summary").click()
    whole.locator(".day").fill("2026-01-20")
    stands = _handed(page)
    assert {s.day for s in sets_of(stands, "R07")} == {date(2026, 1, 20)}
    (session,) = sessions_of(stands, "R07")
    assert session.day == date(2026, 1, 20)


def test_a_session_not_done_has_its_reason(page: Page) -> None:
    whole = page.locator("#s2 details.whole")
    whole.locator("summary").click()
    assert whole.locator(".why").is_hidden()
    _pick(whole, ".did", "none of it")
    whole.locator(".why").select_option("ill")
    (told,) = sessions_of(_handed(page), "R07")
    assert told == SessionTold(date(2026, 1, 22), "2", "none", None, None, None, "ill", "", "c1")


def test_the_keyboard_alone_is_enough(page: Page) -> None:
    page.locator(f"{PAIR} button.done").focus()
    for _ in range(4):
        page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.tagName") == "SUMMARY"
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert page.evaluate("document.activeElement.value") == "2"
    told = [s for s in sets_of(_handed(page), "R07") if s.item_key == "A1" and s.number == 4]
    assert [s.reserve for s in told] == [Reserve(2, 2)]


def test_a_draft_takes_no_log(phone: BrowserContext, tmp_path: Path) -> None:
    path = tmp_path / "draft.html"
    path.write_text(runner_page(sample.week(), LIBRARY, sample.HOUSE, draft=True), encoding="utf-8")
    page = phone.new_page()
    page.goto(path.as_uri())
    _tap(page, 1)
    assert page.locator("#log .state").inner_text() == "This week is a draft: no log can be sent from it."
    assert page.locator("#log .send").is_hidden()


def test_without_script_nothing_of_the_log_is_shown(browser: Browser, sheet: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 740}, offline=True, java_script_enabled=False)
    page = context.new_page()
    page.goto(sheet)
    assert page.locator(".log:visible, #morning:visible, .lost:visible, select:visible").count() == 0
    context.close()


@pytest.mark.parametrize("wide", [320, 390])
def test_open_forms_fit_the_screen_the_thumb_and_the_screen_reader(page: Page, wide: int) -> None:
    page.set_viewport_size({"width": wide, "height": 740})
    _tap(page, 4)
    page.locator("#s1 details.pains > summary").click()
    page.locator("#s1 .another").click()
    page.get_by_label("fever").first.check()
    for details in page.locator("#s1 .log, #s1 .log details, #log details").all():
        details.evaluate("d => { if ('open' in d) d.open = true; }")
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    found = "#s1 .log button, #s1 .log label, #s1 .log select, #s1 .log summary, #log button, #log label, #log summary"
    small = [
        (box["width"], box["height"], target.inner_text())
        for target in page.locator(found).all()
        if (box := target.bounding_box()) and (box["height"] < 44 or box["width"] < 44)
    ]
    assert small == []
    report = Axe().run(page)
    assert report.violations_count == 0, report.generate_report()


def test_who_asks_for_less_motion_logs_as_well(browser: Browser, sheet: str) -> None:
    context = browser.new_context(reduced_motion="reduce", offline=True)
    page = context.new_page()
    page.goto(sheet)
    page.locator(f"{PAIR} button.done").click()
    assert page.evaluate("document.getAnimations().filter(a => a.playState === 'running').length") == 0
    assert page.locator("#log .state").inner_text() == "Not yet sent: 2 entries of 2."
    context.close()
