"""A race moved from the command line."""

from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.cli.main import main

SQUAD = """id,name,level,kit,days,anchor,races
R01,Arla T,some,mat,Mon Thu,to race 2026-02-15,
R02,Bram K,some,mat,Mon Thu,from 2026-01-05,2026-02-01 hill race; 2026-02-20
"""


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["new", str(tmp_path / "w")]) == 0
    (tmp_path / "w" / "squad.csv").write_text(SQUAD, encoding="utf-8")
    capsys.readouterr()
    return tmp_path / "w"


def test_before_and_after_and_nothing_written(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["move-race", str(folder), "R01", "2026-03-01"]) == 0
    text = capsys.readouterr().out
    assert "race on 2026-03-01 (was 2026-02-15)" in text
    assert "The programme ends in the week of 23 Feb 2026 (was 9 Feb 2026)." in text
    assert "squad.csv, line 2, anchor: to race 2026-03-01" in text
    assert "--write keeps it" in text
    assert (folder / "squad.csv").read_text(encoding="utf-8") == SQUAD


def test_written(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["move-race", str(folder), "R02", "2026-02-08", "--was", "2026-02-01", "--write"]) == 0
    assert "No programme week moves." in capsys.readouterr().out
    written = (folder / "squad.csv").read_text(encoding="utf-8")
    assert written == SQUAD.replace("2026-02-01 hill race", "2026-02-08 hill race")
    assert main(["check", str(folder)]) == 0


def test_which_race_must_be_said(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["move-race", str(folder), "R02", "2026-02-08"]) == 2
    assert "--was: there is 2026-02-01, 2026-02-20" in capsys.readouterr().err
    assert main(["move-race", str(folder), "R02", "2026-02-08", "--was", "2026-02-03"]) == 2
    assert "no race is on 2026-02-03" in capsys.readouterr().err
