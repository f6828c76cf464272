"""Weeks with their tables applied."""

from __future__ import annotations

from ferrule.model.programme import Block, ProgrammeWeek
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.text import dose_text
from ferrule.programme.weeks import week_of

TEXT = """## Cycle 1, weeks 1-2: First

### Session 1

Straight, 3 sets

- Squat: 5

## Cycle 2, weeks 3-5: Second

if pain above 4: stop

### Session 1

Pair A, 3 rounds, rest 60 s

- Squat: 8/side, 10 kg each hand at chest, 3 RIR
  - or Step-up
  - or Plank: 30 s
- Plank: 30 s
- Heel raise: 12, drop 8

if pain above 3: ask

| week             | 3 | 4           | 5  |
|------------------|---|-------------|----|
| rounds           |   | 4           | -  |
| rest             |   | 75-90 s     |    |
| Squat: reps      |   | 6-10        | 5  |
| Squat: load      |   | 12 kg       |    |
| Squat: RIR       |   | 1-2         |    |
| Plank: hold      |   | 40 s        |    |
| Heel raise       | - | 15, 12 kg   |    |
"""
PROGRAMME, FINDINGS = read_programme(TEXT, "p.md", SAMPLE)


def week(number: int) -> ProgrammeWeek:
    found = week_of(PROGRAMME, number)
    assert found is not None
    return found


def block(number: int) -> Block:
    return week(number).sessions[0].blocks[0]


def shown(made: Block) -> list[str]:
    return [dose_text(i.dose) for i in made.items]


def test_a_week_knows_its_place_in_the_cycle() -> None:
    assert [(week(n).cycle_key, week(n).cycle_week) for n in range(1, 6)] == [
        ("1", 1),
        ("1", 2),
        ("2", 1),
        ("2", 2),
        ("2", 3),
    ]
    assert week_of(PROGRAMME, 0) is None
    assert week_of(PROGRAMME, 6) is None
    assert [f.code for f in FINDINGS if f.level != "note"] == []


def test_an_empty_cell_is_as_the_line_says_and_a_dash_leaves_out() -> None:
    made = block(3)
    assert (str(made.sets), str(made.rest_s)) == ("3", "60")
    assert shown(made) == ["8/side, 10 kg each hand at chest, 3 RIR", "30 s"]


def test_cells_change_only_their_field() -> None:
    made = block(4)
    assert (str(made.sets), str(made.rest_s)) == ("4", "75-90")
    assert shown(made) == ["6-10/side, 12 kg each hand at chest, 1-2 RIR", "40 s", "15, 12 kg, drop 8"]


def test_alternatives_follow_in_what_they_inherit() -> None:
    step, plank = block(4).items[0].alternatives
    assert dose_text(step.dose) == "6-10/side, 12 kg each hand at chest, 1-2 RIR"
    assert dose_text(plank.dose) == "30 s, 12 kg each hand at chest, 1-2 RIR"


def test_a_dash_in_the_row_of_the_block_leaves_the_block_out() -> None:
    assert week(5).sessions[0].blocks == ()


def test_conditions_of_every_part_reach_the_week() -> None:
    assert [c.text for c in week(4).conditions] == ["if pain above 4: stop", "if pain above 3: ask"]
    assert week(1).conditions == ()
