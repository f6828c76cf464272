from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from ferrule.cli.main import main


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["new", str(tmp_path / "w")]) == 0
    capsys.readouterr()
    return tmp_path / "w"


def test_things_are_ranked_and_nothing_is_kept(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = sorted(folder.iterdir())
    words = ["buy", str(folder), "--week", "2026-01-07", "--item", "kettlebell 24 kg", "--item", "box 40 cm"]
    assert main(words) == 0
    assert capsys.readouterr().out.startswith("3 runners: 2 things tried, ")
    assert main([*words, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["tried"] == ["kettlebell 24 kg", "box 40 cm"]
    assert data["runners"] == ["R01", "R02", "R03"]
    worth = [(t["weeks"], t["lines"], t["effort_reps"]) for t in data["things"]]
    assert worth == sorted(worth, reverse=True)
    assert sorted(folder.iterdir()) == before


def test_one_runner_by_id(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["buy", str(folder), "--week", "2026-01-07", "--runner", "r02", "--item", "mat"]) == 0
    assert "1 things" not in capsys.readouterr().out.splitlines()[0].replace(": 1 things tried", "")
    assert main(["buy", str(folder), "--week", "2026-01-07", "--runner", "R99"]) == 2
    assert "R99" in capsys.readouterr().err


def test_a_thing_that_cannot_be_read_is_wrong_use(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["buy", str(folder), "--week", "2026-01-07", "--item", "a bag of wind"]) == 2
    assert "bag of wind" in capsys.readouterr().err


def test_a_thing_for_one_site(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Only who trains there is asked; a site nobody has is wrong use."""
    words = ["buy", str(folder), "--week", "2026-01-07", "--item", "box 40 cm"]
    assert main([*words, "--site", "club"]) == 2
    assert "'club'" in capsys.readouterr().err
    squad = folder / "squad.csv"
    lines = squad.read_text("utf-8").splitlines()
    columns = lines[0].split(",")
    row = next(csv.reader([lines[1]]))
    row[columns.index("kit")], row[columns.index("days")] = "home: mat; club: mat; step 20 cm", "Mon home; Wed Fri club"
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerow(row)
    squad.write_text("\n".join([lines[0], text.getvalue().strip(), *lines[2:]]) + "\n", "utf-8")
    assert main([*words, "--site", "Club", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["runners"] == ["R01"]
    assert main([*words, "--site", "club", "--runner", "R02"]) == 2
    assert "R02" in capsys.readouterr().err
