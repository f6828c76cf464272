"""Lines that give a value for each week: one finding, the first value, and the table they stand for."""

from __future__ import annotations

import re

import pytest

from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.text import dose_text

_TOP = "## Cycle 1, weeks 1-6\n\n### Session 1\n\nStraight\n\n- Squat: "


@pytest.mark.parametrize(
    ("line", "kept", "row"),
    [
        ("15RM in week 1, 12RM weeks 2-3, 10RM weeks 4-6; rest 2-3 min", "15RM, rest 2-3 min", "| Squat: RM | 15 | 12 | 10 |"),
        ("3x8 week 1, 3x10 week 2, 4x8 weeks 3-6", "3 x 8", "| Squat: sets | 3 | 3 | 4 |"),
        ("week 1: 3x8, week 2: 3x10, week 3-6: 4x10", "3 x 8", "| Squat: reps | 8 | 10 | 10 |"),
        ("3 x 8 (w1-2), 10 (w3-6), 2 RIR", "3 x 8, 2 RIR", "| Squat: reps | 8 | 10 |"),
        ("8, 20 kg week 1, 25 kg weeks 2-6", "8, 20 kg", "| Squat: load | 20 kg | 25 kg |"),
    ],
)  # fmt: skip
def test_values_by_week_are_one_finding_with_their_table(line: str, kept: str, row: str) -> None:
    programme, findings = read_programme(f"{_TOP}{line}\n", "p.md", SAMPLE)
    (told,) = (f for f in findings if f.level != "note")
    assert told.code == "values-by-week"
    assert f"`{row}`" in told.fix
    (item,) = programme.cycles[0].sessions[0].blocks[0].items
    assert dose_text(item.dose) == kept
    assert item.weeks is None


def test_the_table_of_the_fix_is_read_and_says_the_same() -> None:
    _, findings = read_programme(f"{_TOP}15RM week 1, 12RM weeks 2-3, 10RM weeks 4-6\n", "p.md", SAMPLE)
    rows = re.findall(r"`(\|.*?\|)`", findings[0].fix)
    programme, told = read_programme(f"{_TOP}15RM\n\n" + "\n".join(rows) + "\n", "p.md", SAMPLE)
    assert [f.code for f in told if f.level == "error"] == []
    table = programme.cycles[0].sessions[0].blocks[0].table
    assert table is not None
    assert [str(c.dose.rm) for c in table.rows[0].cells if c and c.dose] == ["15", "12", "12", "10", "10", "10"]


@pytest.mark.parametrize("line", ["8, from week 2, to week 4", "8, weeks 2-4", "8, add 5 kg a week", "8, from week 3"])
def test_weeks_of_a_line_are_no_values(line: str) -> None:
    _, findings = read_programme(f"{_TOP}{line}\n", "p.md", SAMPLE)
    assert "values-by-week" not in [f.code for f in findings]
