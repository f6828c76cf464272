"""The coach's page of proposals: flags first, then questions, then the lines with their reasons."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from ferrule.deliver.document import html_of, text_of
from ferrule.deliver.proposals import proposals_document, summary_lines
from ferrule.fit.bounds import Own
from ferrule.model.finding import Span
from ferrule.model.fitted import Held
from ferrule.model.programme import Programme
from ferrule.model.squad import Anchor, Runner
from ferrule.next.pain import Flagged
from ferrule.next.plan import Plan
from ferrule.next.propose import Proposal, Proposals

MONDAY = date(2026, 2, 2)
PLACE = Span("squad.csv", 2, 1)


def runner() -> Runner:
    return Runner("R01", "Arla <b>", "some", (), (0,), (), Anchor("from", MONDAY, PLACE), PLACE)


def proposals(*flags: Flagged, asks: tuple[str, ...] = ()) -> Proposals:
    plan = Plan(runner(), Own(Programme("p.md", "P", 1, None, (), (), ())), None, None, flags=flags)
    lines = (
        Proposal(
            "1",
            "A1",
            "Step-up",
            "hold",
            "Step-up: 3 x 8",
            "Step-up: 3 x 8",
            ("left calf: settled",),
            ("pain settled",),
            1.0,
        ),
        Proposal("1", "A2", "Press-up", "as written", "Press-up: 3 x 8", "Press-up: 3 x 8", ()),
    )
    return Proposals(
        "R01", "Arla <b>", MONDAY, Held("R01", "Arla <b>", "red flag"), lines, ("a note",), asks, "gone", plan
    )


def test_red_flags_come_first_with_the_words_used_everywhere() -> None:
    flag = Flagged(date(2026, 1, 30), ("calf swelling",), "calf", "left")
    page = html_of(
        proposals_document(
            [proposals(flag, asks=("Stop, get medical help, and tell your coach: left calf",))], MONDAY, "P"
        )
    )
    assert page.index("Stop, get medical help, and tell your coach") < page.index("Lines with a move")
    assert "call the emergency number at once" in page


def test_nothing_of_the_squad_file_is_trusted() -> None:
    page = html_of(proposals_document([proposals()], MONDAY, "<i>"))
    assert "<b>" not in page
    assert "<i>" not in page


def test_lines_without_a_word_are_only_counted() -> None:
    text = text_of(proposals_document([proposals(asks=("left calf: rising",))], MONDAY, "P"))
    assert "left calf: settled" in text
    assert "Press-up" not in text
    assert text.index("left calf: rising") < text.index("left calf: settled")


def test_one_line_a_runner() -> None:
    assert summary_lines([proposals(asks=("x",))]) == (
        "R01   Arla <b>           1 hold, 1 as written; 1 to answer; has gone silent",
    )


def test_what_only_goes_on_for_more_than_one_is_said_once_above_the_runners() -> None:
    on = Proposal(
        "2", "A1", "Squat", "as written", "Squat: 3 x 8", "Squat: 4 x 8", ("the text goes on: 4 rounds after 3",)
    )
    own = replace(on, item_key="B", written="Plank")
    first = replace(proposals(), lines=(*proposals().lines, on, own))
    second = replace(proposals(), runner_id="R02", lines=(on, replace(on, item_key="C", decided_by="A. Coach")))
    text = " ".join(text_of(proposals_document([first, second], MONDAY, "P"), 10_000).split())
    assert "- 2 A1 Squat: 4 rounds after 3. For R01, R02." in text
    assert text.count("2 A1 Squat") == 1
    assert text.count("2 B Plank") == 1, "of one runner only: stays with the runner"
    assert text.count("2 C Squat") == 1, "decided by the coach: stays with the runner"
    alone = text_of(proposals_document([first], MONDAY, "P"), 10_000)
    assert "The text goes on" not in alone
    assert "the text goes on: 4 rounds after 3" in alone
