"""What heads and lines say once, as it stands in one week."""

from __future__ import annotations

from ferrule.model.programme import ProgrammeWeek, Session
from ferrule.model.quantity import Load, Range, Tempo
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.text import item_text
from ferrule.programme.weeks import week_of


def week(text: str, number: int) -> ProgrammeWeek:
    found = week_of(read_programme(text, "p.md", SAMPLE)[0], number)
    assert found is not None
    return found


def lines(session: Session) -> list[str]:
    return [item_text(i) for b in session.blocks for i in b.items]


HEAD = "## Cycle 1, weeks 1-8\n\n"
ONE = "### Session 1\n\nStraight, 3 sets\n\n"


def test_a_load_grows_by_the_week_to_its_end() -> None:
    text = HEAD + ONE + "- Squat: 15, no weight, add 5 kg a week, to 20 kg\n- Plank: 30 s, add 5 s a week\n"
    loads = [week(text, n).sessions[0].blocks[0].items[0].dose.load for n in range(1, 9)]
    assert loads == [Load(none=True), *[Load(kg=Range.of(kg)) for kg in (5, 10, 15, 20, 20, 20, 20)]]
    assert lines(week(text, 3).sessions[0])[1] == "Plank: 30 s, add 5 s a week"


def test_a_cell_goes_before_what_has_grown() -> None:
    table = "\n| week | 3 |\n|---|---|\n| Squat: load | 4 kg |\n"
    text = HEAD + ONE + "- Squat: 15, 10 kg, add 5 kg a week\n" + table
    assert [lines(week(text, n).sessions[0])[0] for n in (2, 3, 4)] == [
        "Squat: 15, 15 kg",
        "Squat: 15, 4 kg",
        "Squat: 15, 25 kg",
    ]


def test_lines_and_sessions_stand_only_in_their_weeks() -> None:
    text = HEAD + ONE + "- Squat: 5\n- Plank: 30 s, from week 5\n\n### Session 2, weeks 2-3, as session 1\n"
    assert [len(week(text, n).sessions) for n in (1, 2, 3, 4)] == [1, 2, 2, 1]
    assert [len(lines(week(text, n).sessions[0])) for n in (4, 5)] == [1, 2]
    assert lines(week(text, 2).sessions[1]) == ["Squat: 5"]


def test_a_tempo_of_the_block_is_that_of_its_items_and_their_own_goes_before() -> None:
    text = (
        HEAD
        + "### Session 1\n\nCircuit, 3 rounds, tempo 2-0-2\n\n- Squat: 8\n- Press-up: 8, tempo 3-0-1\n  - or Plank: 30 s\n"
    )
    items = week(text, 1).sessions[0].blocks[0].items
    assert [i.dose.tempo for i in items] == [Tempo(2, 0, 2), Tempo(3, 0, 1)]


def test_stations_give_their_time_to_items_that_count_nothing() -> None:
    text = (
        HEAD
        + "### Session 1\n\nCircuit, 4 rounds, 40 s on, 20 s off, at least 80 % HRmax\n\n- Squat: max\n- Plank\n- Dead bug: 8\n"
    )
    block = week(text, 1).sessions[0].blocks[0]
    assert [i.dose.work_s for i in block.items] == [Range.of(40), Range.of(40), None]
    assert block.between_s == Range.of(20)
    assert all("at least 80 % HRmax" in i.dose.unfitted for i in block.items)


def test_a_row_for_every_item() -> None:
    table = "\n| week | 2 | 3 |\n|---|---|---|\n| all: reps | 6 | |\n| all: RM | 6 | 5 |\n"
    text = HEAD + ONE + "- Squat: 8, 8RM\n- Step-up: 8/side, 8RM\n" + table
    assert lines(week(text, 2).sessions[0]) == ["Squat: 6, 6RM", "Step-up: 6/side, 6RM"]
    assert lines(week(text, 3).sessions[0]) == ["Squat: 8, 5RM", "Step-up: 8/side, 5RM"]


