"""Sets a week for each muscle of a programme."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from ferrule.cli.main import main

TEXT = """---
programme: P
weeks: 3
---

## Cycle 1, weeks 1-3: C

### Session 1, 30 min

Warm-up, 1 round

- Heel raise, two legs: 8

Straight, 3 sets, rest 60 s

- Squat: 8
- Ankle rock: 8/side
- Press-up: 8
- any hinge, one leg: 8/side

| week | 1 | 2 | 3 |
|------|---|---|---|
| sets | 3 |   | 4 |
"""


@pytest.fixture
def programme(tmp_path: Path) -> Path:
    path = tmp_path / "programme.md"
    path.write_text(TEXT, encoding="utf-8")
    return path


def test_sets_are_whole_where_a_muscle_works_and_half_where_it_helps(
    programme: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Three sets of squats and of press-ups: by hand from the muscles that both name."""
    assert main(["library", "--muscles", str(programme), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    first, second, third = (w["sets"] for w in data["weeks"])
    assert first == second
    assert (first["quadriceps femoris"], first["pectoralis major"]) == (3, 3)
    assert first["adductor magnus"] == 1.5
    assert third["quadriceps femoris"] == 4
    assert "gastrocnemius" not in first, "the warm-up is not counted"
    assert data["left_out"] == ["session 1: any hinge, one leg"]


def test_the_table_has_a_column_for_weeks_that_are_alike(programme: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library", "--muscles", str(programme.parent)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[2].split() == ["week", "1-2", "3"]
    assert next(x for x in lines if x.startswith("quadriceps")).split()[-2:] == ["3", "4"]
    none = " ".join(" ".join(lines).partition("In no week:")[2].split())
    assert "gastrocnemius (upper calf)" in none
    assert "quadriceps" not in none


def test_a_programme_without_a_week_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "p.md"
    path.write_text("# nothing\n", encoding="utf-8")
    assert main(["library", "--muscles", str(path)]) == 1
    said = capsys.readouterr()
    assert "programme-empty" in said.err
    assert main(["library", "--muscles", str(tmp_path / "none.md")]) == 2
    assert main(["library", "squat", "--muscles", str(path)]) == 2
