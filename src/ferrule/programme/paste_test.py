"""Golden files: golden/paste/*.txt with what becomes of them beside. `FERRULE_GOLDEN=write` writes them anew."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.library.reader import load_library
from ferrule.model.finding import Finding
from ferrule.model.programme import Item, Programme
from ferrule.programme.paste import Pasted, paste, same_words
from ferrule.programme.reader import read_programme
from ferrule.programme.tidy import tidy

GOLDEN = Path(__file__).parents[3] / "golden" / "paste"
SAMPLES = sorted(GOLDEN.glob("*.txt"))
LIBRARY, _ = load_library()


def pasted(text: str) -> tuple[Pasted, tuple[Finding, ...]]:
    return paste(text, "old.txt", LIBRARY)


def programme(text: str) -> Programme:
    return read_programme(pasted(text)[0].text, "p.md", LIBRARY)[0]


def items(text: str) -> list[Item]:
    return [i for c in programme(text).cycles for s in c.sessions for b in s.blocks for i in b.items]


def told(findings: tuple[Finding, ...]) -> str:
    return "".join(f"{f.span.line if f.span else 0}: {f.level} {f.code}: {f.what} {f.fix}\n" for f in findings)


def test_there_are_enough_samples() -> None:
    assert len(SAMPLES) >= 12


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_golden(path: Path) -> None:
    found, findings = paste(path.read_bytes(), path.name, LIBRARY)
    for file, text in ((path.with_suffix(".md"), found.text), (path.with_suffix(".findings"), told(findings))):
        if os.environ.get("FERRULE_GOLDEN") == "write":
            file.write_text(text, encoding="utf-8")
        assert file.read_text(encoding="utf-8") == text


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_what_it_becomes_is_tidy_and_every_number_is_in_it(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    found, _ = pasted(text)
    assert tidy(found.text, "p.md", LIBRARY)[0] == found.text
    _held(text, found)
    for line in found.lines:
        if line.became == "item":
            words = {w.lower() for w in re.findall(r"[A-Za-z]{4,}", line.text)}
            there = found.text.lower()
            assert any(w.rstrip("s") in there for w in words), line
            for number in re.findall(r"(?<![A-Za-z\d])\d+", line.text):
                assert re.search(rf"(?<!\d){number}(?!\d)", found.text), (number, line)


def _held(text: str, found: Pasted) -> None:
    """Every line that holds anything became something; one that was kept stands in the text as it stood."""
    with_text = {n for n, line in enumerate(re.split(r"\r\n|\r|\n", text), 1) if line.strip("\ufeff \t\x00")}
    assert {line.line for line in found.lines} >= {n for n in with_text if _shows(re.split(r"\r\n|\r|\n", text)[n - 1])}
    whole = same_words(found.text)
    for line in found.lines:
        if line.became == "kept":
            assert same_words(line.text) in whole, line


def _shows(line: str) -> bool:
    return any(c.isalnum() for c in line)


_BITS = st.sampled_from(
    [
        "squat", "Step up", "press-ups", "plank", "3x10", "3 × 8", "each leg", "30 sec", "•", "- ", "1.", "A1)", "B2:", "Superset", "x3", "Day 1",
        "Week 1-3", "Mon:", "(slow)", "(mind the knee)", "rest 60s", "3 rounds:", "warm up", "\u00a0", "\t", "–", "nice work!", "coach: hush", "note: x",
        "or", "any hinge", "12 kg", "@ RPE 8", "<!-- allow x", "```", "| a | b |", "---", "> ", "# ", "+ ", "    ", "if it hurts: stop", "2 sets of 12",
        "max", "from week 2", "add 5 kg a week", "30 cm box", "Pair up with someone", "cycle", "\ufeff", "ok 12 of 13", ":", ";", "…", "“soft”",
    ]
)  # fmt: skip


@settings(max_examples=250, derandomize=True, deadline=None)
@given(st.lists(st.lists(_BITS, max_size=5).map(" ".join), max_size=9).map("\n".join))
def test_nothing_is_lost(text: str) -> None:
    found, findings = pasted(text)
    _held(text, found)
    kept = {line.line for line in found.lines if line.became == "kept"}
    for line in found.lines:
        if line.became in ("item", "field"):
            for number in re.findall(r"(?<![A-Za-z\d])\d+", line.text):
                assert re.search(rf"(?<!\d){number}(?!\d)", found.text), (number, line)
    assert kept <= {f.span.line for f in findings if f.span and f.code.startswith("paste-")}


@settings(max_examples=120, derandomize=True, deadline=None)
@given(st.text(max_size=160))
def test_no_text_raises(text: str) -> None:
    assert isinstance(pasted(text)[0].text, str)


@pytest.mark.parametrize(
    ("line", "written"),
    [
        ("• Step up 3x10", "Step up: 3 x 10"),
        ("1) Squats 3 sets of 10", "Squat: 3 x 10"),
        ("- 3x10 step ups each leg", "Step up: 3 x 10/side"),
        ("– Plank 30 sec x 3", "Plank: 3 x 30 s"),
        ("* Press-ups – 3 × 10", "Press-up: 3 x 10"),
        ("Side plank 3x30s each side", "Side plank: 3 x 30 s/side"),
        ("Squat 3x8 @ RPE 7, 12kg", "Squat: 3 x 8, 12 kg, RPE 7"),
        ("\u2022\u00a0Squat\u00a03\u00a0×\u00a010", "Squat: 3 x 10"),
        ("10 press-ups", "Press-up: 10"),
    ],
)
def test_lines_as_coaches_write_them(line: str, written: str) -> None:
    assert f"- {written}\n" in pasted(line)[0].text


def test_labels_make_pairs_and_what_they_share_is_theirs() -> None:
    text = "A1) Squat 3x10\nA2) Plank 3x30s\nB1) Squat 3x8\nB2) Press-up 2x10\nC) Step-up 2x8 each leg\n"
    blocks = [b for c in programme(text).cycles for s in c.sessions for b in s.blocks]
    assert [(b.kind, b.label, None if b.sets is None else b.sets.low) for b in blocks] == [
        ("pair", "A", 3.0), ("pair", "B", None), ("straight", "", None),
    ]  # fmt: skip
    assert [i.dose.sets for i in blocks[0].items] == [None, None]
    assert all(i.dose.sets is not None for i in blocks[1].items)


def test_weekdays_and_day_numbers() -> None:
    found, findings = pasted("Mon: legs\nSquat 3x8\nTue: easy run 40 min\nDay 2\nPlank 3x30s\n")
    sessions = programme("Mon: legs\nSquat 3x8\nTue: easy run 40 min\nDay 2\nPlank 3x30s\n").cycles[0].sessions
    assert [(s.day, s.name) for s in sessions] == [(1, "legs"), (None, "")]
    assert "Tue: easy run 40 min" in found.text
    assert [f.span.line for f in findings if f.code == "paste-guess" and f.span] == [4]


def test_an_unknown_exercise_keeps_its_line_and_gets_the_nearest() -> None:
    found, findings = pasted("Squat 3x8\nStep upp 3x8 each leg\n")
    assert "- Step upp: 3 x 8/side\n" in found.text
    told_of = [f for f in findings if f.code == "paste-exercise-unknown"]
    assert [(f.span.line, f.level) for f in told_of if f.span] == [(2, "error")]
    assert "`Step-up`" in told_of[0].fix


def test_brackets_are_fields_where_they_read_and_notes_where_they_do_not() -> None:
    (item,) = items("Squat 3x8 (12 kg) (knees out)")
    assert item.dose.load is not None
    assert item.notes == ("knees out",)


def test_words_for_the_coach_stay_with_the_coach() -> None:
    whole = programme("Squat 3x8\ncoach: left knee of Ada\nPlank 3x30s\n")
    block = whole.cycles[0].sessions[0].blocks[0]
    assert "left knee of Ada" in " ".join([*block.coach_notes, *(n for i in block.items for n in i.coach_notes)])
    assert all("Ada" not in n for i in block.items for n in i.notes)
