from __future__ import annotations

import json
from pathlib import Path

import pytest

from ferrule.cli.main import main

TEXT = """\
---
programme: Two lines
weeks: 3
sessions: 2 a week
needs: mat; dumbbell 6 kg x 2
---

## Cycle 1, weeks 1-3: Start

### Session 1: legs, 25 min

Straight, 3 sets, rest 90 s

- Split squat: 8-10/side, 2-3 RIR
- Press-up: 6-8, 2 RIR
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "programme.md"
    path.write_text(TEXT, encoding="utf-8")
    return path


def test_the_report_says_effort_chances_and_rules(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dry-run", str(file), "--runners", "4", "--weeks", "2", "--page", str(file.with_suffix(".html"))]) == 0
    said = capsys.readouterr().out
    assert "Two lines: 4 simulated runners, 2 weeks, seed 1" in said
    assert "1/A" in said
    assert "Split squat" in said
    assert "too few to say" in said
    assert "Safety rules: none broken in 8 runner-weeks" in said
    page = file.with_suffix(".html").read_text(encoding="utf-8")
    assert page.count("<svg") == 1
    assert "<script" not in page


def test_the_same_seed_gives_the_same_data_and_another_does_not(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = []
    for seed in ("3", "3", "4"):
        assert main(["dry-run", str(file), "--runners", "3", "--weeks", "2", "--seed", seed, "--json"]) == 0
        found.append(json.loads(capsys.readouterr().out))
    assert found[0] == found[1] != found[2]
    assert found[0]["runner_weeks"] == 6
    assert [w["week"] for w in found[0]["weeks"]] == [1, 2]
    assert {x["written"] for x in found[0]["lines"]} >= {"Split squat", "Press-up"}


def test_runners_of_a_squad_list_are_taken_again_and_again(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    squad = tmp_path / "squad.csv"
    squad.write_text(
        "id,name,birth year,sex,mass,level,kit,minutes,days,runs,anchor,health\n"
        "A1,Ada T,1990,female,60,some,mat; dumbbell 6 kg x 2,40,Mon Wed Fri,,from 2026-03-02,\n"
        "B2,Ben K,1985,male,75,some,mat,40,Mon Wed Fri,,from 2026-03-09,pregnant\n",
        encoding="utf-8",
    )
    assert main(["dry-run", str(file), "--runners", "4", "--weeks", "1", "--squad", str(squad), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["runners"] == 4
    assert data["runner_weeks"] == 2
    ((why, many),) = data["not_sent"].items()
    assert why.startswith("held: ")
    assert many == 2


@pytest.mark.parametrize("words", [["--runners", "0"], ["--weeks", "x"], ["--runners", "100000"], ["--seed", "-1"]])
def test_numbers_that_are_none(words: list[str], file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dry-run", str(file), *words]) == 2
    assert "no whole number" in capsys.readouterr().err or words[1] == "-1"


def test_a_file_that_is_no_programme(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text("hello", encoding="utf-8")
    assert main(["dry-run", str(file)]) == 1
    assert "error" in capsys.readouterr().err
