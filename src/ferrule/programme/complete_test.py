from __future__ import annotations

import re
from collections import Counter
from functools import cache
from importlib.resources import files
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.words import PATTERNS
from ferrule.programme.complete import Choice, complete
from ferrule.programme.conditions import ACTIONS, TRIGGERS
from ferrule.programme.field_offers import groups_in
from ferrule.programme.fields import FieldReader
from ferrule.programme.front import KEPT, KNOWN
from ferrule.programme.head_text import BLOCK_MORE, CYCLE_MORE, SESSION_MORE
from ferrule.programme.heads import read_head
from ferrule.programme.line_offers import CONDITIONS
from ferrule.programme.offer import Kind
from ferrule.programme.reader import read_programme
from ferrule.programme.text import GROUPS

DEMO = (files("ferrule.demo") / "programme.md").read_text(encoding="utf-8")
LINES = DEMO.split("\n")
RULES = ("session-minutes", "load-step", "weekly-sets")


@cache
def library() -> Library:
    return load_library({})[0]


def at_end(text: str) -> tuple[Choice, ...]:
    """Choices at the mark `|>` of a text."""
    before, _, after = text.partition("|>")
    lines = before.split("\n")
    return complete(before + after, len(lines), len(lines[-1]) + 1, library(), RULES)


def texts(text: str) -> list[str]:
    return [c.text for c in at_end(text)]


def block(line: str, head: str = "Straight") -> str:
    return f"## Cycle 1, weeks 1-3: One\n\n### Session 1: legs, 30 min\n\n{head}\n\n- Squat: 8\n{line}"


def test_front_matter_offers_the_keys_that_are_not_there() -> None:
    assert texts("---\nweeks: 6\n|>\n---\n") == [f"{k}: " for k in (*KNOWN, *KEPT) if k != "weeks"]
    assert "needs: " in texts("---\nprogramme: A\nne|>\n---\n")
    assert " kettlebell" in texts("---\nneeds: mat; ke|>\n---\n")


def test_a_line_start_offers_the_next_number_and_letter() -> None:
    found = texts("## Cycle 1, weeks 1-3: A\n\n### Session 1: a\n\nPair A, 3 rounds\n\n- Squat: 8\n\n|>")
    assert "Pair B" in found
    assert "Circuit B" in found
    assert "Warm-up" in found
    assert "### Session 2: " in found
    assert "## Cycle 2, weeks 4-6: " in found
    assert "## Week 4: " in found
    assert next(t for t in found if t.startswith("| week")).startswith("| week | 1 | 2 | 3 |\n")


def test_a_number_that_stands_further_down_is_not_offered_again() -> None:
    found = texts("## Cycle 1, weeks 1-3: A\n\n### Session 1: a\n\nSe|>\n\n### Session 2: b\n")
    assert found == ["### Session 3: "]


def test_heads_take_the_fields_they_do_not_say() -> None:
    assert texts("### Session 1: a\n\nPair A, 3 rounds, |>")[:3] == ["rest 90 s", "no rest", "between 15 s"]
    assert "4 rounds" in texts("### Session 1: a\n\nPair A, 4|>")
    assert "35 min" in texts("### Session 1: hips, 35|>")
    assert ", 3 sets" in texts("### Session 1: a\n\nStraight|>")


HEADS = {
    "block": ("### Session 1: a\n\nCircuit A", BLOCK_MORE, {"name"}),
    "session": ("## Cycle 1, weeks 1-6: A\n\n### Session 1", SESSION_MORE, set()),
    "cycle": ("## Cycle 1", CYCLE_MORE, set()),
}
"""The head, the fields the reader knows beside name, sets, rests, day and time, and those that are words of one's own."""


@pytest.mark.parametrize("kind", HEADS)
def test_every_field_a_head_can_say_is_offered(kind: str) -> None:
    text, fields, own_words = HEADS[kind]
    before = text.split("\n")[-1]
    said: set[str] = set()
    for choice in at_end(text + ", |>"):
        made = read_head(choice.applied(before + ", "))
        said |= set(made.more) if made is not None and made.whole else set()
    assert set(fields) - own_words <= said


def test_every_key_of_the_front_matter_is_offered_and_read() -> None:
    for key in (*KNOWN, *KEPT):
        assert f"{key}: " in texts(f"---\n{key[:2]}|>\n---\n")
    values = {"programme": "A", "weeks": "6", "sessions": "3 a week", "needs": "mat", **dict.fromkeys(KEPT, "week 6")}
    front = "---\n" + "".join(f"{k}: {v}\n" for k, v in values.items()) + "---\n"
    _, findings = read_programme(front + block("").removeprefix("---"), "p.md", library())
    assert not [f for f in findings if f.code.startswith("front")]


