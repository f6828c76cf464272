"""What published and common programmes have to say, row by row: each reads without an error and keeps what it says.

The rows follow a survey of thirty published programmes; what a row cannot say as a field it says as words that print.
"""

from __future__ import annotations

import pytest

from ferrule.model.programme import Block
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.text import dose_text

STRAIGHT = (
    ("fixed sets and repetitions", "Squat: 4 x 4", "4 x 4"),
    ("a range of repetitions", "Squat: 3 x 8-12", "3 x 8-12"),
    ("a range of sets", "Squat: 3-5 x 3-5", "3-5 x 3-5"),
    ("only a name", "Skip, low", ""),
    ("as somebody says", "Skip, low: as the therapist says", "as the coach says"),
    ("a number for each set", "Squat: sets 30, 15, 15, 15", "sets 30, 15, 15, 15"),
    ("up to a number", "Squat: up to 10", "up to 10"),
    ("a number or more at a repetition maximum", "Heel raise: 8 or more, 8RM", "at least 8, 8RM"),
    ("at least", "Heel raise: at least 8, at 8RM", "at least 8, 8RM"),
    ("to failure", "Squat: 3-5 x to failure", "3-5 x max"),
    ("as many sets as possible", "Heel raise: 8, as many sets as possible, rest 2 min", "8, max sets, rest 2 min"),
    ("work and rest", "Squat: 40 s work, 20 s off", "work 40 s, rest 20 s"),
    ("each side", "Step-up: 3 x 10 each side", "3 x 10/side"),
    ("one side only", "Heel drop: 3 x 15, affected side only", "3 x 15, sore side only"),
    ("a hold", "Plank: 4 x 20 s", "4 x 20 s"),
    ("repetitions that are held", "Heel raise: 3 x 10, hold 5 s", "3 x 10, pause 5 s"),
    ("timed bouts", "Skip, low: 5 x 10 s on, 50 s off", "5 x work 10 s, rest 50 s"),
    ("a distance", "Carry: 3 x 30 m", "3 x 30 m"),
    ("contacts", "Drop jump: 60-180 contacts", "60-180 contacts"),
    ("a repetition maximum", "Squat: 4 x 4, at 4RM", "4 x 4, 4RM"),
    ("fewer than the maximum", "Squat: 8 at 15RM", "8, 15RM"),
    ("a percentage", "Squat: 5, 80-85% 1RM", "5, 80-85 % 1RM"),
    ("more than a percentage", "Squat: 5, >90% 1RM", "5, at least 90 % 1RM"),
    ("a percentage of the best hold", "Plank: 30 s, 80 % of max hold", "30 s, 80 % best hold"),
    ("effort both ways", "Squat: 5, RPE 8, 2 in reserve", "5, RPE 8"),
    ("effort in words", "Squat: 8, technique weight", "8, technique weight"),
    ("bands", "Towel row: 10, thick band", "10, thick band"),
    ("a box", "Drop jump: 5, 30 cm box", "5, 30 cm box"),
    ("all one can", "Drop jump: 5, as high as possible", "5, as high as possible"),
    ("seconds in each phase", "Heel raise: 8, tempo 3-0-3", "8, tempo 3-0-3"),
    ("a top pause", "Heel raise: 8, tempo 3-0-2-2", "8, tempo 3-0-2-2"),
    ("fast up", "Squat: 4, tempo 2-0-x", "4, tempo 2-0-x"),
    ("lowering only", "Heel drop: 15, eccentric only", "15, lowering only"),
    ("tempo in words", "Heel drop: 15, slowly", "15, slow"),
    ("a fixed rest", "Squat: 4, rest 3 min", "4, rest 3 min"),
    ("a range of rests", "Squat: 4, rest 120-180 s", "4, rest 2-3 min"),
    ("a recovery that is an action", "Skip, low: 20 m, walk back", "20 m, walk back"),
    ("a cluster", "Squat: 3 x 4+4+4", "3 sets, 4+4+4"),
    ("a drop", "Squat: 8, drop set 8", "8, drop 8"),
    ("help on the last one", "Squat: 4, assisted", "4, assisted"),
    ("percent of body mass", "Squat: 8, 20% body weight", "8, 20 % body mass"),
)  # fmt: skip


def block_of(text: str) -> tuple[Block, list[str]]:
    programme, findings = read_programme("### Session 1: x\n\n" + text, "p.md", SAMPLE)
    return programme.cycles[0].sessions[0].blocks[0], [f.code for f in findings if f.level != "note"]


@pytest.mark.parametrize(("what", "line", "canonical"), STRAIGHT, ids=[row[0] for row in STRAIGHT])
def test_one_line(what: str, line: str, canonical: str) -> None:
    block, codes = block_of(f"Straight\n\n- {line}\n")
    shown = dose_text(block.items[0].dose)
    assert (shown, codes) == (canonical, []), what
    assert dose_text(block_of(f"Straight\n\n- Squat: {canonical}\n")[0].items[0].dose) == canonical


def test_rest_between_exercises_and_between_sets() -> None:
    block, codes = block_of("Straight, 3 sets, rest 2-3 min, between 5 min\n\n- Squat: 5\n- Heel raise: 12\n")
    assert (str(block.rest_s), str(block.between_s), codes) == ("120-180", "300", [])


def test_a_heavy_lift_and_a_jump_in_turn() -> None:
    block, codes = block_of("Pair, 3 rounds, between 4 min, rest 4 min\n\n- Squat: 5\n- Drop jump: 6\n")
    assert (block.kind, str(block.between_s), str(block.rest_s), codes) == ("pair", "240", "240", [])


def test_a_circuit_without_rest_between_stations() -> None:
    block, codes = block_of("Circuit, 3 rounds, between 0 s, rest 60 s\n\n- Squat: 8\n- Press-up: 8\n")
    assert (str(block.between_s), str(block.rest_s), codes) == ("0", "60", [])


def test_one_exercise_breaks_the_tempo_of_the_rest() -> None:
    block, codes = block_of("Circuit, 3 rounds\n\n- Squat: 8, tempo 2-0-2\n- Press-up: 8, tempo 1-0-3\n")
    assert [str(i.dose.tempo) for i in block.items] == ["2-0-2", "1-0-3"]
    assert codes == []


def test_a_gate_and_a_fallback_in_words() -> None:
    block, codes = block_of(
        "Straight, 3 sets\n\n- Squat: 8\n  when the coach accepts the form: add load\n  if pain above 5 of 10: stop\n"
    )
    assert [c.acts for c in block.items[0].conditions] == [False, True]
    assert codes == []


def test_an_easier_one_for_who_cannot() -> None:
    block, _ = block_of("Straight, 3 sets\n\n- Heel raise: 12/side\n  - or Heel raise, knee bent: 15\n")
    assert len(block.items[0].alternatives) == 1
