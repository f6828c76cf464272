"""The decisions of the notation, one by one; each test is named for the decision it proves (docs/decisions/0001)."""

from __future__ import annotations

import pytest

from ferrule.model.finding import Finding
from ferrule.model.programme import Block, Dose, Item, Named, Programme, Slot
from ferrule.model.quantity import Load, Percent, Range, Tempo
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.text import dose_text
from ferrule.programme.tidy import tidy
from ferrule.programme.weeks import week_of


def read(text: str) -> tuple[Programme, tuple[Finding, ...]]:
    return read_programme(text, "p.md", SAMPLE)


def codes(text: str) -> list[str]:
    return [f.code for f in read(text)[1]]


def block_of(text: str) -> Block:
    return read("### Session 1: x\n\n" + text)[0].cycles[0].sessions[0].blocks[0]


def item_of(line: str, head: str = "Pair A, 3 rounds") -> Item:
    return block_of(f"{head}\n\n- {line}\n").items[0]


def dose_of(fields: str, head: str = "Pair A, 3 rounds") -> Dose:
    return item_of(f"Step-up: {fields}", head).dose


def told(line: str, head: str = "Pair A, 3 rounds") -> list[str]:
    return codes(f"### Session 1: x\n\n{head}\n\n- {line}\n")


FULL = """---
programme: Fell-ready, first block
weeks: 6
sessions: 3 a week
needs: mat; one dumbbell or kettlebell; step
start: 18:30
public: no
---

## Cycle 1, weeks 1-3: Foundations
Aim: own the single-leg positions before loading them.

### Session 1, day 2: calf and hip, 35 min

Warm-up, 1 round

- Ankle rock: 8/side
- Dead bug: 6/side
- Lateral lunge, no weight: 5/side
- Plank: 30 s

Pair A, 4 rounds, rest 75-90 s

- Step-up: 5-7/side, 2 RIR, tempo 2-0-1
  note: Push through the whole foot; no bounce off the floor.
- Heel raise, knee bent: 12/side, pause 2 s

| week          | 1 | 2 | 3   |
|---------------|---|---|-----|
| rounds        | 3 |   |     |
| Step-up: reps | 7 | 7 |     |
| Step-up: RIR  | 3 |   | 1-2 |

Straight, 3 sets, rest 2 min

- any hinge, one leg: 8/side, 2 RIR
- Press-up: 10, 3 RIR
  - or Press-up, hands raised: 12-15

coach: watch R07 on the last round

## Cycle 2, weeks 4-6: Build

### Session 1

Circuit, 3 rounds, between 15 s, rest 90 s

- Squat: 8
"""


def test_the_sketch_of_the_design_reads_whole() -> None:
    programme, findings = read(FULL)
    assert findings == ()
    assert programme.title == "Fell-ready, first block"
    assert (programme.weeks, programme.sessions_per_week) == (6, Range.of(3))
    first = programme.cycles[0]
    assert (first.key, first.name, first.first_week, first.last_week) == ("1", "Foundations", 1, 3)
    assert first.aim == "own the single-leg positions before loading them."
    session = first.sessions[0]
    assert (session.key, session.name, session.minutes, session.day) == ("1", "calf and hip", 35, 2)
    assert [b.kind for b in session.blocks] == ["warm-up", "pair", "straight"]
    assert [i.key for b in session.blocks for i in b.items] == ["W1", "W2", "W3", "W4", "A1", "A2", "B1", "B2"]
    assert session.blocks[1].rest_s == Range(75, 90)
    assert session.blocks[2].coach_notes == ("watch R07 on the last round",)


def test_01_structure_goes_by_the_first_word_not_by_the_heading_level() -> None:
    for mark in ("", "# ", "## ", "##### "):
        text = (
            f"{mark}Cycle 1, weeks 1-2: Base\n\n{mark}Session 1: legs, 30 min\n\n{mark}Pair A, 3 rounds\n\n- Squat: 5\n"
        )
        programme, findings = read(text)
        assert findings == ()
        assert programme.cycles[0].sessions[0].blocks[0].kind == "pair"
    assert read("Week 4: Deload\n\nDay 2: legs\n\nStraight\n\n- Squat: 5\n")[0].cycles[0].first_week == 4


