from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.store.opening import open_record


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["new", str(tmp_path / "w")]) == 0
    squad = tmp_path / "w" / "squad.csv"
    lines = squad.read_text(encoding="utf-8").splitlines()
    rows = [lines[0] + ",health", lines[1] + ",", lines[2] + ",after surgery", lines[3] + ","]
    squad.write_text("\n".join(rows) + "\n", encoding="utf-8")
    capsys.readouterr()
    return tmp_path / "w"


def test_a_clearance_is_kept_with_name_day_and_reason(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["clear", str(folder), "--runner", "r02", "--by", "B. Surgeon", "--on", "2026-01-02"]
    assert main(words) == 0
    assert "R02 Birch: cleared by B. Surgeon on 2026-01-02 (after surgery)" in capsys.readouterr().out
    assert main(words) == 0
    assert "not on hold" in capsys.readouterr().out
    with open_record(folder / "ferrule.db") as record:
        (kept,) = record.clearances()
    assert (kept.runner_id, kept.reason, kept.cleared_by, kept.on) == (
        "R02",
        "after surgery",
        "B. Surgeon",
        date(2026, 1, 2),
    )


def test_a_runner_who_is_not_held_needs_none(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["clear", str(folder), "--runner", "R01", "--by", "B. Surgeon"]) == 0
    assert "not on hold; nothing was written" in capsys.readouterr().out
    assert not (folder / "ferrule.db").exists()


def test_an_unknown_runner_is_said(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["clear", str(folder), "--runner", "R77", "--by", "B. Surgeon"]) == 2
    assert "it has R01, R02, R03" in capsys.readouterr().err