def test_every_group_of_a_dose_is_offered_for_some_exercise() -> None:
    found: set[str] = set()
    for name in ("Squat", "Step-up", "Front plank", "Skip, low", "Carry", "Nobody knows it"):
        for choice in at_end(block(f"- {name}: |>", "Straight")):
            found |= groups_in(FieldReader(choice.text).read())
    assert set(GROUPS) <= found


def test_every_trigger_and_action_of_the_closed_list_is_offered() -> None:
    first = {c.text for c in at_end(block("  |>"))}
    for form in TRIGGERS:
        assert form.text.format(n=3, s="s", m="") + ": " in first
    assert {f" {action}" for action in ACTIONS.values()} <= set(texts(block("  when easy:|>")))


def test_after_the_dash_come_exercises_those_of_this_programme_first() -> None:
    found = at_end(block("- |>"))
    assert found[0].text == "Squat: "
    assert found[0].kind == "variant"
    assert found[0].detail.startswith("used in this programme")
    assert {f"any {p}: " for p in PATTERNS} <= {c.text for c in found}
    assert "runner picks: " in [c.text for c in found]


def test_names_begin_as_written_and_then_are_near() -> None:
    assert all("step" in c.text.lower() or c.detail.startswith("also called ") for c in at_end(block("- step|>")))
    near = at_end(block("- stpe upp|>"))
    assert near
    assert near[0].text.startswith("Step-up")
    assert near[0].detail.startswith("near to what is written")
    assert "any hinge, one leg: " in texts(block("- any hinge|>"))
    assert texts(block("- or side pl|>"))[0].startswith("Side plank")


def test_a_line_set_in_below_an_item_is_an_alternative() -> None:
    found = texts(block("  - |>"))
    assert "or " in found
    assert "or Step-up: " in found
    assert "Step-up: " not in found


def test_fields_suit_the_exercise() -> None:
    plank = texts(block("- Front plank: |>"))
    assert "30 s" in plank
    assert not [t for t in plank if "each hand" in t or "tempo" in t or "/side" in t]
    step = texts(block("- Step-up: |>"))
    assert {"8/side", "2 RIR", "tempo 2-0-1", "pause 2 s", "side rest 10 s", "optional"} <= set(step)
    places = set(library().variants["step-up"].loading)
    assert ("12 kg at chest" in step) == ("chest" in places)
    assert {t.removeprefix("12 kg ") for t in step if t.startswith("12 kg ")} >= {"at chest"} & {
        f"at {p}" for p in places
    }
    assert "20 contacts" in texts(block("- Skip, low: |>"))


def test_what_the_line_says_is_not_offered_again() -> None:
    found = texts(block("- Step-up: 8/side, 2 RIR, |>"))
    assert "tempo 2-0-1" in found
    assert not [t for t in found if "RIR" in t or "RPE" in t or "/side" in t]
    assert "3 sets" in texts(block("- Squat: 8, |>"))
    assert "3 sets" not in texts(block("- Squat: 8, |>", "Pair A, 3 rounds"))


def test_the_number_that_is_typed_is_kept() -> None:
    assert {"6/side", "6 contacts"} & set(texts(block("- Step-up: 6|>"))) == {"6/side"}
    assert "1-2 RIR" in texts(block("- Step-up: 8/side, 1-2|>"))
    assert texts(block("- Step-up: 8/side, rest 45|>")) == ["rest 45 s"]
    assert ", 2 RIR" in texts(block("- Step-up: 8/side|>"))


def test_the_dose_of_the_same_exercise_elsewhere_comes_first() -> None:
    found = at_end(block("- Squat: |>").replace("Squat: 8", "Squat: 8, 3 RIR"))
    assert (found[0].text, found[0].detail) == ("8, 3 RIR", "as in line 7")


def test_a_table_offers_rows_of_its_block_and_weeks_of_its_cycle() -> None:
    table = "\n| week | 1 | 2 |\n|---|---|---|\n"
    rows = [t.strip(" |") for t in texts(block(table + "| |> | | |"))]
    assert {"sets", "rest", "Squat: reps", "Squat: RIR", "Squat: load", "Squat"} <= set(rows)
    assert "Squat: hold" not in rows
    assert "rounds" not in rows
    assert [t.strip() for t in texts(block("\n| week | 1 | 2 | |> |\n|---|---|---|---|\n"))] == ["3"]
    assert [t.strip() for t in texts(block(table + "| sets | |> | |"))] == ["-"]


def test_a_row_whose_cells_would_not_read_is_not_offered() -> None:
    rows = [t.strip(" |") for t in texts(block("\n| week | 1 |\n|---|---|\n| |> | 40 kg |"))]
    assert rows == ["Squat: load", "Squat"]