def test_01_a_line_that_begins_like_a_head_and_does_not_parse_is_told() -> None:
    text = "### Session 1: x\n\nPair A, as you like\n\n- Squat: 5\n"
    programme, findings = read(text)
    assert [f.code for f in findings] == ["head-not-read"]
    assert findings[0].span is not None
    assert (findings[0].span.line, findings[0].span.column) == (3, 9)
    assert programme.cycles[0].sessions[0].blocks[0].kind == "pair"
    assert codes("### Session 1: x\n\nPair up with a friend for these.\n\nPair A, 3 rounds\n\n- Squat: 5\n") == []


def test_02_list_items_are_never_prose_and_later_lines_are_notes() -> None:
    item = item_of("Step-up: 8/side\n  note: soft knees\n  and no bounce\n\n  a second thought")
    assert item.notes == ("soft knees and no bounce", "a second thought")
    assert "exercise-unknown" in told("do what you feel like")


def test_02_a_later_line_that_parses_as_fields_is_told_and_taken() -> None:
    assert told("Step-up: 8/side\n  tempo 2-0-1") == ["fields-on-later-line"]
    assert item_of("Step-up: 8/side\n  tempo 2-0-1").dose.tempo == Tempo(2, 0, 1)
    assert item_of("Step-up: 8/side\n  note: tempo 2-0-1").dose.tempo is None


def test_02_a_typing_slip_never_makes_an_exercise_vanish() -> None:
    item = item_of("Stepp-up: 8/side, 2 RIR, wobbly")
    assert item.exercise == Named("Stepp-up", None)
    assert (item.dose.reps, item.dose.rir) == (Range.of(8), Range.of(2))
    assert set(told("Stepp-up: 8/side, wobbly")) == {"exercise-unknown", "field-not-read"}


def test_03_the_colon_ends_the_name_and_tidy_writes_it() -> None:
    assert item_of("Heel raise, knee bent: 12").exercise == Named("Heel raise, knee bent", "heel-raise-knee-bent")
    assert item_of("Heel raise knee bent 12").exercise == Named("Heel raise, knee bent", "heel-raise-knee-bent")
    assert told("Heel raise, knee bent 12/side") == []
    text, _ = tidy("### Session 1: x\n\nPair A\n\n- heel raise, knee bent 12/side\n", "p.md", SAMPLE)
    assert "- Heel raise, knee bent: 12/side\n" in text


def test_03_without_colon_and_name_the_nearest_are_named() -> None:
    _, findings = read("### Session 1: x\n\nPair A\n\n- Presup 10\n")
    assert findings[0].code == "exercise-unknown"
    assert "`Press-up`" in findings[0].fix


def test_04_alternatives_keep_the_order_and_inherit_what_they_do_not_write() -> None:
    item = item_of(
        "Press-up: 8/side, 3 RIR, tempo 2-0-1\n  - or Press-up, hands raised: 12-15\n  - or Plank: 30 s\n  - or Squat"
    )
    a, b, c = item.alternatives
    assert (a.dose.reps, a.dose.sides, a.dose.rir, a.dose.tempo) == (Range(12, 15), None, Range.of(3), Tempo(2, 0, 1))
    assert (b.dose.reps, b.dose.hold_s, b.dose.rir) == (None, Range.of(30), Range.of(3))
    assert c.dose == item.dose
    assert [x.key for x in item.alternatives] == ["A1b", "A1c", "A1d"]


def test_04_runner_picks() -> None:
    for text in ("runner picks: Squat: 5\n  - or Plank: 30 s", "runner picks:\n  - Squat: 5\n  - Plank: 30 s"):
        item = item_of(text)
        assert item.runner_picks
        assert isinstance(item.exercise, Named)
        assert item.exercise.text == "Squat"
        assert [isinstance(a.exercise, Named) and a.exercise.text for a in item.alternatives] == ["Plank"]


def test_05_a_range_with_reserve_and_a_number_without_stay_apart() -> None:
    assert dose_text(dose_of("5-7/side, 2 RIR")) == "5-7/side, 2 RIR"
    single = dose_of("8/side")
    assert single.rir is None
    assert dose_text(single) == "8/side"


