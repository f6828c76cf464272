"""A signed week fitted again: a lost day, an edit of the squad list, and what does not work."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from ferrule.cli.main import main

WEEK = ["--week", "2026-01-05"]


@pytest.fixture
def signed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    folder = tmp_path / "w"
    assert main(["new", str(folder)]) == 0
    assert main(["sign", str(folder), *WEEK, "--by", "Kim"]) == 0
    capsys.readouterr()
    return folder


def data(folder: Path, capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, list[str]]:
    assert main(["fit", str(folder), *WEEK, "--json", *words]) == 0
    changed: dict[str, list[str]] = json.loads(capsys.readouterr().out)["changed"]
    return changed


def test_nothing_changed_says_unchanged(signed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert data(signed, capsys, "--again", "2026-01-07") == {"R01": [], "R02": [], "R03": []}
    assert main(["fit", str(signed), *WEEK, "--again", "2026-01-07"]) == 0
    assert "unchanged: R01, R02, R03" in capsys.readouterr().out


def test_a_lost_day_is_said_and_can_be_signed(signed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(signed), *WEEK, "--json"]) == 0
    week = json.loads(capsys.readouterr().out)["outcomes"][0]
    first = week["sessions"][0]["day"]
    weekday = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")[int(first[-2:]) - 5]
    words = ["--again", first, "--lost", "R01", weekday]
    changed = data(signed, capsys, *words)
    assert changed["R02"] == changed["R03"] == []
    assert changed["R01"]
    assert main(["sign", str(signed), *WEEK, "--by", "Kim", "--runner", "R01", *words]) == 0
    said = capsys.readouterr().out
    assert "1 signed by Kim" in said
    assert "copy 2" in said
    assert data(signed, capsys, *words) == {"R01": [], "R02": [], "R03": []}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--lost", "R01", "Wed"], "--lost needs --again"),
        (["--again", "2026-02-01"], "is not a day of the week"),
        (["--again", "2026-01-07", "--lost", "R99", "Wed"], "no runner 'R99'"),
        (["--again", "2026-01-07", "--lost", "R01", "soon"], "'soon' is no weekday"),
    ],
)
def test_what_cannot_be_meant_is_said(
    words: list[str], says: str, signed: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["fit", str(signed), *WEEK, *words]) == 2
    assert says in capsys.readouterr().err


def test_without_a_copy_there_is_nothing_to_start_from(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", str(tmp_path / "w")]) == 0
    assert main(["fit", str(tmp_path / "w"), *WEEK, "--again", "2026-01-07"]) == 2
    assert "nothing was sent for the week" in capsys.readouterr().err
