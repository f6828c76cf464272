from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.store.entry_suite import ARRIVED
from ferrule.store.keeping_suite import filled
from ferrule.store.kept import Kept
from ferrule.store.opening import open_record


def everything(folder: Path) -> Kept:
    with open_record(folder / "ferrule.db") as record:
        return record.everything()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "w").mkdir()
    with open_record(tmp_path / "w" / "ferrule.db") as record:
        filled(record)
        record.erase("R02", "Coach A", ARRIVED)
    assert main(["export", str(tmp_path / "w"), str(tmp_path / "out")]) == 0
    (tmp_path / "new").mkdir()
    return tmp_path


@pytest.mark.parametrize("form", ["json", "csv"])
def test_what_was_exported_comes_back(folder: Path, form: str, capsys: pytest.CaptureFixture[str]) -> None:
    for gone in (folder / "out").glob("*.csv" if form == "json" else "*.json"):
        gone.unlink()
    words = ["import", str(folder / "new"), str(folder / "out")]
    assert main(words) == 0
    count = everything(folder / "w").count
    assert f"{count} new, 0 there already" in capsys.readouterr().out
    assert everything(folder / "new") == everything(folder / "w")
    assert main(words) == 0
    assert f"0 new, {count} there already" in capsys.readouterr().out


def test_a_changed_row_is_left_out_and_named(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "out" / "record.json").unlink()
    table = folder / "out" / "entries.csv"
    table.write_bytes(table.read_bytes().replace(b"slept well", b"slept badly"))
    assert main(["import", str(folder / "new"), str(folder / "out")]) == 1
    assert "row-left-out" in capsys.readouterr().out
    assert everything(folder / "new").count == everything(folder / "w").count - 1


def test_an_export_from_before_an_erasure_is_pointed_out(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_record(folder / "w" / "ferrule.db") as record:
        record.erase("R01", "Coach A", ARRIVED.replace(day=26))
    assert main(["import", str(folder / "w"), str(folder / "out")]) == 0
    assert "2 erased here, last on 2026-01-26: if this export is older" in capsys.readouterr().out


@pytest.mark.parametrize(("name", "text"), [("record.json", "{"), ("entries.csv", "a,b\n")])
def test_what_is_no_export_makes_no_record(
    tmp_path: Path, name: str, text: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "in").mkdir()
    words = ["import", str(tmp_path), str(tmp_path / "in")]
    assert main(words) == 2
    assert "holds no export" in capsys.readouterr().err
    (tmp_path / "in" / name).write_text(text)
    assert main(words) == 1
    assert "export-unreadable" in capsys.readouterr().out
    assert not (tmp_path / "ferrule.db").exists()