def test_weeks_that_begin_again() -> None:
    table = "\n| week | 2 | 3 |\n|---|---|---|\n| sets | 4 | - |\n"
    text = "---\nweeks: 8\n---\n\n## Cycle 1, weeks 1-3, repeat to week 8\n\n" + ONE + "- Squat: 8\n" + table
    sets = [[str(b.sets) for b in week(text, n).sessions[0].blocks] for n in range(1, 9)]
    assert sets == [["3"], ["4"], [], ["3"], ["4"], [], ["3"], ["4"]]
    assert [week(text, n).cycle_week for n in (3, 4, 8)] == [3, 1, 2]


def test_an_open_end_goes_on() -> None:
    text = (
        "---\nweeks: 2\n---\n\n## Cycle 1, weeks 1-2\n\n"
        + ONE
        + "- Squat: 8\n\n## Cycle 2, after week 2: keep\n\n"
        + ONE
        + "- Squat: 5\n"
    )
    read, findings = read_programme(text, "p.md", SAMPLE)
    assert findings == ()
    assert [w.cycle_key if (w := week_of(read, n)) else "" for n in (1, 2, 3, 30)] == ["1", "1", "2", "2"]


def test_one_of_several_sessions_and_one_of_several_levels() -> None:
    text = (
        HEAD
        + "### Session 1, choose one of A, B: hard day\n\n### Session A: circuit\n\nStraight\n\n- Squat: 5\n\n### Session B: mixed\n\n"
        "Straight\n\n- Plank: 30 s\n\n### Session 2, level beginner\n\nStraight\n\n- Step-up: 5\n\n### Session 2, level advanced\n\n"
        "Straight\n\n- Step-up: 9\n"
    )
    first, second = week(text, 1).sessions
    assert (first.key, first.name, lines(first)) == ("1", "hard day: circuit", ["Squat: 5"])
    assert "Or one of these instead: B mixed." in first.notes
    assert (second.key, lines(second)) == ("2 beginner", ["Step-up: 5"])
    assert any("level advanced" in n for n in second.notes)


def test_a_cycle_counted_in_sessions_may_end_within_a_week() -> None:
    part = "### Session 1\n\nStraight\n\n- Squat: {}\n\n"
    text = (
        "---\nsessions: 3 a week\n---\n\n## Cycle 1, sessions 1-4\n\n"
        + part.format(5)
        + "## Cycle 2, sessions 5-8\n\n"
        + part.format(8)
    )
    told = [[(s.times_a_week, lines(s)) for s in week(text, n).sessions] for n in (1, 2, 3)]
    assert told == [
        [(Range.of(3), ["Squat: 5"])],
        [(Range.of(1), ["Squat: 5"]), (Range.of(2), ["Squat: 8"])],
        [(Range.of(2), ["Squat: 8"])],
    ]


def test_a_warm_up_in_words_is_for_the_runner() -> None:
    text = HEAD + "### Session 1\n\nWarm-up, 10 min: Easy jog\n\nStraight\n\n- Squat: 5\n"
    session = week(text, 1).sessions[0]
    assert [b.kind for b in session.blocks] == ["straight"]
    assert session.notes == ("Warm-up, 10 min: Easy jog",)


def test_every_version_of_a_session_is_there_for_the_coach() -> None:
    text = (
        "### Session 1, level beginner: a\n\nStraight\n\n- Squat: 8\n\n### Session 1, level advanced: a\n\nStraight\n\n- Squat: 5\n\n"
        "### Session 2, choose one of 2A, 2B: b\n\n### Session 2A: c\n\nStraight\n\n- Plank: 30 s\n\n### Session 2B: d\n\nStraight\n\n- Squat: 6\n"
    )
    programme, _ = read_programme(text, "p.md", SAMPLE)
    whole, first = week_of(programme, 1, every_version=True), week_of(programme, 1)
    assert whole is not None
    assert first is not None
    assert [s.key for s in whole.sessions] == ["1 beginner", "1 advanced", "2", "2A", "2B"]
    assert "choose one of 2A, 2B" in whole.sessions[2].notes
    assert len(first.sessions) == 2
