from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from importlib.resources import files
from pathlib import Path

import pytest

from ferrule.cli.main import main

DEMO = (files("ferrule.demo") / "programme.md").read_text(encoding="utf-8")


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "programme.md"
    path.write_text(DEMO, encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("columns", [44, 100])
def test_the_week_is_written_out(
    columns: int, file: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    assert main(["show", file, "--week", "5"]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert max(map(len, said.out.splitlines())) <= columns
    assert said.out.splitlines()[0] == "Ridge legs, six weeks, week 5"
    for words in ("Session 2: hinge and calf", "Pair A, 4 rounds, rest 90 s", "or Hinge, one leg: 6-8/side"):
        assert words in said.out


def test_page_and_score_are_written_beside_the_text(
    file: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page, score = tmp_path / "out" / "week.html", tmp_path / "out" / "week.svg"
    assert main(["show", file, "--week", "1", "--page", str(page), "--score", str(score)]) == 0
    assert "Step-up, low" in capsys.readouterr().out
    assert "Step-up, low: 8-10/side, 3 RIR" in page.read_text(encoding="utf-8")
    root = ET.fromstring(score.read_text(encoding="utf-8"))
    assert (root.get("aria-label") or "").count("Session ") == 3


def test_the_same_as_data(file: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", file, "--week", "3", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert (data["week"], data["cycle_week"]) == (3, 3)
    assert data["coach_notes"] == ["read the first week's answers before week 2 goes out"]
    first = data["sessions"][0]
    assert first["minutes"] == 30
    assert 25 < first["minutes_counted"] < 40
    assert first["blocks"][1]["sets"] == {"low": 4, "high": 4}
    assert first["blocks"][1]["items"][0]["text"] == "Step-up, low: 8-10/side, 2 RIR, tempo 2-0-1"


@pytest.mark.parametrize("week", ["7", "9999"])
def test_a_week_that_is_not_there_names_the_weeks_there_are(
    week: str, file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["show", file, "--week", week]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert f"has no week {week}" in said.err
    assert "it has weeks 1-6" in said.err


@pytest.mark.parametrize("week", ["0", "-1", "x", "2026-01-19", "1.5", ""])
def test_what_is_no_week_is_wrong_use(week: str, file: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", file, f"--week={week}"]) == 2
    assert "counted from 1" in capsys.readouterr().err


def test_an_error_in_the_file_is_said_and_the_rest_is_shown(file: str, capsys: pytest.CaptureFixture[str]) -> None:
    Path(file).write_text(DEMO.replace("- Foot dome: 6\n", "- Foot dome: six or so!\n"), encoding="utf-8")
    assert main(["show", file, "--week", "1"]) == 1
    said = capsys.readouterr()
    assert "six or so" in said.err
    assert "Step-up, low" in said.out


def test_a_file_without_a_week(file: str, capsys: pytest.CaptureFixture[str]) -> None:
    Path(file).write_text("hello\n", encoding="utf-8")
    assert main(["show", file, "--week", "3"]) in (1, 2)
    assert "has no week 3" in capsys.readouterr().err


def test_words_from_the_file_cannot_steer_the_terminal(file: str, capsys: pytest.CaptureFixture[str]) -> None:
    Path(file).write_text(
        "### Session 1: a\x1b[2Jb\n\nStraight, 1 set\n\n- Press-up: 8\n  note: c\x1b[31md\n", encoding="utf-8"
    )
    main(["show", file, "--week", "1"])
    assert "\x1b" not in capsys.readouterr().out
