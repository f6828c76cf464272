"""The log on the page is kept and handed over: two tabs, sending, clearing, no room, a wrong clock."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page

from ferrule.deliver import sample, sample_many
from ferrule.deliver.browser_test import LIBRARY, browser, reopened
from ferrule.deliver.page import LOST, runner_page
from ferrule.deliver.page_log_test import (
    FULL,
    FULL_SECOND,
    NO_LOCAL,
    NO_SECOND,
    PAIR,
    _handed,
    _pick,
    _read,
    _saved,
    _sent,
    _tap,
    _told,
    page,
    phone,
    sheet,
)
from ferrule.record.phone import read_phone_file
from ferrule.record.standing import sets_of, standing

__all__ = ["browser", "page", "phone", "sheet"]
pytestmark = pytest.mark.browser


def test_two_tabs_lose_nothing_and_see_each_other(phone: BrowserContext, page: Page, sheet: str) -> None:
    other = phone.new_page()
    other.goto(sheet)
    _tap(page, 1)
    other.wait_for_function(f"() => document.querySelectorAll('{PAIR} > .track input:checked').length === 1")
    _tap(other, 1)
    page.wait_for_function(f"() => document.querySelectorAll('{PAIR} > .track input:checked').length === 2")
    first, second = _saved(page), _saved(other)
    assert {s.number for s in sets_of(standing(_read(first)), "R07")} == {1, 2}
    assert standing(_read(first)) == standing((*_read(second), *_read(first)))


def test_sending_counts_what_is_new_and_sends_all(page: Page) -> None:
    state = page.locator("#log .state")
    assert state.inner_text() == "Nothing is in the log."
    assert page.locator("#log .send").is_disabled()
    _tap(page, 1)
    assert state.inner_text() == "Not yet sent: 2 entries of 2."
    with page.expect_download() as got:  # without a way to share, sending is saving
        page.locator("#log .send").click()
    assert got.value.suggested_filename == "ferrule-log-c1.json"
    assert state.inner_text() == "Not yet sent: 0 entries of 2."
    reopened(page)
    assert state.inner_text() == "Not yet sent: 0 entries of 2."
    _tap(page, 1)
    assert state.inner_text() == "Not yet sent: 2 entries of 4."
    assert len(_read(_saved(page))) == 4


def test_a_shared_file_is_the_same_file_and_a_stopped_share_sends_nothing(phone: BrowserContext, sheet: str) -> None:
    phone.add_init_script(
        """Navigator.prototype.canShare = () => true;
        Navigator.prototype.share = async (what) => {
          if (window.refuse) throw new DOMException("stopped", "AbortError");
          window.shared = [what.files[0].name, await what.files[0].text()];
        };"""
    )
    page = phone.new_page()
    page.goto(sheet)
    _tap(page, 1)
    page.evaluate("window.refuse = true")
    page.locator("#log .send").click()
    page.wait_for_function("() => document.querySelector('.done-words').textContent === 'Not sent.'")
    assert page.locator("#log .state").inner_text() == "Not yet sent: 2 entries of 2."
    page.evaluate("window.refuse = false")
    page.locator("#log .send").click()
    page.wait_for_function("() => window.shared")
    name, text = page.evaluate("window.shared")
    assert name == "ferrule-log-c1.json"
    assert {s.number for s in sets_of(_read(text.encode()), "R07")} == {1}
    assert page.locator("#log .state").inner_text() == "Not yet sent: 0 entries of 2."


@pytest.mark.parametrize("packs", [True, False])
def test_the_text_to_paste_is_read_as_the_file_is(phone: BrowserContext, sheet: str, packs: bool) -> None:
    if not packs:
        phone.add_init_script("delete window.CompressionStream;")
    page = phone.new_page()
    page.goto(sheet)
    _tap(page, 4)
    page.locator("#log .copy").click()
    page.wait_for_function("() => document.querySelector('.as-text').value")
    text = page.locator("#log .as-text").input_value()
    assert text.startswith("FERRULE1:" if packs else '{"ferrule":1')
    assert len(text) < (1000 if packs else 3000)
    assert standing(_read(f"Here it is:\n{text}".encode())) == _handed(page)


def test_clearing_asks_first_and_says_what_was_not_sent(page: Page) -> None:
    _tap(page, 1)
    page.locator("#log .clear").click()
    assert page.locator("#log .sure span").inner_text() == "2 entries have not been sent. Clear all the same?"
    page.locator("#log .no").click()
    reopened(page)
    assert page.locator("input:checked").count() == 1
    page.locator("#log .clear").click()
    page.locator("#log .yes").click()
    assert page.locator("input:checked").count() == 0
    reopened(page)
    assert page.locator("input:checked").count() == 0
    assert page.locator("#log .state").inner_text() == "Nothing is in the log."


def test_another_copy_keeps_a_log_of_its_own(phone: BrowserContext, page: Page, tmp_path: Path) -> None:
    _tap(page, 1)
    text = runner_page(sample.week(), LIBRARY, sample.HOUSE, draft=False, copy_id="c2")
    (tmp_path / "week.html").write_text(text, encoding="utf-8")
    reopened(page)
    assert page.locator("#log .state").inner_text() == "Nothing is in the log."


@pytest.mark.parametrize("how", ["refused", "full"])
def test_without_room_it_says_so_and_the_log_can_still_be_copied(phone: BrowserContext, sheet: str, how: str) -> None:
    phone.add_init_script((NO_LOCAL if how == "refused" else FULL) + NO_SECOND)
    page = phone.new_page()
    page.goto(sheet)
    page.locator("body[data-ready]").wait_for()
    assert page.locator(".lost:visible").first.inner_text() == LOST
    _tap(page, 2)
    assert page.locator("input:checked").count() == 2
    page.locator("#log .copy").click()
    page.wait_for_function("() => document.querySelector('.as-text').value")
    assert len(sets_of(_read(page.locator("#log .as-text").input_value().encode()), "R07")) == 4


@pytest.mark.parametrize("gone", [NO_LOCAL, NO_SECOND])
def test_one_of_the_two_copies_is_enough(phone: BrowserContext, sheet: str, gone: str) -> None:
    phone.add_init_script(gone)
    page = phone.new_page()
    page.goto(sheet)
    page.locator("body[data-ready]").wait_for()
    _tap(page, 2)
    assert page.locator(".lost:visible").count() == 0
    reopened(page)
    assert page.locator("input:checked").count() == 2


def test_what_one_copy_lost_comes_from_the_other(page: Page) -> None:
    _tap(page, 2)
    page.evaluate("localStorage.clear()")
    reopened(page)
    assert page.locator("input:checked").count() == 2
    assert page.evaluate("Object.keys(localStorage).filter(k => k.includes('.e.')).length") == 4


def test_room_that_runs_out_on_the_way_is_said(page: Page) -> None:
    assert page.locator(".lost:visible").count() == 0
    page.evaluate(f"() => {{ {FULL} {FULL_SECOND} }}")
    _tap(page, 1)
    assert page.locator(".lost:visible").count() == 2
    assert len(_read(_saved(page))) == 2


def test_a_wrong_clock_is_told_as_the_phone_has_it(phone: BrowserContext, page: Page) -> None:
    page.clock.set_system_time("1970-01-05T12:00:00+01:00")
    _tap(page, 1)
    made = json.loads(_saved(page))
    assert made["made"].startswith("1970-01-05T12:03:0")
    assert made["entries"][0]["day"] == "1970-01-05"
    assert [e["session"] for e in made["entries"]] == ["1", "1"], "the session says when it was meant to be"


def test_each_time_of_a_session_has_its_own_log(phone: BrowserContext, tmp_path: Path) -> None:
    path = tmp_path / "many.html"
    text = runner_page(sample_many.week(), LIBRARY, sample.HOUSE, draft=False, copy_id="c3")
    path.write_text(text, encoding="utf-8")
    page = phone.new_page()
    page.goto(path.as_uri())
    times = page.locator("#s1-t")
    block = ".block:has(#s1b2)"
    _tap(page, 4, block)
    step = _told(page, "Step-up")
    _pick(step, ".left", "1")
    times.select_option("Wed 21")
    assert step.locator(".left input:checked").count() == 0
    page.locator(f"{block} button.done:visible").first.click()
    page.locator("#log .copy").click()
    page.wait_for_function("() => document.querySelector('.as-text').value")
    data = page.locator("#log .as-text").input_value().encode()
    entries, _ = read_phone_file(data, "log.txt", _sent)
    sets = sets_of(standing(entries), sample_many.week().runner_id)
    by_session = {key: sum(s.session_key == key for s in sets) for key in {s.session_key for s in sets}}
    first, second = (s.key for s in sample_many.week().sessions if s.key.startswith("1 (") and "3 of" not in s.key)
    assert by_session[second] * 4 == by_session[first]
