from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.store.keeping_suite import filled
from ferrule.store.opening import open_record


class Terminal(io.StringIO):
    """Standard input with somebody in front of it."""

    def isatty(self) -> bool:
        return True


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["new", str(tmp_path / "w")]) == 0
    capsys.readouterr()
    with open_record(tmp_path / "w" / "ferrule.db") as record:
        filled(record)
    return tmp_path / "w"


def runners(folder: Path) -> tuple[str, ...]:
    with open_record(folder / "ferrule.db") as record:
        return record.runners()


def test_one_runner_goes_and_the_row_is_named(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (folder / "squad.csv").read_bytes()
    assert main(["erase", str(folder), "r02", "--by", "A. Coach", "--yes"]) == 0
    out = capsys.readouterr().out
    assert "erased: 1 sent weeks, 1 clearances, 10 entries" in out
    assert "backups, exports, sheets" in out
    assert "erased-runner-in-squad-list   advice" in out
    assert "squad.csv:3" in out
    assert runners(folder) == ("R01",)
    assert (folder / "squad.csv").read_bytes() == before
    assert main(["record", str(folder)]) == 0
    assert "one runner, on " in capsys.readouterr().out


def test_the_id_is_asked_for_twice(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    words = ["erase", str(folder), "R01", "--by", "A. Coach"]
    for typed in ("", "R01\n", "R01\nR02\n", "yes\nyes\n"):
        monkeypatch.setattr(sys, "stdin", Terminal(typed))
        assert main(words) == 1
        assert "nothing was erased" in capsys.readouterr().err
    monkeypatch.setattr(sys, "stdin", io.StringIO("R01\nR01\n"))
    assert main(words) == 2
    assert "give --yes" in capsys.readouterr().err
    assert runners(folder) == ("R01", "R02")
    monkeypatch.setattr(sys, "stdin", Terminal("R01\nR01\n"))
    assert main(words) == 0
    assert runners(folder) == ("R02",)


def test_a_runner_nobody_knows_and_a_note_that_would_name_one(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["erase", str(folder), "R77", "--by", "A. Coach", "--yes"]) == 2
    assert "it has R01, R02" in capsys.readouterr().err
    name = (folder / "squad.csv").read_text(encoding="utf-8").splitlines()[1].split(",")[1]
    for by in ("r01", name):
        assert main(["erase", str(folder), "R01", "--by", by, "--yes"]) == 2
        assert "the one who erases" in capsys.readouterr().err
    assert runners(folder) == ("R01", "R02")


def test_again_is_a_cleaning_only(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["erase", str(folder), "R01", "--by", "A. Coach", "--yes"]
    assert main(words) == main(words) == 0
    assert "keeps nothing of R01; its file was cleaned once more" in capsys.readouterr().out
    with open_record(folder / "ferrule.db") as record:
        assert len(record.erasures()) == 1
