"""Text -> value -> text: nothing is lost, nothing changes on the way."""

from __future__ import annotations

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from ferrule.model.finding import has_errors
from ferrule.model.programme import Programme
from ferrule.programme.programme_text import programme_text
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.strategies import programmes, without_spans
from ferrule.programme.strategies_texts import texts
from ferrule.programme.tidy import tidy

NO_SHRINK = (Phase.explicit, Phase.generate)
"""Whole programmes shrink for minutes; the text in the failure says enough."""


@settings(derandomize=True, max_examples=12, deadline=None, phases=NO_SHRINK)
@given(programmes())
def test_a_programme_written_out_is_canonical_and_reads_back_the_same(programme: Programme) -> None:
    text = programme_text(programme)
    read, findings = read_programme(text, "p.md", SAMPLE)
    assert without_spans(read) == without_spans(programme), text
    told = {f.code for f in findings if f.level == "error"}
    assert told <= {"exercise-unknown", "sets-in-round", "never-done", "choice-not-found"}, (told, text)
    assert tidy(text, "p.md", SAMPLE)[0] == text


@settings(derandomize=True, max_examples=120, deadline=None, phases=NO_SHRINK)
@given(texts())
def test_tidying_never_changes_the_meaning_and_twice_changes_nothing(text: str) -> None:
    before, _ = read_programme(text, "p.md", SAMPLE)
    once, _ = tidy(text, "p.md", SAMPLE)
    after, _ = read_programme(once, "p.md", SAMPLE)
    assert without_spans(after) == without_spans(before), once
    assert tidy(once, "p.md", SAMPLE)[0] == once


def test_tidy_gives_the_findings_of_the_text_as_it_was() -> None:
    text = "### Session 1\n\nPair A, 3 rounds\n\n- Step-up: 8/sied\n"
    _, findings = tidy(text, "p.md", SAMPLE)
    assert findings == read_programme(text, "p.md", SAMPLE)[1]
    assert not has_errors(tidy(tidy(text, "p.md", SAMPLE)[0], "p.md", SAMPLE)[1]) or has_errors(findings)


PIECES = st.lists(
    st.sampled_from(
        ["- ", "Step-up", "Squat: ", "8", "/side", "\n", "\n", "\n\n", "  ", "    ", "| week | 1 |", "|---|---|", "| rounds | 2 |",
         "Pair A, 3 rounds", "note: ", "coach: ", "or ", "> ", "+ ", "---", "tempo ", "2-0-1", " rest ", "60 s", ": ", ", ", "12 kg",
         "Session 1", "## Cycle 1, weeks 1-2", "if pain above 3: stop", "<!-- allow x: y -->", "any hinge", "runner picks: ", "text"]
    ),
    max_size=40,
).map("".join)  # fmt: skip


@settings(derandomize=True, max_examples=400, deadline=None, phases=NO_SHRINK)
@given(PIECES)
def test_pieces_in_any_order_keep_their_meaning_when_tidied(text: str) -> None:
    before, _ = read_programme(text, "p.md", SAMPLE)
    once, _ = tidy(text, "p.md", SAMPLE)
    assert without_spans(read_programme(once, "p.md", SAMPLE)[0]) == without_spans(before), once
    assert tidy(once, "p.md", SAMPLE)[0] == once