def test_06_hyphens_between_two_numbers_are_ranges_and_tempo_needs_its_word() -> None:
    assert dose_of("5–7").reps == Range(5, 7)
    assert dose_of("8, tempo 3-1-x-0").tempo == Tempo(3, 1, "x", 0)
    assert dose_of("8, tempo 30X1").tempo == Tempo(3, 0, "x", 1)
    assert told("Step-up: 8, 2-0-1") == ["tempo-without-word"]
    assert dose_text(dose_of("5—7, tempo 2–0–1")) == "5-7, tempo 2-0-1"


def test_07_the_block_owns_sets_and_rounds() -> None:
    assert dose_of("3 x 8", "Straight").sets == Range.of(3)
    assert told("Step-up: 4 x 8", "Straight, 3 sets") == ["sets-twice"]
    assert told("Step-up: 3 x 8", "Straight, 3 sets") == []
    assert dose_of("3 x 8", "Straight, 3 sets").sets is None
    assert told("Step-up: 3 x 8", "Pair A") == ["sets-in-round"]


@pytest.mark.parametrize(
    "written", ["8/side", "8 each side", "8 per leg", "8 ea", "8 e/s", "8 ES", "8/leg", "8 a side", "8 each"]
)
def test_08_each_side(written: str) -> None:
    dose = dose_of(written)
    assert (dose.reps, dose.sides) == (Range.of(8), "each")
    assert dose_text(dose) == "8/side"


def test_08_alternating_total_left_and_right() -> None:
    assert dose_of("10 alternating").sides == "alternating"
    assert dose_of("20 total").sides == "total"
    dose = dose_of("left 10, right 8")
    assert (dose.left, dose.right) == (10, 8)
    assert dose_of("10 L, 8 R") == dose


def test_09_loads_are_totals_unless_each_hand_and_then_the_place() -> None:
    assert dose_of("8, 12 kg").load == Load(kg=Range.of(12))
    each = dose_of("8, 12kgs each hand").load
    assert each == Load(kg=Range.of(12), each_hand=True)
    assert each is not None
    assert each.total_kg == Range.of(24)
    assert dose_of("8, 2 x 12 kg").load == each
    assert dose_of("8, 10-12 kg at chest").load == Load(kg=Range(10, 12), place="chest")
    assert dose_of("8, 12 kg in opposite hand").load == Load(kg=Range.of(12), place="opposite hand")
    assert dose_of("8, thin band at ankle").load == Load(band="thin", place="ankle")
    assert dose_of("8, bodyweight").load == Load(none=True)
    assert told("Step-up: 8, red band") == ["band-colour"]


def test_09_a_percentage_names_its_base() -> None:
    assert dose_of("5, 80-85 % 1RM").percent == Percent(Range(80, 85), "1RM")
    assert dose_of("5, >90% 1RM").percent == Percent(Range.of(90), "1RM", at_least=True)
    assert dose_of("5, 20 % BW").percent == Percent(Range.of(20), "body mass")
    assert dose_of("30 s, 80 % of best hold").percent == Percent(Range.of(80), "best hold")
    assert told("Step-up: 5, 85 %") == ["percent-without-base"]


def test_10_rpe_of_a_set_is_ten_less_the_reserve() -> None:
    dose = dose_of("8, RPE 7-8")
    assert (dose.rir, dose.effort_word) == (Range(2, 3), "RPE")
    assert dose_text(dose) == "8, RPE 7-8"
    assert dose_of("8, 2 in reserve").rir == Range.of(2)


def test_11_units_decimals_lists_clusters_drops() -> None:
    assert dose_of("1:30").hold_s == Range.of(90)
    assert dose_of("2 min").hold_s == Range.of(120)
    assert dose_of("20-30 m").distance_m == Range(20, 30)
    assert dose_of("8, 2,5 kg").load == Load(kg=Range.of(2.5))
    assert dose_of("sets 12, 10, 8").per_set == (12, 10, 8)
    assert dose_of("sets 12,10,8").per_set == (12, 10, 8)
    assert dose_of("2+2+2").cluster == (2, 2, 2)
    assert dose_of("8, drop 8").drop == 8


