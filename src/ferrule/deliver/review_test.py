"""The review of a cycle: what is counted, what is claimed, what is never said; the pages word by word."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from ferrule.deliver import cautions, sample
from ferrule.deliver import sample_cycle as cycle
from ferrule.deliver.document import Document, html_of, text_of
from ferrule.deliver.hand_over import hand_over
from ferrule.deliver.physio import limit_text, physio_page
from ferrule.deliver.plain import clean
from ferrule.deliver.review import coach_review, runner_review
from ferrule.deliver.review_facts import RunnerReview, review_of
from ferrule.deliver.review_words import counts
from ferrule.deliver.rewrite import to_rewrite, told_lines
from ferrule.model.finding import Span
from ferrule.model.squad import Anchor
from ferrule.notice.due import due
from ferrule.notice.told import Due
from ferrule.squad.cell import Cell
from ferrule.squad.limit_cells import read_limits

HOUSE = sample.HOUSE
ARLA = cycle.review(cycle.ARLA)
BRAM = cycle.review(cycle.BRAM)
CORA = cycle.review(cycle.CORA)
LIBRARY = cycle.LIBRARY


def page(review: RunnerReview = ARLA) -> Document:
    return runner_review(review, cycle.PROGRAMME, cycle.CYCLE, LIBRARY, HOUSE)


def squad_page() -> Document:
    return coach_review((ARLA, BRAM, CORA), cycle.PROGRAMME, cycle.CYCLE, (("R10 Dana M", "on hold"),))


def physio() -> Document:
    return physio_page(ARLA, cycle.entries(), LIBRARY, HOUSE)


DUES = (
    Due(
        "red flag",
        "R07",
        "Arla T",
        cycle.MONDAYS[3],
        ("left calf 5 of 10: a calf that is swollen or warm",),
        "",
        15,
        (),
    ),
    Due("question", "R07", "Arla T", cycle.MONDAYS[3], ('asked: "can I move Monday to Tuesday?"',), "", 5, ()),
    Due("effort far off", "R08", "Bram K", cycle.MONDAYS[3], ("Step-up: a set failed, meant 2 left",), "", 3, ()),
)


def helping() -> Document:
    weeks = {r.id: cycle.copies(r)[3].week for r in (cycle.ARLA, cycle.BRAM)}
    return hand_over(cycle.SQUAD, cycle.PROGRAMME, LIBRARY, HOUSE, cycle.entries(), weeks, DUES, cycle.TODAY)


PAGES: dict[str, Callable[[], Document]] = {
    "runner": page,
    "quiet_runner": lambda: page(CORA),
    "coach": squad_page,
    "physio": physio,
    "hand_over": helping,
}


@pytest.mark.parametrize("name", PAGES)
def test_the_words(name: str, golden: Callable[[str, str], None]) -> None:
    golden(f"deliver/review_{name}.txt", text_of(PAGES[name](), 100))


@pytest.mark.parametrize("name", PAGES)
def test_a_page_needs_nothing_but_itself(name: str) -> None:
    html = html_of(PAGES[name]())
    assert "default-src 'none'" in html
    assert "<script" not in html
    assert "http" not in html.replace("http-equiv", "")
    assert "src=" not in html


@pytest.mark.parametrize("name", PAGES)
def test_red_flags_stand_on_every_page_in_the_same_words(name: str) -> None:
    text = " ".join(text_of(PAGES[name](), 10_000).split())
    assert cautions.RED_FLAG_HEAD in text
    assert cautions.RED_FLAG_TAIL in text
    for flag in cautions.RED_FLAGS:
        assert flag in text


@pytest.mark.parametrize("name", PAGES)
def test_what_is_for_the_coach_alone_and_what_was_never_judged(name: str) -> None:
    html = html_of(PAGES[name]()).lower()
    for word in (
        "for me only",
        "n·m",
        "well done",
        "great",
        "congrat",
        "should have",
        "you missed",
        "safe",
        "injury risk",
    ):
        assert word not in html, word


def test_sessions_are_counted_as_told() -> None:
    assert [BRAM.count(o) for o in ("did", "part", "none", "not told")] == [3, 1, 1, 3]
    assert counts(BRAM) == "8 sessions were sent: 3 done, 1 in part, 1 not done, 3 of which nothing was told."
    assert CORA.silent
    assert not BRAM.silent


def test_sets_alone_say_what_became_of_a_session() -> None:
    sets_only = tuple(e for e in cycle.entries() if type(e.fact).__name__ == "LoggedSet")
    found = review_of(cycle.ARLA, cycle.copies(cycle.ARLA), sets_only, LIBRARY)
    assert found is not None
    assert [s.outcome for s in found.sessions] == ["part", "not told"] * 4, "two of four lines were told of session 1"
    assert {s.told for s in found.sessions if s.session.key == "1"} == {7}


def test_without_a_copy_there_is_no_review() -> None:
    assert review_of(cycle.ARLA, (), cycle.entries(), LIBRARY) is None


def test_what_happened_outside_the_cycle_is_not_in_it() -> None:
    found = review_of(cycle.ARLA, cycle.copies(cycle.ARLA)[1:3], cycle.entries(), LIBRARY)
    assert found is not None
    assert {p.day for p in found.pains} == {cycle.MONDAYS[1], cycle.MONDAYS[2]}
    assert len(found.sessions) == 4


def test_order_of_arrival_does_not_matter() -> None:
    backwards = tuple(reversed(cycle.entries()))
    again = review_of(cycle.ARLA, cycle.copies(cycle.ARLA)[::-1], backwards, LIBRARY)
    straight = review_of(cycle.ARLA, cycle.copies(cycle.ARLA), cycle.entries(), LIBRARY)
    assert again is not None
    assert straight is not None
    assert replace(again, pains=straight.pains, tests=straight.tests) == straight
    assert sorted(again.pains, key=repr) == sorted(straight.pains, key=repr)


def said(gain: float, sd: float) -> str:
    return " ".join(text_of(page(cycle.review(cycle.ARLA, gain, sd)), 10_000).split())


def test_no_gain_is_claimed_below_the_smallest_detectable_change() -> None:
    assert "About 22 % more (likely 14 to 31 %)" in said(0.2, 0.04)
    small = said(0.1, 0.04)
    assert "% more (likely" not in small
    assert "No change that can be told from error (it would take about 12 %)" in small
    assert "% more (likely" not in said(0.2, 0.2)
    assert "About 18 % less (likely 12 to 24 %)" in said(-0.2, 0.04)


def test_time_alone_is_no_gain() -> None:
    """A silent runner's belief drifts as everybody's does: nothing was told, so nothing is claimed."""
    text = text_of(page(cycle.review(cycle.CORA, 0.5, 0.01)), 10_000)
    assert "% more" not in text
    assert text.count("No information: nothing was told of it") == 4


def test_lines_to_look_at_again() -> None:
    told = "\n".join(told_lines(to_rewrite((ARLA, BRAM, CORA))))
    assert "1 C Press-up: Done otherwise by 3 of 3: too hard as written (3)." in told
    assert "Write press-up, hands raised, which 3 of them did" in told
    assert "1 A1" not in told, "easier for one, harder for another: not half of three"
    two = "\n".join(told_lines(to_rewrite((BRAM, replace(BRAM, runner=cycle.ARLA)))))
    assert "1 A1 Step-up: Told to be harder than meant, or not managed, by 2 of 2." in two
    assert to_rewrite(()) == ()


def test_a_line_at_which_two_were_hurt_is_told() -> None:
    told = "\n".join(told_lines(to_rewrite((ARLA, replace(ARLA, runner=cycle.BRAM), CORA))))
    assert "1 A2 Heel raise, knee bent: Pain was told at it by 2 of 3." in told


def test_the_physiotherapist_sees_no_estimate() -> None:
    text = text_of(physio(), 10_000)
    for word in ("%", "capacity", "share of best", "likely", "reserve", "estimate"):
        assert word not in text, word
    assert "6 (stopped: pain)" in text
    assert "4 during, 2 next morning" in text
    assert "“tight from the second round”" in text
    assert "left calf: nothing above ____" in text
    assert "Heel raise, knee bent (was asked) < Heel raise, two legs, knee bent" in text


def test_a_limit_that_is_printed_is_read_back_as_it_was() -> None:
    text = limit_text(cycle.ARLA.limits[0], LIBRARY)
    anchor = Anchor("from", cycle.MONDAYS[0], Span("x", 1))
    (limit,), findings, held = read_limits(Cell(text, Span("x", 1)), LIBRARY, anchor)
    assert not findings
    assert not held
    assert replace(limit, text="left calf", span=cycle.SPAN) == cycle.ARLA.limits[0]


def test_a_helping_coach_is_told_that_somebody_is_on_hold_and_not_why() -> None:
    text = text_of(helping(), 10_000)
    assert "On hold: nothing is sent until a named person clears it." in text
    assert "pregnan" not in html_of(helping()).lower()
    assert "can I move Monday to Tuesday?" in text
    assert HOUSE.contact in text


def test_what_the_list_says_stands_on_the_hand_over() -> None:
    sent = [c.week for r in (cycle.ARLA, cycle.BRAM) for c in cycle.copies(r)]
    dues = due(cycle.SQUAD, sent, cycle.entries(), HOUSE, cycle.TODAY)
    made = hand_over(cycle.SQUAD, cycle.PROGRAMME, LIBRARY, HOUSE, cycle.entries(), {}, dues, cycle.TODAY)
    text = text_of(made, 10_000)
    assert {d.tier for d in dues} >= {"red flag", "question", "effort far off"}
    for row in dues:
        who = f"{row.runner_id} {row.runner_name}"
        head = f"{who}: {row.facts[-1]}" if row.tier == "effort far off" else f"{who}: {row.tier}"
        assert head.lower() in text.lower()
        newest = row.facts[-1:] if row.tier == "effort far off" else row.facts[-3:]
        assert all(clean(fact).rstrip(".").lower() in text.lower() for fact in newest)
    many = replace(DUES[2], tier="silent", facts=tuple(f"fact {n}" for n in range(9)))
    made = hand_over(cycle.SQUAD, cycle.PROGRAMME, LIBRARY, HOUSE, cycle.entries(), {}, (many,), cycle.TODAY)
    text = text_of(made, 10_000)
    assert "Fact 8." in text
    assert "Fact 5." not in text
    assert "And 6 more before that: `ferrule due` has them." in text


def test_hostile_words_stay_words() -> None:
    bad = replace(
        ARLA,
        runner=replace(ARLA.runner, name=sample.HOSTILE),
        pains=tuple(replace(p, words=sample.HOSTILE) for p in ARLA.pains),
    )
    for made in (
        page(bad),
        coach_review((bad,), cycle.PROGRAMME, cycle.CYCLE),
        physio_page(bad, cycle.entries(), LIBRARY, HOUSE),
    ):
        html = html_of(made)
        assert "<b>Zo" not in html
        assert "\u202e" not in html
        assert clean("<b>Zoë</b>") in text_of(made, 10_000)


def test_the_last_cycle_says_so() -> None:
    text = text_of(runner_review(ARLA, cycle.PROGRAMME, cycle.LATER, LIBRARY, HOUSE), 10_000)
    assert "The programme ends with this cycle." in text
    assert "begins in the week of Monday 16 February" in text_of(page(), 10_000)
    assert cycle.MONDAYS[3] + timedelta(weeks=1) == cycle.MONDAYS[0] + timedelta(weeks=4)
