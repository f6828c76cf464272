"""What published and common programmes have to say, row by row: each reads without an error and keeps what it says.

The rows follow a survey of thirty published programmes; what a row cannot say as a field it says as words that print.
"""

from __future__ import annotations

import pytest

from ferrule.model.programme import Block
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.text import dose_text
from ferrule.programme.tidy import tidy

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
    ("at least, then to failure", "Heel raise: 8+ to failure, 8RM", "at least 8, 8RM, to failure"),
    ("up to, as a most", "Squat: max 8", "up to 8"),
    ("as many as possible in a time", "Squat: AMRAP in 40 s", "max in 40 s"),
    ("as long as possible", "Plank: 3 x max hold", "3 sets, as long as possible"),
    ("pieces of a distance", "Skip, low: 5 runs of 80 m, 50-60 % pace", "5 reps of 80 m, 50-60 % top speed"),
    ("lead-in", "Squat: 7, 2 light lead-in reps", "7, 2 lead-in"),
    ("short rests inside the set", "Squat: 6, 6RM, rest pause 20 s twice", "6, 6RM, rest-pause 20 s x 2"),
    ("rest between the parts of a cluster", "Squat: 4+4+4, 30 s between parts", "4+4+4, part rest 30 s"),
    ("a load for each set", "Squat: sets 12, 10, 8, loads 40/45/50 kg", "sets 12, 10, 8, loads 40, 45, 50 kg"),
    ("percentages set by set", "Squat: sets 5, 3, 1, loads 65, 75, 85 % 1RM", "sets 5, 3, 1, loads 65, 75, 85 % 1RM"),
    ("the last set to failure", "Squat: sets 5, 3, 1, last set to failure", "sets 5, 3, 1, last set max"),
    ("a step and its end", "Squat: 8, 10 kg, add 5 kg per week, up to 60 kg", "8, 10 kg, add 5 kg a week, to 60 kg"),
    ("a step in per cent", "Squat: 8, add 2-10 %", "8, add 2-10 %"),
    ("a load on some days", "Heel raise: 15, loaded on 2-3 days a week", "15, load on 2-3 days a week"),
    ("a flywheel", "Squat: 7, inertia 0.06 kg·m²", "7, inertia 0.06 kg m2"),
    ("what the load is", "Heel raise: 8, books in a backpack", "8, with rucksack"),
    ("a height in metres", "Drop jump: 5, 0.3 m box", "5, 30 cm box"),
    ("about a percentage", "Squat: 12, about 70% of 1RM", "12, about 70 % 1RM"),
    ("a percentage of force", "Plank: 20 s, 80% MVC", "20 s, 80 % max force"),
    ("a percentage of the heart rate", "Skip, low: 40 s on, above 80 % of max HR", "work 40 s, at least 80 % HRmax"),
    ("all one has", "Skip, low: 30 m, flat out", "30 m, all-out"),
    ("phases that make a tempo", "Heel raise: 10, 3 s up, 5 s down", "10, tempo 5-0-3"),
    ("a phase alone", "Squat: 4, 2-3 s down, explosive up", "4, 2-3 s down, fast up"),
    ("one side, the other helps", "Heel drop: 15, bad leg only, other leg lifts", "15, sore side only, other leg lifts"),
    ("help on the last one", "Squat: 4, spotter", "4, helper on the last rep"),
    ("effort both ways, no mirror", "Squat: 12-15, 5-6 RIR, RPE 5-6", "12-15, 5-6 RIR, RPE 5-6"),
)  # fmt: skip


def block_of(text: str) -> tuple[Block, list[str]]:
    programme, findings = read_programme("### Session 1: x\n\n" + text, "p.md", SAMPLE)
    return programme.cycles[0].sessions[0].blocks[0], [f.code for f in findings if f.level != "note"]


