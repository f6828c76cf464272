"""Words that lean on what stands elsewhere or later are told, and nothing is taken over in silence."""

from __future__ import annotations

import pytest

from ferrule.programme.programme_text import programme_text
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.tidy import tidy

_ONE = "## Cycle 1, weeks 1-3\n\n### Session B\n\nStraight\n\n- Squat: 3 x 8\n\n"


def _told(text: str) -> list[tuple[str, str]]:
    return [(f.code, f.fix) for f in read_programme(text, "p.md", SAMPLE)[1] if f.level != "note"]


@pytest.mark.parametrize(
    "note",
    ["Deload in week 6: halve the sets", "Week 3: halve the sets", "Add 2.5 kg each week", "Weeks 2-3 do 4 sets", "Every week add a rep",
     "Taper: half the sets in week 3"],
)  # fmt: skip
def test_a_note_like_a_rule_is_told(note: str) -> None:
    assert [c for c, _ in _told(f"{_ONE}{note}\n")] == ["note-like-a-rule"]
    programme, _ = read_programme(f"{_ONE}{note}\n", "p.md", SAMPLE)
    assert len(programme.cycles) == 1
    assert programme.cycles[0].sessions[0].blocks[0].notes == (note,)


@pytest.mark.parametrize(
    "note",
    [
        "Keep an easy day after it.",
        "Light shoes.",
        "Add salt to the soup.",
        "Each side counts.",
        "if pain above 3: stop",
    ],
)
def test_other_notes_are_left_in_peace(note: str) -> None:
    assert _told(f"{_ONE}{note}\n") == []


def test_a_session_that_says_it_is_as_another_is_told_how_to_write_it() -> None:
    text = f"{_ONE}## Cycle 2, weeks 4-6\n\n### Session B\n\nsame as Session B of cycle 1 but 5 rounds\n"
    ((code, fix),) = _told(text)
    assert code == "session-empty"
    assert "`### Session B, as session B of cycle 1`" in fix
    programme, findings = read_programme(
        f"{_ONE}## Cycle 2, weeks 4-6\n\n### Session B, as session B of cycle 1\n", "p.md", SAMPLE
    )
    assert findings == ()
    assert programme.cycles[1].sessions[0].blocks == programme.cycles[0].sessions[0].blocks


def test_a_cycle_named_by_its_weeks_can_be_leant_on() -> None:
    text = _ONE.replace("Cycle 1, weeks", "Weeks") + "## Weeks 4-6\n\n### Session B, as session B of weeks 1-3\n"
    programme, findings = read_programme(text, "p.md", SAMPLE)
    assert findings == ()
    assert programme.cycles[1].sessions[0].blocks == programme.cycles[0].sessions[0].blocks
    assert tidy(text, "p.md", SAMPLE)[0] == text == programme_text(programme)


def test_a_table_in_a_cycle_without_sessions_says_what_is_missing() -> None:
    text = f"{_ONE}## Cycle 2, weeks 4-5\n\nAs cycle 1, but:\n\n| week | 4 | 5 |\n|---|---|---|\n| sets | 3 | 4 |\n"
    ((code, fix),) = _told(text)
    assert code == "table-outside-block"
    assert "`### Session 1, as session 1 of cycle 1`" in fix


def test_a_cycle_that_is_as_another_is_told() -> None:
    assert [c for c, _ in _told(f"{_ONE}## Cycle 2, weeks 4-5\n\nSame as cycle 1\n")] == ["cycle-empty"]


def test_front_matter_without_its_fence_is_read_and_told_once() -> None:
    text = f"# Hills\n\nFor the club.\n\nweeks: 3\nsessions: 2 a week\n\n{_ONE}"
    programme, findings = read_programme(text, "p.md", SAMPLE)
    assert [f.code for f in findings] == ["front-not-fenced"]
    assert (programme.title, programme.weeks, str(programme.sessions_per_week)) == ("Hills", 3, "2")
    assert programme.notes == ("For the club.",)
    canonical = tidy(text, "p.md", SAMPLE)[0]
    assert canonical.startswith("---\nweeks: 3\nsessions: 2 a week\n---\n\n# Hills\n\nFor the club.\n")
    again, told = read_programme(canonical, "p.md", SAMPLE)
    assert told == ()
    assert (again.title, again.weeks, again.notes) == (programme.title, 3, programme.notes)


def test_keys_further_down_are_no_front_matter() -> None:
    text = f"{_ONE}weeks: 3\n"
    assert read_programme(text, "p.md", SAMPLE)[0].front == ()


def test_lines_with_the_dose_first_are_items_before_any_block() -> None:
    programme, findings = read_programme(
        "### Session 1\n\n3 x 15 squat\n3x10 Press-up\n\n- Step-up: 8\n", "p.md", SAMPLE
    )
    items = [i for b in programme.cycles[0].sessions[0].blocks for i in b.items]
    assert len(items) == 3
    assert "item-without-dash" in [f.code for f in findings]
