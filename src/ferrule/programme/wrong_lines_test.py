"""Wrong lines as coaches type them, and what they are told; the golden file is what people read."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from ferrule.model.programme import Named
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.text import dose_text

_TOP = "### Session 1: calf, 35 min\n\n"
_PAIR = _TOP + "Pair A, 3 rounds\n\n"

WRONG: tuple[tuple[str, str], ...] = (
    ("a misspelt exercise", _PAIR + "- Stepp-up: 8/side\n"),
    ("an exercise nobody knows, without a colon", _PAIR + "- Fence step 8/side\n"),
    ("a misspelt pattern", _PAIR + "- any hing, one leg: 8/side\n"),
    ("a misspelt field word", _PAIR + "- Step-up: 8/side, tmepo 2-0-1\n"),
    ("a tempo without its word", _PAIR + "- Step-up: 8/side, 2-0-1\n"),
    ("a tempo that is none", _PAIR + "- Step-up: 8/side, tempo 2\n"),
    ("a misspelt unit", _PAIR + "- Plank: 30 secnds\n"),
    ("a rest without a unit", _PAIR + "- Step-up: 8/side, rest 2\n"),
    ("metres for minutes", _PAIR + "- Step-up: 8/side, rest 2 m\n"),
    ("a rest below zero", _PAIR + "- Step-up: 8/side, rest -30 s\n"),
    ("no space after the comma", _PAIR + "- Step-up: 8,2 RIR\n"),
    ("a range that runs backwards", _PAIR + "- Step-up: 8-5/side\n"),
    ("none at all", _PAIR + "- Step-up: 0\n"),
    ("a time that may be a hold or a rest", _PAIR + "- Step-up: 8, 30 s\n"),
    ("two numbers of repetitions", _PAIR + "- Step-up: 8, 10\n"),
    ("a bare sign", _PAIR + "- Step-up: 8 @8\n"),
    ("a percentage of nothing", _PAIR + "- Squat: 5, 85%\n"),
    ("pounds", _PAIR + "- Squat: 5, 26 lb\n"),
    ("a band by its colour", _PAIR + "- Step-up: 8/side, red band\n"),
    ("too much in reserve", _PAIR + "- Step-up: 8/side, 12 RIR\n"),
    ("prose in the line", _PAIR + "- Step-up: 8/side, keep the knee still\n"),
    ("a number as a word", _PAIR + "- Step-up: eight\n"),
    ("sets after the time", _TOP + "Straight\n\n- Plank: 30 s x 3\n"),
    ("sets inside a pair", _PAIR.replace(", 3 rounds", "") + "- Step-up: 3 x 8/side\n"),
    ("sets that differ from the block's", _TOP + "Straight, 3 sets\n\n- Step-up: 4 x 8/side\n"),
    ("rest between inside an item", _PAIR + "- Step-up: 8/side, between 30 s\n"),
    ("fields on a later line", _PAIR + "- Step-up: 8/side\n  tempo 2-0-1\n"),
    ("an item without its dash", _TOP + "Pair A, 3 rounds\nStep-up: 8/side\n"),
    ("an alternative not set in", _PAIR + "- Press-up: 10\n- or Press-up, hands raised: 12\n"),
    ("an alternative without or", _PAIR + "- Press-up: 10\n  - Press-up, hands raised: 12\n"),
    ("coach inside a line", _PAIR + "- Step-up: 8/side, coach: watch R07\n"),
    ("coach misspelt", _PAIR + "- Step-up: 8/side\n\ncoahc: watch R07\n"),
    ("a condition of one's own", _PAIR + "- Step-up: 8/side\n  when the knee stays still: add 5 kg\n"),
    ("a misspelt head", _TOP + "Pair A, 3 ruonds\n\n- Step-up: 8/side\n"),
    ("a head that does not parse", _TOP + "Pair A, as often as you like\n\n- Step-up: 8/side\n"),
    ("a head with no rounds", _TOP + "Pair A, 0 rounds\n\n- Step-up: 8/side\n"),
    ("a heading that is no part", _TOP + "### Upper body\n\nPair A, 3 rounds\n\n- Step-up: 8/side\n"),
    ("a head directly under a list", _PAIR + "- Step-up: 8/side\nPair B, 3 rounds\n- Plank: 30 s\n"),
    ("a list without a head", _TOP + "- Step-up: 3 x 8/side\n"),
    ("a table directly under a list", _PAIR + "- Step-up: 8/side\n| week | 1 |\n|---|---|\n| rounds | 3 |\n"),
    ("a table without its line of dashes", _PAIR + "- Step-up: 8/side\n\n| week | 1 |\n| rounds | 3 |\n"),
    ("a row of the wrong width", _PAIR + "- Step-up: 8/side\n\n| week | 1 |\n|---|---|\n| rounds | 3 | 3 | 4 |\n"),
    ("a week that is not there", _PAIR + "- Step-up: 8/side\n\n| week | 1 | 9 |\n|---|---|---|\n| rounds | 3 | 3 |\n"),
    ("a row of nothing", _PAIR + "- Step-up: 8/side\n\n| week | 1 |\n|---|---|\n| Squat: reps | 2 |\n"),
    ("a field that is none", _PAIR + "- Step-up: 8/side\n\n| week | 1 |\n|---|---|\n| Step-up: mood | 2 |\n"),
    ("a cell that is none", _PAIR + "- Step-up: 8/side\n\n| week | 1 |\n|---|---|\n| rounds | two |\n"),
    ("a line true in no week", _PAIR + "- Step-up: 8/side\n\n| week | 1 |\n|---|---|\n| Step-up: reps | 9 |\n"),
    ("dashes under a line", _TOP + "Pair A, 3 rounds\n---\n\n- Step-up: 8/side\n"),
    ("a quotation", _PAIR + "- Step-up: 8/side\n\n> 90 seconds of rest is fine\n"),
    ("a plus sign", _PAIR + "+ Step-up: 8/side\n"),
    ("four spaces", _PAIR + "    - Step-up: 8/side\n"),
    ("two sessions of one number", _PAIR + "- Squat: 5\n\n### Session 1\n\nStraight, 3 sets\n\n- Squat: 5\n"),
    ("weeks left out", "---\nweeks: 6\n---\n\n## Cycle 1, weeks 1-3\n\n" + _PAIR + "- Squat: 5\n"),
    ("cycles that overlap", "## Cycle 1, weeks 1-3\n\n" + _PAIR + "- Squat: 5\n\n## Cycle 2, weeks 3-4\n\n" + _PAIR + "- Squat: 5\n"),
    ("an allowance without a reason", "<!-- allow minutes -->\n\n" + _PAIR + "- Squat: 5\n"),
    ("a front line that is none", "---\nweeks 6\nprogramme: x\n---\n\n" + _PAIR + "- Squat: 5\n"),
    ("a front value that is none", "---\nweeks: six\n---\n\n" + _PAIR + "- Squat: 5\n"),
    ("a choice of sessions that are not there", _PAIR + "- Squat: 5\n\n### Session 2, choose one of 2A, 2B: hard day\n"),
    ("a session as one that is not there", _PAIR + "- Squat: 5\n\n### Session 2, as session 7\n"),
    ("a session as another one, with exercises of its own", _PAIR + "- Squat: 5\n\n### Session 2, as session 1\n\nStraight\n\n- Squat: 5\n"),
    ("a session outside its cycle", "## Cycle 1, weeks 1-3\n\n" + _PAIR + "- Squat: 5\n\n### Session 2, weeks 7-9\n\nStraight\n\n- Squat: 5\n"),
    ("a line outside its cycle", "## Cycle 1, weeks 1-3\n\n" + _PAIR + "- Squat: 5, from week 8\n"),
    ("a session often, but not how", _TOP.replace(", 35 min", "").replace("1:", "1, 3 per:") + "Pair A, 3 rounds\n\n- Squat: 5\n"),
    ("an alternative name nobody knows", _PAIR + "- Squat or leg pres: 8\n"),
    ("effort both ways that does not go together", _PAIR + "- Squat: 5, RPE 9, 4 RIR\n"),
    ("effort both ways, nearly", _PAIR + "- Squat: 5, RPE 5-6, 5-6 RIR\n"),
    ("a percentage of the heart", _PAIR + "- Squat: 5, 80% max\n"),
    ("a height in inches", _TOP + "Straight\n\n- Drop jump: 5, 12 inch box\n"),
    ("loads that do not say of what", _TOP + "Straight\n\n- Squat: sets 5, 5, 5, loads 40, 45, 50\n"),
    ("a step that does not say of what", _PAIR + "- Squat: 8, 10 kg, add 5 a week\n"),
    ("two amounts", _PAIR + "- Skip, low: 8, 20 m\n"),
    ("stations without a unit", _TOP + "Circuit, 4 rounds, 40 on, 20 off\n\n- Squat\n"),
    ("a row for every item without `all`", _PAIR + "- Squat: 5\n- Plank: 30 s\n\n| week | 1 |\n|---|---|\n| RM | 5 |\n"),
    ("a condition with a step nobody can take", _PAIR + "- Squat: 5\n  when 5 reps: add 2.5\n"),
    ("cycles that overlap on purpose", "## Cycle 1, weeks 1-3\n\n" + _PAIR + "- Squat: 5\n\n## Cycle 2, weeks 3-4, overlapping\n\n" + _PAIR + "- Squat: 5\n"),
    ("a tempo and seconds of a phase", _PAIR + "- Squat: 8, tempo 3-0-1, 3 s down\n"),
    ("a percentage of the most, a side", _PAIR + "- Step-up: 8/side, 80% max\n"),
    ("a load for each set of one number", _TOP + "Straight\n\n- Squat: 3 x 8, loads 40, 45, 50\n"),
    ("a height in inches beside sides", _PAIR + "- Step-up: 8/side, 12 inch box\n"),
    ("a tempo without its hyphens", _PAIR + "- Squat: 8, 3010\n"),
    ("sets that differ", _TOP + "Straight\n\n- Squat: 1x20, 2x15\n"),
    ("a number for each set without its word", _TOP + "Straight\n\n- Squat: 12/10/8\n"),
    ("sets as a word", _TOP + "Straight\n\n- Squat: three sets of ten\n"),
    ("rounds as a word", _TOP + "Superset A, three rounds\n\n- Squat: 8\n- Plank: 30 s\n"),
    ("labels of items in the head", _TOP + "Superset A1/A2, 3 rounds\n\n- Squat: 8\n- Plank: 30 s\n"),
    ("the dose before the name", _TOP + "Straight\n\n- 3x8 Step-up, 2 RIR\n"),
    ("a bullet of a word processor", _TOP + "Pair A, 3 rounds\n\n• Squat: 8\n• Plank: 30 s\n"),
    ("labels without a dash", _TOP + "Pair A, 3 rounds\n\nA1. Squat: 8\nA2. Plank: 30 s\n"),
    ("a tab before the dash", _TOP + "Pair A, 3 rounds\n\n\t- Squat: 8\n"),
    ("a rest as an item", _PAIR + "- Squat: 8\n- Rest: 60 s\n"),
    ("a rest on a line of its own", _PAIR + "- Squat: 8\n\nRest: 60\n"),
    ("a superset as an item", _TOP + "Straight\n\n- Superset: Squat + Plank\n"),
    ("rounds without a head", _TOP + "3 rounds of:\n\n- Squat: 8\n- Plank: 30 s\n"),
    ("a head in another word, below a block", _PAIR + "- Squat: 8\n\nTri-set B, 3 rounds\n\n- Plank: 30 s\n"),
    ("every minute, in capitals", _TOP + "EMOM 10\n\n- Squat: 8\n"),
    ("stations as a ratio", _TOP + "Circuit, 40/20, 3 rounds\n\n- Squat\n- Plank\n"),
    ("a time in a head that does not say what it is", _TOP + "Pair A, 3 rounds, 90s\n\n- Squat: 8\n"),
    ("a rest as needed", _TOP + "Pair A, 3 rounds, rest as needed\n\n- Squat: 8\n"),
    ("yards", _TOP + "Straight\n\n- Carry: 20 yards\n"),
    ("counts", _PAIR + "- Squat: 8, 3 count hold\n"),
    ("until tired", _PAIR + "- Squat: to fatigue\n"),
    ("a band of no thickness", _PAIR + "- Squat: 8, mini band\n"),
    ("growth that does not say how much", _PAIR + "- Squat: 8, progress weekly\n"),
    ("two numbers with a stroke", _PAIR + "- Split squat: 8 / 8\n"),
    ("a point for a comma", _PAIR + "- Squat: 8.2 RIR\n"),
    ("a range of a bare sign", _PAIR + "- Squat: 8 @7-8\n"),
    ("an emoji", _PAIR + "- Squat: 8 💪\n"),
    ("a rest after the fields, unsaid", _PAIR + "- Squat: 8, 2 RIR, 60s\n"),
    ("a block named with a number", _TOP + "Straight, 3 sets: Sprints 30 m\n\n- Squat: 5\n"),
    ("values week by week in the line", _PAIR.replace(", 3 rounds", "") + "- Squat: 15RM in week 1, 12RM weeks 2-3, 10RM weeks 4-6, rest 2 min\n"),
    ("values week by week, the week first", _TOP + "Straight\n\n- Squat: wk 1 3x8, wk 2 3x10, wk 3 4x10\n"),
    ("front matter without its fence", "weeks: 3\nsessions: 2 a week\n\n## Cycle 1, weeks 1-3\n\n" + _PAIR + "- Squat: 5\n"),
    ("a rule as a note", "## Cycle 1, weeks 1-3\n\n" + _PAIR + "- Squat: 5\n\nDeload in week 3: halve the sets\n"),
    ("a session as another one, in words", _PAIR + "- Squat: 5\n\n### Session 2\n\nsame as session 1 but 5 rounds\n"),
    ("a cycle as another one, with a table", "## Cycle 1, weeks 1-2\n\n" + _PAIR + "- Squat: 5\n\n## Cycle 2, weeks 3-4\n\nAs cycle 1, but:\n\n| week | 3 | 4 |\n|---|---|---|\n| rounds | 3 | 4 |\n"),
    ("labels of two exercises for a head", _PAIR + "- Squat: 8\n\n1a/1b x 3, 60s rest\n\n- Plank: 30 s\n- Press-up: 8\n"),
    ("a finisher against the clock", _PAIR + "- Squat: 8\n\nFinisher, 6 min AMRAP\n\n- Plank: 30 s\n- Press-up: 8\n"),
    ("twenty seconds on and ten off", _PAIR + "- Squat: 8\n\nTabata\n\n- Press-up\n"),
    ("a head in other words, in part", _PAIR + "- Squat: 8\n\n3 rounds for time\n\n- Plank: 30 s\n- Press-up: 8\n"),
    ("a sentence between two lists", _PAIR + "- Squat: 8\n\nDo these barefoot.\n\n- Plank: 30 s\n- Press-up: 8\n"),
    ("a list of words after a block", _PAIR + "- Squat: 8\n\nFor the week\n\n- keep it neat\n- sleep\n"),
)  # fmt: skip


def test_each_wrong_line_is_told_where_it_stands(golden: Callable[[str, str], None]) -> None:
    parts = []
    for title, text in WRONG:
        _, findings = read_programme(text, "programme.md", SAMPLE)
        assert findings, title
        lines = text.split("\n")
        shown = [f"== {title}"]
        for f in findings:
            assert f.span is not None
            line = lines[f.span.line - 1]
            width = max(1, (f.span.end_column or len(line) + 1) - f.span.column)
            shown += [
                f"{f.level}[{f.code}] {f.span}",
                f"    {line}",
                "    " + " " * (f.span.column - 1) + "^" * width,
                f"    what  {f.what}",
                f"    why   {f.why}",
                f"    fix   {f.fix}",
            ]
        parts.append("\n".join(shown))
    golden("notation/wrong_lines.txt", "\n\n".join(parts) + "\n")


def test_a_slip_is_told_once() -> None:
    """One finding for one slip, under the words it is about."""
    for title, text in WRONG:
        findings = read_programme(text, "programme.md", SAMPLE)[1]
        assert [f.code for f in findings][1:] == [], title
        assert "docs/notation.md" not in findings[0].fix or title == "prose in the line", (title, findings[0].fix)


READ = (
    ("3x8-10", "3 x 8-10"), ("3 by 8", "3 x 8"), ("3 × 8", "3 x 8"), ("3*8", "3 x 8"), ("8ea", "8/side"), ("10 per leg", "10/side"),
    ("8 reps e/s", "8/side"), ("8 e.s.", "8/side"), ("8 p/s", "8/side"), ("8ps", "8/side"), ("8 L/R", "8/side"), ("8\\side", "8/side"),
    ("8 on each", "8/side"), ("8 B/S", "8/side"), ("AMRAP", "max"), ("x8", "8"), ("8 @RPE8", "8, RPE 8"), ("8, RPE 7/10", "8, RPE 7"),
    ("8, effort 7/10", "8, RPE 7"), ("8, 7/10 effort", "8, RPE 7"), ("hold 60sec", "60 s"), ("8, 2mins rest", "8, rest 2 min"),
    ("8, rest 1'30", "8, rest 90 s"), ("8, rest 1m30s", "8, rest 90 s"), ("30”", "30 s"), ("8, BW", "8, no weight"),
    ("8, bodyweight only", "8, no weight"), ("8, body-weight", "8, no weight"), ("8, w/o weight", "8, no weight"), ("8, w/ 12kg", "8, 12 kg"),
    ("8, 15kgs", "8, 15 kg"), ("8, 12kg DB", "8, 12 kg, with dumbbells"), ("8, KB 16kg", "8, 16 kg, with kettlebell"),
    ("8, each hand 12kg", "8, 12 kg each hand"), ("30-45secs hold", "30-45 s"), ("8 till failure", "8, to failure"),
    ("until failure", "max"), ("8, leave 2 in tank", "8, 2 RIR"), ("8, 2 reps shy of failure", "8, 2 RIR"), ("8, stop 2 short", "8, 2 RIR"),
    ("8, 3s ecc", "8, 3 s down"), ("8 cadence 3-0-1", "8, tempo 3-0-1"), ("8, medium miniband", "8, medium band"),
    ("8, 1RM 80%", "8, 80 % 1RM"), ("8, slow", "8, slow"),
    ("8, lower in 4 s", "8, 4 s down"), ("8, down 3 s, up 1 s", "8, tempo 3-0-1"), ("5 from 30 cm", "5, 30 cm"),
    ("2 x 40 m, 2 x 12 kg", "2 x 40 m, 12 kg each hand"), ("3 x 8 x 60 kg", "3 x 8, 60 kg"), ("2 x 10 steps each way", "2 x 10/side"),
    ("8 ea leg", "8/side"), ("8, rest 3'", "8, rest 3 min"), ("AMRAP, stop 2 short of failure", "max, 2 RIR"),
)  # fmt: skip


@pytest.mark.parametrize(("typed", "meant"), READ, ids=[t for t, _ in READ])
def test_other_spellings_are_read_as_the_coach_meant(typed: str, meant: str) -> None:
    programme, findings = read_programme(f"{_TOP}Straight\n\n- Squat: {typed}\n", "programme.md", SAMPLE)
    assert [f for f in findings if f.level != "note"] == []
    assert dose_text(programme.cycles[0].sessions[0].blocks[0].items[0].dose) == meant


@pytest.mark.parametrize(
    "line",
    ["• Squat: 8", "– Squat: 8", "-Squat: 8", "▪ Squat: 8", "→ Squat: 8", "o Squat: 8", "A1. Squat: 8", "A1 Squat 8", "- [x] Squat: 8",
     "- “Squat”: 8", "- Squat = 8", "- Squat – 8", "- Squat; 8", "-\tSquat: 8", "1) Squat: 8", "- A1) Squat 8", "- SQUATS: 8", "- 8 squats"],
)  # fmt: skip
def test_an_item_is_found_whatever_stands_before_or_after_its_name(line: str) -> None:
    programme, findings = read_programme(f"{_TOP}Straight\n\n{line}\n", "programme.md", SAMPLE)
    (item,) = programme.cycles[0].sessions[0].blocks[0].items
    assert isinstance(item.exercise, Named)
    assert item.exercise.variant_id == "squat"
    assert dose_text(item.dose) == "8"
    assert len([f for f in findings if f.level != "note"]) <= 1


def test_a_list_below_another_word_for_a_head_is_no_part_of_the_block_above() -> None:
    for line in ("Tri-set B, 3 rounds", "3 rounds of:", "Finisher", "EMOM 10", "AMRAP, 12 min", "Block B"):
        programme, _ = read_programme(f"{_PAIR}- Squat: 8\n\n{line}\n\n- Plank: 30 s\n", "programme.md", SAMPLE)
        blocks = programme.cycles[0].sessions[0].blocks
        assert [len(b.items) for b in blocks] == [1, 1], line


def test_a_slip_never_makes_an_exercise_vanish() -> None:
    for title, text in WRONG:
        programme, _ = read_programme(text, "programme.md", SAMPLE)
        items = [i for c in programme.cycles for s in c.sessions for b in s.blocks for i in b.items]
        assert items, title
        assert all(isinstance(i.exercise, Named) and i.exercise.text for i in items), title


def test_every_finding_says_what_why_and_what_to_do() -> None:
    for title, text in WRONG:
        for f in read_programme(text, "programme.md", SAMPLE)[1]:
            assert f.what.endswith((".", "?")), (title, f.what)
            assert f.why.endswith("."), (title, f.why)
            assert f.fix.endswith("."), (title, f.fix)
