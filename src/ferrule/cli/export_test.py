from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.store.keeping_suite import filled
from ferrule.store.opening import open_record


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "w").mkdir()
    with open_record(tmp_path / "w" / "ferrule.db") as record:
        filled(record)
    return tmp_path / "w"


def test_everything_is_written_in_both_forms(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", str(folder), str(tmp_path / "out")]) == 0
    assert "3 sent weeks, 2 clearances, 20 entries, 0 erasures written to" in capsys.readouterr().out
    written = sorted(p.relative_to(tmp_path / "out").as_posix() for p in (tmp_path / "out").rglob("*.*"))
    assert [name for name in written if "/" not in name] == [
        "clearances.csv",
        "entries.csv",
        "erasures.csv",
        "record.json",
        "sent_weeks.csv",
    ]
    assert sum(name.startswith("reading/") for name in written) == 10
    assert b"'=midwife" in (tmp_path / "out" / "clearances.csv").read_bytes()


def test_nothing_is_overwritten(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "mine.txt").write_text("mine")
    assert main(["export", str(folder), str(tmp_path / "out")]) == 2
    assert "not an empty folder" in capsys.readouterr().err
    assert [p.name for p in (tmp_path / "out").iterdir()] == ["mine.txt"]


def test_what_was_altered_is_named_and_the_rest_is_written(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with closing(sqlite3.connect(folder / "ferrule.db")) as other, other:
        other.execute("DROP TRIGGER entry_no_update")
        other.execute("UPDATE entry SET content = x'00' WHERE number = 3")
    assert main(["export", str(folder), str(tmp_path / "out")]) == 1
    out = capsys.readouterr().out
    assert "19 entries" in out
    assert "entry-altered" in out
    (tmp_path / "new").mkdir()
    assert main(["import", str(tmp_path / "new"), str(tmp_path / "out")]) == 0
    assert main(["record", str(folder)]) == 1
    assert "entry-altered" in capsys.readouterr().out


def test_a_folder_without_a_record_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for command in ("export", "backup"):
        assert main([command, str(tmp_path), str(tmp_path / "x")]) == 2
        assert "has no ferrule.db" in capsys.readouterr().err
        assert main([command, str(tmp_path / "none"), str(tmp_path / "x")]) == 2
        assert "there is no folder" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
