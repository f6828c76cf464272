"""How lines are counted: hard sets, halves, contacts, recovery, easier weeks."""

from __future__ import annotations

import pytest

from ferrule.check.course import Course, lay_out, minutes_of, recoveries
from ferrule.check.minutes import written_minutes
from ferrule.library.reader import load_library
from ferrule.model.finding import has_errors
from ferrule.model.house import House
from ferrule.programme.reader import read_programme

HEAD = "## Cycle 1, weeks 1-{weeks}: Try\n\n### Session 1: legs, 60 min\n\n"
NEARLY = 0.01


def _course(body: str, weeks: int = 1) -> Course:
    return _laid_out(HEAD.format(weeks=weeks) + body)


def _laid_out(text: str) -> Course:
    library, _ = load_library({})
    programme, findings = read_programme(text, "p.md", library)
    assert not has_errors(findings)
    return lay_out(programme, library, House())


def test_a_warm_up_and_a_large_reserve_are_no_hard_sets() -> None:
    course = _course(
        "Warm-up, 1 round\n\n- Squat: 8\n\nStraight, 3 sets, rest 60 s\n\n- Squat: 8, 5 RIR\n- Step-up: 8/side\n"
    )
    assert [line.hard for line in course.lines] == [False, False, True]
    assert course.area_sets[1]["knee and hip"] == 3


def test_indirect_sets_count_half() -> None:
    """A bent-knee heel raise on one leg asks the thigh more than half of a squat: half a set each (Pelland 2024)."""
    course = _course("Straight, 4 sets, rest 60 s\n\n- Heel raise, knee bent, one leg: 10/side\n")
    assert course.area_sets[1]["calf"] == 4
    assert course.area_sets[1]["knee and hip"] == 2


def test_an_open_slot_counts_for_its_pattern() -> None:
    (line,) = _course("Straight, 3 sets, rest 60 s\n\n- any hinge, one leg: 8/side\n").lines
    assert (line.group, line.area, line.one_leg, line.name) == ("hinge", "back of the leg", True, "any hinge, one leg")


@pytest.mark.parametrize(
    ("item", "contacts"),
    [
        ("Skip, low: 20 contacts", 40),
        ("Hop forward and hold: 4/side", 16),
        ("Hop on the spot: 10 contacts/side", 40),
        ("Squat: 8", 0),
    ],
)
def test_contacts_of_two_rounds(item: str, contacts: float) -> None:
    (line,) = _course(f"Straight, 2 sets, rest 60 s\n\n- {item}\n").lines
    assert line.contacts == contacts


def test_recovery_counts_the_partner() -> None:
    # after the squats: 10 s to the plank, 30 s of it, 60 s rest; after the plank: 60 s, 8 squats of 3 s, 10 s
    course = _course("Pair A, 3 rounds, rest 45-60 s, between 10 s\n\n- Squat: 8\n- Front plank: 30 s\n")
    recovery = {line.name: seconds for line, seconds in recoveries(course.lines)}
    assert recovery["Squat"] == pytest.approx(100, abs=NEARLY)
    assert recovery["Front plank"] == pytest.approx(94, abs=NEARLY)
    ((_, alone),) = recoveries(_course("Straight, 3 sets\n\n- Squat: 8\n").lines)
    assert alone is None


def test_straight_sets_recover_by_their_own_rest_and_clocks_are_not_asked() -> None:
    lines = _course("Straight, 3 sets, rest 75-90 s\n\n- Squat: 8\n- Press-up: 8, rest 60 s\n").lines
    assert [seconds for _, seconds in recoveries(lines)] == [90, 60]


def test_minutes_of_the_lines_are_the_written_minutes() -> None:
    course = _course(
        "Warm-up, 1 round\n\n- Ankle rock: 8/side\n\nPair A, 3 rounds, rest 45-60 s, between 10 s\n\n- Squat: 8\n"
        "- Front plank: 30 s\n\nStraight, 3 sets, rest 60 s\n\n- Step-up: 8/side, rest 90 s\n- Squat: sets 8, 6\n"
    )
    for _, session, lines in course.sessions():
        assert minutes_of(lines) == pytest.approx(written_minutes(session, course.library))


def test_a_session_done_three_times_counts_three_times() -> None:
    text = "---\nsessions: 3 a week\n---\n\n## Cycle 1, weeks 1-1: Try\n\n### Session 1: legs, 30 min\n\n"
    course = _laid_out(text + "Straight, 2 sets, rest 60 s\n\n- Squat: 8\n")
    assert course.often == {(1, "1"): 3}
    assert course.hard_sets == {1: 6}
    assert course.area_sets[1]["knee and hip"] == 6


def test_a_week_with_a_fifth_fewer_sets_is_easier() -> None:
    table = "| week | 1 | 2 | 3 | 4 |\n|---|---|---|---|---|\n| sets | | | 4 | 5 |\n"
    course = _course(f"Straight, 5 sets, rest 60 s\n\n- Squat: 8\n\n{table}", weeks=4)
    assert course.easier_weeks == {3}


def test_by_week_tables_are_applied_and_left_out_lines_are_gone() -> None:
    table = "| week | 1 | 2 |\n|---|---|---|\n| Squat | | - |\n| sets | | 4 |\n"
    course = _course(f"Straight, 3 sets, rest 60 s\n\n- Squat: 8\n- Step-up: 8/side\n\n{table}", weeks=2)
    assert [(line.week, line.name, line.sets) for line in course.lines] == [
        (1, "Squat", 3),
        (1, "Step-up", 3),
        (2, "Step-up", 4),
    ]
