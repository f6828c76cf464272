"""Lines before a list that are heads in the trade's words, and lines that are none."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from ferrule.model.finding import Finding
from ferrule.model.programme import Block
from ferrule.programme.head_text import head_of_block
from ferrule.programme.reader import read_programme
from ferrule.programme.round_trip_test import NO_SHRINK
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.strategies import without_spans
from ferrule.programme.tidy import tidy

_ABOVE = "### Session 1: calf, 35 min\n\nPair A, 3 rounds\n\n- Squat: 8\n- Heel raise: 12\n\n"
_ONE, _TWO = "- Plank: 30 s\n", "- Plank: 30 s\n- Press-up: 10\n"
_THREE = _TWO + "- Dead bug: 10 total\n"

GUESSED = (
    ("EMOM 10 min", _ONE, "Straight, 10 min, every 60 s"), ("EMOM 10", _THREE, "Circuit, 10 min, every 60 s"),
    ("E2MOM x 5", _TWO, "Pair, 5 rounds, every 2 min"), ("10 min EMOM", _TWO, "Pair, 10 min, every 60 s"),
    ("Tabata", _ONE, "Straight, 8 sets, 20 s on, 10 s off"), ("Finisher, 6 min AMRAP", _TWO, "Pair, 6 min: Finisher"),
    ("AMRAP 6 min", _TWO, "Pair, 6 min"), ("6' AMRAP", _TWO, "Pair, 6 min"), ("Block B, 4 rounds of 8 min", _TWO, "Pair B, 4 rounds, every 8 min"),
    ("1a/1b x 3, 60s rest", _TWO, "Pair A, 3 rounds, rest 60 s"), ('A1) + A2), 4 rounds, rest 90"', _TWO, "Pair A, 4 rounds, rest 90 s"),
    ("B1) B2) B3) 3 rounds", _THREE, "Circuit B, 3 rounds"), ("Core finisher x 2", _TWO, "Pair, 2 rounds: Core finisher"),
    ("Prep:", _TWO, "Straight: Prep"), ("Main sets: 4 sets, 2-3 min rest", _TWO, "Straight, 4 sets, rest 2-3 min: Main sets"),
    ("Complex, 3 sets, rest 3 min", _TWO, "Pair, 3 rounds, rest 3 min"), ("Giant set, 3 rounds", _THREE, "Circuit, 3 rounds"),
    ("Triset x 3", _THREE, "Circuit, 3 rounds"), ("Tri-set B, 3 rounds", _THREE, "Circuit B, 3 rounds"), ("**Calves**", _TWO, "Straight: Calves"),
    ("Legs - 3x", _TWO, "Pair, 3 rounds: Legs"), ("Three rounds:", _TWO, "Pair, 3 rounds"), ("40/20 x 3", _TWO, "Pair, 3 rounds, 40 s on, 20 s off"),
    ("### Upper body", _TWO, "Straight: Upper body"), ("Accessory work, 2-3 sets", _TWO, "Straight, 2-3 sets: Accessory work"),
)  # fmt: skip


def _blocks(text: str) -> tuple[tuple[Block, ...], list[Finding]]:
    programme, findings = read_programme(text, "p.md", SAMPLE)
    return programme.cycles[0].sessions[0].blocks, [f for f in findings if f.level != "note"]


@pytest.mark.parametrize(("typed", "items", "meant"), GUESSED, ids=[g[0] for g in GUESSED])
def test_a_line_before_a_list_is_read_as_the_head_it_stands_for(typed: str, items: str, meant: str) -> None:
    text = f"{_ABOVE}{typed}\n\n{items}"
    blocks, told = _blocks(text)
    assert len(blocks) == 2
    assert [f.code for f in told] == ["head-guessed"]
    assert f"`{meant}`" in told[0].fix
    canonical, _ = tidy(text, "p.md", SAMPLE)
    assert f"\n{meant}\n" in canonical
    assert without_spans(_blocks(canonical)[0]) == without_spans(blocks)
    assert _blocks(canonical)[1] == []


def test_preparation_that_comes_first_is_a_warm_up() -> None:
    blocks, _ = _blocks("### Session 1\n\nPrep:\n\n- Ankle rock: 10\n\nMain sets, 3 sets\n\n- Squat: 8\n")
    assert [b.kind for b in blocks] == ["warm-up", "straight"]


def test_a_head_reads_the_same_over_lines_without_dashes() -> None:
    blocks, _ = _blocks(_ABOVE + "EMOM 10 min\nPlank: 30 s\nPress-up: 10\n")
    assert [(len(b.items), head_of_block(b)) for b in blocks] == [
        (2, "Pair A, 3 rounds"),
        (2, "Pair, 10 min, every 60 s"),
    ]


@pytest.mark.parametrize(
    ("typed", "part"),
    [("3 rounds for time", "for time"), ("Tabata x 4", "x 4"), ("Finisher 21-15-9 x 2", "21-15-9"), ("3 rounds AMRAP", "AMRAP"), ("10-8-6-4-2 of", "10-8-6-4-2"),
     ("0 rounds of:", "0")],
)  # fmt: skip
def test_what_is_not_understood_is_named_and_the_block_begins_all_the_same(typed: str, part: str) -> None:
    blocks, told = _blocks(f"{_ABOVE}{typed}\n\n{_TWO}")
    assert [len(b.items) for b in blocks] == [2, 2]
    assert [(f.code, f.level) for f in told] == [("head-not-read", "error")]
    assert f"`{part}`" in told[0].what


@pytest.mark.parametrize(
    "words", ["Do these barefoot.", "note: keep tall", "Slow and steady", "Round 1 hurts, 2 is easier.", "Rest 2 min."]
)
def test_words_between_two_lists_part_them(words: str) -> None:
    blocks, told = _blocks(f"{_ABOVE}{words}\n\n{_TWO}")
    assert [len(b.items) for b in blocks] == [2, 2]
    assert "head-missing" in [f.code for f in told]
    said = words.removeprefix("note: ")
    assert said in (blocks[0] if said.startswith("Rest") else blocks[1]).notes


def test_words_below_a_head_are_its_own() -> None:
    for words in ("Do these barefoot.", "Upper body", "About 5 min, easy"):
        blocks, told = _blocks(f"### Session 1\n\nPair A, 3 rounds\n\n{words}\n\n{_TWO}")
        assert [(len(b.items), b.notes) for b in blocks] == [(2, (words,))]
        assert told == []


def test_a_list_of_words_is_no_block() -> None:
    blocks, told = _blocks(_ABOVE + "Notes for the week:\n\n- keep the knees soft\n- breathe\n")
    assert [len(b.items) for b in blocks] == [2]
    assert [f.code for f in told] == ["list-read-as-words"]


WORDS = st.lists(
    st.sampled_from(
        ["EMOM", "Tabata", "AMRAP", "10", "min", "3", "rounds", "sets", "x", "rest", "60", "s", "1a/1b", "A1)", "+", "of", "Block B", "Core",
         "Do these slowly.", "finisher", ",", ":", "each", "Complex", "90\"", "easy", "40/20", "note:", "coach:", "if pain above 3: stop",
         "Prep:", "(", ")", "-", "**Legs**", "on the minute", "max", "5-6", "for time", "E2MOM", "Triset", "##"]
    ),
    min_size=1, max_size=6,
).map(" ".join)  # fmt: skip


@settings(derandomize=True, max_examples=300, deadline=None, phases=NO_SHRINK)
@given(WORDS, st.sampled_from([_ONE, _TWO, _THREE]))
def test_no_list_that_words_part_from_another_is_merged_into_its_block(words: str, items: str) -> None:
    assume(any(c.isalnum() or c == "#" for c in words))  # else a rule, and no paragraph
    text = f"{_ABOVE}{words}\n\n{items}"
    programme, findings = read_programme(text, "p.md", SAMPLE)
    blocks = [b for c in programme.cycles for s in c.sessions for b in s.blocks]
    coached = any(f.code == "list-under-coach" for f in findings)
    assert len(blocks[0].items) == 2 or words[0] in "-+|" or (words[:1].isdigit() and words[1:2] in ".)"), words
    assert coached or len([b for b in blocks if b.items]) >= 2 or words[0] in "-+", words
    assert any(f.level != "note" for f in findings)
    once = tidy(text, "p.md", SAMPLE)[0]
    assert without_spans(read_programme(once, "p.md", SAMPLE)[0]) == without_spans(programme), once
    assert tidy(once, "p.md", SAMPLE)[0] == once


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Monday", "Session 2, day 1"),
        ("### Wed: legs", "Session 2, day 3: legs"),
        ("**Thursdays**", "Session 2, day 4"),
    ],
)
def test_a_day_of_the_week_on_a_line_of_its_own_is_a_session(typed: str, meant: str) -> None:
    text = f"{_ABOVE}{typed}\n\nStraight\n\n{_TWO}"
    programme, findings = read_programme(text, "p.md", SAMPLE)
    assert [len(s.blocks) for s in programme.cycles[0].sessions] == [1, 1]
    assert [f.code for f in findings] == ["head-guessed"]
    assert f"### {meant}\n" in tidy(text, "p.md", SAMPLE)[0]


@pytest.mark.parametrize("day", ["Wednesday: rest", "Friday\n\nrest or easy walk", "Sunday long runs are for later."])
def test_a_day_without_work_is_no_session(day: str) -> None:
    programme, _ = read_programme(f"{_ABOVE}{day}\n", "p.md", SAMPLE)
    assert len(programme.cycles[0].sessions) == 1


def test_an_aside_in_brackets_stays_with_the_block_above() -> None:
    blocks, _ = _blocks(f"{_ABOVE}(superset, 60s rest)\n\n{_TWO}")
    assert [len(b.items) for b in blocks] == [2, 2]
    assert blocks[0].notes == ("(superset, 60s rest)",)


def test_time_in_brackets_is_the_time_of_a_session() -> None:
    programme, findings = read_programme(f"### Session A - strength (40min)\n\nStraight\n\n{_TWO}", "p.md", SAMPLE)
    assert findings == ()
    assert (programme.cycles[0].sessions[0].name, programme.cycles[0].sessions[0].minutes) == ("strength", 40)


@pytest.mark.parametrize("line", ["Press-up – 3 x 8", "plank x10", "A1. Plank 3x30s", "3 x 10 squat"])
def test_items_without_dashes_are_found_in_the_trades_spellings(line: str) -> None:
    programme, findings = read_programme(f"### Session 1\n\nStraight\n\n{line}\n", "p.md", SAMPLE)
    assert len(programme.cycles[0].sessions[0].blocks[0].items) == 1
    assert "item-without-dash" in [f.code for f in findings]