def test_12_rests_are_told_apart_and_not_stated_is_not_zero() -> None:
    block = block_of("Pair A, 3 rounds, between 15 s, rest 2 min\n\n- Squat: 5, side rest 20 s\n")
    assert (block.between_s, block.rest_s) == (Range.of(15), Range.of(120))
    assert block.items[0].dose.side_rest_s == Range.of(20)
    assert block_of("Pair A\n\n- Squat: 5\n").rest_s is None
    assert block_of("Pair A, no rest\n\n- Squat: 5\n").rest_s == Range.of(0)
    assert dose_of("30 s").hold_s == Range.of(30)
    assert dose_of("8, pause 2 s").pause_s == Range.of(2)
    assert told("Step-up: 8, 30 s") == ["time-unclear"]


def test_13_the_by_week_table_changes_only_what_it_says() -> None:
    programme, _ = read(FULL)
    shown = []
    for n in (1, 2, 3):
        week = week_of(programme, n)
        assert week is not None
        pair = week.sessions[0].blocks[1]
        assert pair.table is None
        shown.append((str(pair.sets), dose_text(pair.items[0].dose)))
    assert shown == [
        ("3", "7/side, 2-3 RIR, tempo 2-0-1".replace("2-3", "3")),
        ("4", "7/side, 2 RIR, tempo 2-0-1"),
        ("4", "5-7/side, 1-2 RIR, tempo 2-0-1"),
    ]


def test_13_a_row_matches_exactly_one_item() -> None:
    base = "### Session 1: x\n\nPair A, 3 rounds\n\n- Squat: 5\n- Plank: 30 s\n\n| week | 1 |\n|---|---|\n"
    assert codes(base + "| Squat: reps | 6-8 |\n| plank: hold | 40 s |\n") == ["base-never-true", "base-never-true"]
    assert codes(base + "| Step-up: reps | 6 |\n") == ["row-item-unknown"]
    assert codes(base + "| reps | 6 |\n") == ["row-item-unclear"]
    twice = base.replace("- Plank: 30 s", "- Squat: 8")
    assert codes(twice + "| Squat: reps | 6 |\n") == ["row-item-unclear"]


def test_13_a_base_line_that_is_true_in_no_week_is_told() -> None:
    text = "## Cycle 1, weeks 1-2\n\n### Session 1: x\n\nPair A, 3 rounds\n\n- Squat: 5\n\n| week | 1 | 2 |\n|---|---|---|\n| rounds | 4 | 5 |\n"
    assert codes(text) == ["base-never-true"]
    assert codes(text.replace("4 | 5", "3 | 5")) == []
    assert codes(text.replace("4 | 5", "  | 5")) == []


def test_14_conditions_are_a_closed_list() -> None:
    item = item_of("Step-up: 8\n  when all reps for 2 sessions: add 2.5 kg\n  if pain above 3/10: stop")
    assert [(c.text, c.acts) for c in item.conditions] == [
        ("when all reps for 2 sessions: add 2.5 kg", True),
        ("if pain above 3: stop", True),
    ]
    programme, findings = read("if it rains: stay in\n\n### Session 1: x\n\nPair A\n\n- Squat: 5\n")
    assert [c.acts for c in programme.conditions] == [False]
    assert findings[0].code == "condition-only-prints"
    assert "Ferrule will not act on this" in findings[0].what


@pytest.mark.parametrize(
    "text",
    [
        "Pair A\n\n- Squat: 5\n  coach: SECRET\n",
        "Pair A\n\n- Squat: 5, coach: SECRET\n",
        "Pair A, 3 rounds coach: SECRET\n\n- Squat: 5\n",
        "Pair A\n\n- Squat: 5\ncoach: SECRET\n",
        "Pair A\n\n- Squat: 5\n  note: fine; coach: SECRET\n",
        "Pair A\n\n- Squat: 5\n  - coach: SECRET\n",
        "Pair A\n\n- Squat: 5\n- coach: SECRET\n",
        "Pair A\n\n- Squat: 5\n\ncoach:\n- SECRET\n- Squat: SECRET\n",
        "Pair A\n\n- Squat: 5\n\nCoach: see\nSECRET\n",
        "Pair A\n\n- Squat: 5\n\n**coach:** SECRET\n",
        "Pair A\n\n- Squat: 5\n\ncoahc: SECRET\n",
        "Pair A\n\n- Squat: 5\n\n> coach: SECRET\n",
        "Pair A\n\n- Squat: 5\n\n    coach: SECRET\n",
        "Pair A\n\n- Squat: 5\n  - or Plank: 30 s\n    coach: SECRET\n",
    ],
)
def test_15_words_for_the_coach_are_kept_apart(text: str) -> None:
    programme, _ = read("### Session 1: x\n\n" + text)

    def seen(item: Item) -> list[object]:
        return [
            item.exercise,
            item.dose,
            item.notes,
            [c.text for c in item.conditions],
            [seen(a) for a in item.alternatives],
        ]

    def kept(item: Item) -> list[str]:
        return [*item.coach_notes, *(n for a in item.alternatives for n in kept(a))]

    session = programme.cycles[0].sessions[0]
    runner = repr([programme.notes, session.notes, [(b.notes, [seen(i) for i in b.items]) for b in session.blocks]])
    assert "SECRET" not in runner
    own = [
        *programme.coach_notes,
        *session.coach_notes,
        *(n for b in session.blocks for n in (*b.coach_notes, *(k for i in b.items for k in kept(i)))),
    ]
    assert "SECRET" in " ".join(own)


