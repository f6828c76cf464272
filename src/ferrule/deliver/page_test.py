"""The runner's page: whole without script or network, escaped, and silent about the model's numbers."""

import gzip
import re
from collections.abc import Callable
from dataclasses import fields, replace
from html.parser import HTMLParser

from ferrule.deliver import cautions, sample, sample_many
from ferrule.deliver.html import part
from ferrule.deliver.page import SCRIPTS, PageView, runner_page
from ferrule.library.reader import load_library
from ferrule.model.house import House

LIBRARY, _ = load_library()


class Reader(HTMLParser):
    """Text outside script and style, every tag and every attribute value."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.text: list[str] = []
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str, str]] = []
        self._skip = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(tag, name, value or "") for name, value in attrs]
        self._skip = tag in ("script", "style")

    def handle_endtag(self, tag: str) -> None:
        if tag in ("script", "style"):
            self._skip = False

    def handle_data(self, data: str) -> None:
        if not self._skip:
            self.text.append(data)


def read(page: str) -> Reader:
    reader = Reader()
    reader.feed(page)
    return reader


def _page(week: object = None, **given: object) -> str:
    return runner_page(week or sample.week(), LIBRARY, sample.HOUSE, **{"draft": False, **given})  # type: ignore[arg-type]


def text_of(page: str) -> str:
    return " ".join(" ".join(read(page).text).split())


def test_all_a_runner_needs_is_in_the_text_without_script() -> None:
    text = text_of(_page())
    for said in (
        "Fetch now: 12 kg dumbbell, 30 cm step, mat",
        "Pair A, 4 rounds",
        "Stop at 7 each side, sooner if only 2 good ones are left.",
        "3 sets of 12 reps.",
        "12 kg at the chest (12 kg dumbbell).",
        "Too hard today (under 5 each side): low step-up, 12 kg at the chest.",
        "Too easy: high step-up, 12 kg at the chest.",
        "Short of time? Leave out Press-up, hands raised.",
        cautions.FINDING_WEEK,
        cautions.CHANGED,
        cautions.RED_FLAG_HEAD,
        *cautions.RED_FLAGS,
        *cautions.pain_rule(House()),
        cautions.PURPOSE,
    ):
        assert said in text, said


def test_conditions_are_open_and_the_rest_can_be_opened() -> None:
    page = _page(replace(sample.week(), notes=("Every rep clean.",), conditions=("If pain above 3: stop.",)))
    before, about = page.split("<summary>About this week</summary>")
    assert "<strong>If pain above 3: stop.</strong>" in before
    assert "<strong>Left calf: nothing above" in before
    assert "Every rep clean." not in before
    assert "Every rep clean." in about.split("</details>")[0]
    assert "Fell-ready, first block, week 2: Foundations." in about.split("</details>")[0]


def test_nothing_is_fetched_from_anywhere() -> None:
    page = _page()
    seen = read(page)
    assert not {"img", "link", "iframe", "object", "embed", "form", "video", "audio"} & set(seen.tags)
    for tag, name, value in seen.attributes:
        if name in ("src", "href", "action"):
            assert value.startswith(("#", "mailto:")), (tag, value)
    assert not re.search(r"https?://(?!www\.w3\.org/)", page)
    assert "url(" not in part("paper.css") + part("page.css")


def test_the_policy_names_exactly_our_style_and_script() -> None:
    page = _page()
    (policy,) = (v for t, n, v in read(page).attributes if t == "meta" and n == "content" and "default-src" in v)
    assert policy.startswith("default-src 'none'; style-src 'sha256-")
    assert "unsafe" not in policy
    assert not [a for a in read(page).attributes if a[1] == "style" or a[1].startswith("on")]


def test_pictures_have_words() -> None:
    seen = read(_page())
    page = _page()
    titles = re.findall(r"<svg[^>]*role=\"img\"[^>]*><title>([^<]+)</title>", page)
    assert len(titles) == seen.tags.count("svg") >= 10
    assert all("from" in t or ":" in t for t in titles)


def test_ids_are_given_once() -> None:
    ids = [v for _, n, v in read(_page()).attributes if n == "id"]
    assert len(ids) == len(set(ids))


def test_every_round_has_its_own_tick() -> None:
    ticks = [v for _, n, v in read(_page()).attributes if n == "data-tick"]
    assert len(ticks) == len(set(ticks))
    assert sum(t.startswith("s1b2.") for t in ticks) == 4
    assert sum(t.startswith("s1b3i1.") for t in ticks) == 3


def test_a_draft_says_so_and_a_sent_page_never() -> None:
    assert cautions.DRAFT in text_of(_page(draft=True))
    assert "draft" not in text_of(_page()).lower()


def test_hostile_text_stays_text() -> None:
    clean_tags = set(read(_page()).tags)
    page = _page(sample.hostile_week(), copy_id='"><script>x</script>')
    assert set(read(page).tags) <= clean_tags
    assert "<b>Zoë</b> #eval(1)" in text_of(page)
    assert "{{ 7*7 }}" in text_of(page)
    assert "\u202e" not in page


def test_no_number_of_the_model_and_no_reason_reaches_the_runner() -> None:
    text = text_of(_page())
    assert "%" not in text
    assert "share" not in text.lower()
    for reason in sample.press_up().reasons:
        assert reason.text not in text


def test_no_praise_and_no_score() -> None:
    every = (text_of(_page()) + "".join(map(part, SCRIPTS))).lower()
    assert not re.search(r"well done|great|congrat|streak|badge|score|keep it up|nice work|only \d+ of", every)


def test_without_a_contact_that_can_be_a_link_the_words_remain() -> None:
    page = runner_page(sample.week(), LIBRARY, House(contact="at the track"), draft=False)
    assert cautions.CHANGED in text_of(page)
    assert "mailto:" not in page


def test_a_session_done_many_times_is_there_once_and_ticked_each_time() -> None:
    page = _page(sample_many.week())
    text = text_of(page)
    assert text.count("Every day, Monday 19 to Sunday 25 January, morning and evening (7:00 and 18:00)") == 1
    assert text.count("15 reps. Lowering only; rest 20 s, then as many more as you can, 3 times.") == 1
    assert re.findall(r"<h2[^>]*>(Session[^<]*)</h2>", page) == [
        "Session 1: calf and hip", "Session 2: calf", "Session 3: round and round",
    ]  # fmt: skip
    ticks = [v for _, n, v in read(page).attributes if n == "data-tick"]
    assert len(ticks) == len(set(ticks))
    assert sum(t.startswith("s2b1i1t") for t in ticks) == 14 * 3
    assert sum(t.startswith("s1b2t") for t in ticks) == 3 * 4
    assert page.count("<option data-day=") == 3 + 14
    assert len(page) < 290_000  # the moving figures are a third of it, the log an eighth
    assert len(gzip.compress(page.encode())) < 60_000


def test_every_time_of_a_fortnight_of_ticks_has_its_rule() -> None:
    for n in range(1, 15):
        assert f".time option:nth-child({n}):checked) .timed:not(.t{n})" in part("page.css")


def test_blocks_by_the_clock_say_so() -> None:
    text = text_of(_page(sample_many.week()))
    for said in (
        "Circuit B, go round for 12 minutes: legs and trunk",
        "Start the clock: 12 min",
        "40 s work, 20 s rest at each. Rest 90 s after each round.",
        "Choose 3 of these.",
        "Work for 40 s.",
        "Cool-down",
        "As long as it does you good.",
        "Session 4: hops (2 of its 3 times): no day this week.",
    ):
        assert said in text, said
    assert "not fitted" not in text
    assert "12 min." not in text, "the title has said it"


def test_the_template_uses_all_it_gets() -> None:
    template = part("page.html")
    unused = [f.name for f in fields(PageView) if f"page.{f.name}" not in template]
    assert unused == []


def test_the_words_in_order(golden: Callable[[str, str], None]) -> None:
    """What a screen reader meets, without the library's own help, from a library that never changes."""
    page = runner_page(sample.week(), sample.library(), sample.HOUSE, draft=True, copy_id="c1")
    lines = [" ".join(t.split()) for t in read(page).text]
    golden("deliver/page.txt", "\n".join(line for line in lines if line) + "\n")