BLOCKS = (
    ("stations by the clock", "Circuit, 4 rounds, 40 s work, 20 s off, above 80 % HRmax: Stations",
     "Circuit, 4 rounds, 40 s on, 20 s off, at least 80 % HRmax: Stations"),
    ("round and round for a time", "Circuit for 12 min, rest 60 s", "Circuit, 12 min, rest 60 s"),
    ("on the minute", "Straight, 5 sets, EMOM", "Straight, 5 sets, every 60 s"),
    ("as many sets as possible", "Straight, as many sets as possible, rest 2 min", "Straight, max sets, rest 2 min"),
    ("a range of sets", "Straight, 3-5 sets", "Straight, 3-5 sets"),
    ("some of the list", "Circuit, choose 6 of these, 2 rounds", "Circuit, 2 rounds, 6 exercises"),
    ("repetitions of all together", "Straight, 30-200 contractions in all", "Straight, 30-200 reps in all"),
    ("a tempo for all", "Circuit, 3 rounds, no rest, tempo 2-0-2", "Circuit, 3 rounds, tempo 2-0-2, rest 0 s"),
    ("a cool-down", "Cool down, 5 min", "Cool-down, 5 min"),
)  # fmt: skip
SESSIONS = (
    ("Session 1, twice a week: gym", "### Session 1, 2 a week: gym"),
    ("Session 1, at least 2x per week", "### Session 1, at least 2 a week"),
    ("Session 1, every other day, 48 h apart", "### Session 1, every second day, 48 h apart"),
    ("Session 1, daily, morning and evening", "### Session 1, twice a day, every day"),
    ("Session 1, Mon, Wed and Fri: legs", "### Session 1, days 1, 3, 5: legs"),
    ("Session 1, days 1 and 4: legs, 20-30 min", "### Session 1, days 1, 4: legs, 20-30 min"),
    ("Session 2, after the morning run", "### Session 2, after the run"),
    ("Session 2, in the afternoon, same day as the run", "### Session 2, same day as the run, afternoon"),
    ("Session 2, weeks 4-8", "### Session 2, weeks 4-8"),
    ("Session 2, from week 4 on, unsupervised", "### Session 2, from week 4, on your own"),
    ("Session 1, level beginner: ten minutes", "### Session 1, level beginner: ten minutes"),
    ("Session 1, pick one of A or B", "### Session 1, choose one of A, B"),
    ("Session 3, up to 180 foot contacts", "### Session 3, up to 180 contacts"),
)  # fmt: skip
CYCLES = (
    ("Cycle 1, weeks 1-3, 3 sessions a week: base", "## Cycle 1, weeks 1-3, 3 a week: base"),
    ("Cycle 1, from week 3 on: keep", "## Cycle 1, from week 3 on: keep"),
    ("Cycle 1, after week 10: keep", "## Cycle 1, from week 11 on: keep"),
    ("Cycle 1, weeks 3-12 and on, overlapping", "## Cycle 1, weeks 3-12 and on, overlapping"),
    ("Cycle 1, weeks 9-17, repeated until week 52", "## Cycle 1, weeks 9-17, repeat to week 52"),
    ("Cycle 1, sessions 1-4", "## Cycle 1, sessions 1-4"),
    ("Cycle 1, weeks 9-17, starts in week 7-9", "## Cycle 1, weeks 9-17, start in week 7-9"),
    ("Week 4 and on: keep", "## Week 4 and on: keep"),
)  # fmt: skip


@pytest.mark.parametrize(("what", "head", "canonical"), BLOCKS, ids=[row[0] for row in BLOCKS])
def test_one_block_head(what: str, head: str, canonical: str) -> None:
    text = f"### Session 1: x\n\n{head}\n\n- Squat: 8\n"
    tidied, findings = tidy(text, "p.md", SAMPLE)
    assert tidied == f"### Session 1: x\n\n{canonical}\n\n- Squat: 8\n", what
    assert [f for f in findings if f.level != "note"] == []


@pytest.mark.parametrize(("head", "canonical"), [*SESSIONS, *CYCLES], ids=[row[1] for row in (*SESSIONS, *CYCLES)])
def test_one_session_or_cycle_head(head: str, canonical: str) -> None:
    rest = "\n\n### Session 1: x" if head.startswith(("Cycle", "Week")) else ""
    tidied, findings = tidy(f"{head}{rest}\n\nStraight\n\n- Squat: 8\n", "p.md", SAMPLE)
    assert tidied.startswith(canonical + "\n")
    told = {f.code for f in findings if f.level != "note"}
    assert told <= {"weeks-left-out", "never-done", "choice-not-found"}


@pytest.mark.parametrize(("what", "line", "canonical"), STRAIGHT, ids=[row[0] for row in STRAIGHT])
def test_one_line(what: str, line: str, canonical: str) -> None:
    block, codes = block_of(f"Straight\n\n- {line}\n")
    shown = dose_text(block.items[0].dose)
    assert (shown, [c for c in codes if c != "effort-differs"]) == (canonical, []), what
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