def test_allow_offers_the_names_of_the_checks() -> None:
    assert texts("<!-- allow |>") == [f" {r}: " for r in RULES]
    found = at_end("<!-- allow lo|>: the hall closes -->")
    assert [(c.text, c.beginning) for c in found] == [(" load-step", False)]


def test_conditions_that_are_offered_are_acted_on() -> None:
    for text, _ in CONDITIONS:
        programme, _ = read_programme(block(f"\n{text}\n"), "p.md", library())
        said = [c for cycle in programme.cycles for s in cycle.sessions for b in s.blocks for c in b.conditions]
        assert [(c.text, c.acts) for c in said] == [(text, True)]
    assert texts(block("  if p|>"))[:2] == [t for t, _ in CONDITIONS if t.startswith("if p")]


def test_any_condition_of_the_closed_list_is_offered_in_two_steps() -> None:
    first = at_end(block("  |>"))
    assert {"when easy: ", "if pain above 3: "} <= {c.text for c in first if c.kind == "condition" and c.beginning}
    assert {" harder", " add 1 rep", " stop"} <= set(texts(block("  when easy:|>")))
    assert texts(block("  when easy: har|>")) == [" harder"]
    assert texts(block("  when pigs fly: |>")) == []


def test_forms_out_of_the_ordinary_are_offered_where_the_reader_knows_them() -> None:
    assert {"from week 2", "30 cm box", "add 1 rep a week"} <= set(texts(block("- Step-up: 8/side, |>")))
    assert "from week 2" not in texts(block("- Step-up: 8/side, from week 3, |>"))


def test_nothing_is_offered_inside_a_fence() -> None:
    assert texts("```\n- |>\n```\n") == []


def test_every_kind_is_a_word_of_the_glossary() -> None:
    page = (files("ferrule").joinpath("../../docs/glossary.md")).read_text(encoding="utf-8")
    missing = [kind for kind in get_args(Kind) if f"**{kind}**" not in page]
    assert not missing


@settings(max_examples=150, derandomize=True, deadline=None)
@given(st.text(max_size=120) | st.sampled_from([DEMO, DEMO[:900]]), st.integers(-3, 260), st.integers(-3, 90))
def test_no_text_and_no_place_raises(text: str, line: int, column: int) -> None:
    for choice in complete(text, line, column, library(), RULES):
        assert choice.text
        assert 1 <= choice.from_column <= choice.to_column
        assert "\n" not in choice.detail


_PIECES = ["- ", "  - or ", "| ", " | ", "Step-up", ": ", "8/side", ", ", "any ", "---", "\n", "Pair A", "### Session", "<!-- allow ", "week", "12 kg", "\t", "sets 12, ", "1:30", "\u00a0"]  # fmt: skip


@settings(max_examples=150, derandomize=True, deadline=None)
@given(st.lists(st.sampled_from(_PIECES), max_size=14).map("".join), st.data())
def test_no_half_written_line_raises(text: str, data: st.DataObject) -> None:
    lines = text.split("\n")
    line = data.draw(st.integers(1, len(lines)))
    column = data.draw(st.integers(1, len(lines[line - 1]) + 1))
    for choice in complete(block(text), line + 7, column, library(), RULES):
        assert choice.applied(lines[line - 1] if line > 1 else lines[0]) is not None


def _errors(text: str, line: int, more: int) -> Counter[str]:
    _, findings = read_programme(text, "p.md", library())
    return Counter(f.code for f in findings if f.level == "error" and f.span and line <= f.span.line <= line + more)


def _stops(line: str) -> list[int]:
    found = {1, len(line) + 1} | {m.end() + 1 for m in re.finditer(r"[,:|;] ?|- |or |\w{3}(?=\w)", line)}
    return sorted(c for c in found if c <= len(line) + 1)


@pytest.mark.parametrize("part", range(8))
def test_a_choice_taken_adds_no_error_to_its_line(part: int) -> None:
    """Every line of the demonstration programme; of long lists of choices every few, a different few at every place."""
    tried = 0
    for n, line in list(enumerate(LINES))[part::8]:
        for stop in _stops(line)[part % 2 :: 2]:
            choices = [c for c in complete(DEMO, n + 1, stop, library(), RULES) if not c.beginning]
            for choice in choices[stop % 11 :: 11]:
                new = choice.applied(line)
                changed = "\n".join([*LINES[:n], new, *LINES[n + 1 :]])
                assert not _errors(changed, n + 1, new.count("\n")), (line, stop, choice)
                tried += 1
    assert tried > 40
