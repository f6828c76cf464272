from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.store.entry_suite import ARRIVED
from ferrule.store.keeping_suite import filled
from ferrule.store.opening import open_record
from ferrule.store.sample import sample_set


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "w").mkdir()
    with open_record(tmp_path / "w" / "ferrule.db") as record:
        filled(record)
    assert main(["backup", str(tmp_path / "w"), str(tmp_path / "monday.db")]) == 0
    return tmp_path


def test_a_lost_record_comes_back(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "new").mkdir()
    assert main(["restore", str(folder / "new"), str(folder / "monday.db")]) == 0
    assert "25 rows restored" in capsys.readouterr().out
    with open_record(folder / "new" / "ferrule.db") as there, open_record(folder / "w" / "ferrule.db") as here:
        assert there.everything() == here.everything()


def test_a_newer_record_needs_a_word_more(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_record(folder / "w" / "ferrule.db") as record:
        record.add([sample_set(9)], ARRIVED)
        record.erase("R02", "Coach A", ARRIVED)
    words = ["restore", str(folder / "w"), str(folder / "monday.db")]
    assert main(words) == 1
    said = capsys.readouterr().err
    assert "1 entry, 1 erasure" in said
    assert "would be back" in said
    assert main([*words, "--replace"]) == 0
    out = capsys.readouterr().out
    assert "what was there before is in" in out
    assert "1 erased since this backup" in out
    assert len(list((folder / "w").glob("ferrule.db.before-*"))) == 1


def test_what_is_no_backup_is_said(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "notes.txt").write_text("notes " * 100)
    assert main(["restore", str(folder / "w"), str(folder / "notes.txt")]) == 1
    assert "record-unopened" in capsys.readouterr().err
