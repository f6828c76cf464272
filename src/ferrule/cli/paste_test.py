from __future__ import annotations

import json
from pathlib import Path

import pytest

from ferrule.cli.main import main

NOTE = "Day 1 – legs (30 mins)\n• Squat 3 × 10\n• Step up 3x8 each leg\nKeep it smooth\n"


@pytest.fixture
def note(tmp_path: Path) -> Path:
    path = tmp_path / "old.txt"
    path.write_text(NOTE, encoding="utf-8")
    return path


def test_it_is_shown_with_what_was_noticed(note: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["paste", str(note)]) == 0
    said = capsys.readouterr()
    assert said.out.startswith("### Session 1: legs, 30 min\n\nStraight\n\n- Squat: 3 x 10\n- Step up: 3 x 8/side\n")
    assert "Keep it smooth" in said.out
    assert f"{note}:4:1" in said.err


def test_it_is_written_once_and_never_over_a_file(note: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = note.with_name("programme.md")
    assert main(["paste", str(note), "--write", str(out)]) == 0
    written = out.read_text(encoding="utf-8")
    assert "- Squat: 3 x 10\n" in written
    assert main(["paste", str(note), "--write", str(out)]) == 2
    assert "exists already" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == written
    assert note.read_text(encoding="utf-8") == NOTE


def test_json_says_what_became_of_every_line(note: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["paste", str(note), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert [(p["line"], p["became"]) for p in data["lines"]] == [(1, "session"), (2, "item"), (3, "item"), (4, "kept")]
    assert {f["line"] for f in data["findings"]} >= {1, 4}


def test_an_unknown_exercise_is_an_error(note: Path, capsys: pytest.CaptureFixture[str]) -> None:
    note.write_text(NOTE + "• Wobble thing 3x10\n", encoding="utf-8")
    assert main(["paste", str(note)]) == 1
    said = capsys.readouterr()
    assert "- Wobble thing: 3 x 10\n" in said.out
    assert "paste-exercise-unknown" in said.err