def test_15_a_comment_sets_a_check_aside() -> None:
    programme, findings = read(
        "<!-- allow session-minutes: the hall closes late -->\n\n" + FULL[FULL.index("## Cycle") :]
    )
    assert [(a.rule, a.why, a.span.line) for a in programme.allows] == [("session-minutes", "the hall closes late", 1)]
    assert findings == ()


def test_16_front_matter_is_the_rest_of_the_line() -> None:
    programme, _ = read(FULL)
    front = {e.key: e.value for e in programme.front}
    assert (front["start"], front["public"]) == ("18:30", "no")
    assert programme.needs == ("mat", "one dumbbell or kettlebell", "step")
    assert programme.front[1].span.line == 3


TRAPS = {
    "table-under-list": "Pair A, 3 rounds\n\n- Squat: 5\n| week | 1 |\n|---|---|\n| rounds | 3 |\n",
    "line-made-heading": "Pair A, 3 rounds\n---\n\n- Squat: 5\n",
    "quote-sign": "Pair A, 3 rounds\n\n> - Squat: 5\n",
    "plus-sign": "Pair A, 3 rounds\n\n+ Squat: 5\n",
    "spaces-made-code": "Pair A, 3 rounds\n\n    - Squat: 5\n",
    "spaces-hid-list": "Pair A, 3 rounds\n    - Squat: 5\n",
    "head-under-list": "Pair A, 3 rounds\n\n- Squat: 5\nPair B, 3 rounds\n\n- Plank: 30 s\n",
    "table-rule-missing": "Pair A, 3 rounds\n\n- Squat: 5\n\n| week | 1 |\n| rounds | 3 |\n",
    "table-rule-width": "Pair A, 3 rounds\n\n- Squat: 5\n\n| week | 1 |\n|---|\n| rounds | 3 |\n",
}


@pytest.mark.parametrize("code", TRAPS)
def test_17_each_markdown_trap_is_told_and_tidy_mends_it(code: str) -> None:
    text = "### Session 1: x\n\n" + TRAPS[code]
    programme, findings = read(text)
    assert [f.code for f in findings] == [code]
    block = programme.cycles[0].sessions[0].blocks[0]
    assert (block.kind, block.sets, len(block.items)) == ("pair", Range.of(3), 1)
    mended, _ = tidy(text, "p.md", SAMPLE)
    assert codes(mended) == []


def test_18_forms_that_are_not_fitted_parse_print_and_are_told() -> None:
    text = "Step-up: 2+2+2, drop 8, lowering only, 30 cm box"
    dose = item_of(text).dose
    assert dose.unfitted == ("lowering only", "2+2+2", "drop 8", "30 cm box")
    assert dose_text(dose) == "2+2+2, drop 8, 30 cm box, lowering only"
    assert told(text) == ["not-fitted"]


def test_a_slot_names_a_pattern_and_legs() -> None:
    assert item_of("any hinge, one leg: 8/side").exercise == Slot("hinge", 1)
    assert item_of("any single-leg hinge 8/side").exercise == Slot("hinge", 1)
    assert item_of("any trunk side: 30 s").exercise == Slot("trunk side")
