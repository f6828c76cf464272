from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.cli.record import cleared, exists, opened, with_clearances
from ferrule.cli.stop import Stop
from ferrule.cli.workspace import Workspace, open_workspace
from ferrule.store.entry_suite import ARRIVED, retold
from ferrule.store.keeping_suite import filled
from ferrule.store.migrations import MIGRATIONS
from ferrule.store.opening import open_record
from ferrule.store.record import Clearance
from ferrule.store.sample import sample_set
from ferrule.store.sqlite_record import SqliteRecord

NOW = datetime(2026, 1, 12, 8, 0, tzinfo=UTC)


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    assert main(["new", str(tmp_path / "w")]) == 0
    squad = tmp_path / "w" / "squad.csv"
    lines = squad.read_text(encoding="utf-8").splitlines()
    squad.write_text("\n".join([lines[0] + ",health", lines[1] + ",pregnant", *lines[2:]]) + "\n", encoding="utf-8")
    return open_workspace(tmp_path / "w")


def test_reading_makes_no_record(workspace: Workspace) -> None:
    assert with_clearances(workspace) is workspace
    assert not exists(workspace)


def test_a_clearance_counts_for_its_runner_and_reason(workspace: Workspace) -> None:
    assert [h.reason for h in workspace.squad.runners[0].holds] == ["pregnant"]
    other = Clearance("R01", "after surgery", "A. Midwife", date(2026, 1, 10))
    assert cleared(workspace, [other]).squad == workspace.squad
    elsewhere = Clearance("R02", "pregnant", "A. Midwife", date(2026, 1, 10))
    assert cleared(workspace, [elsewhere]).squad == workspace.squad
    with opened(workspace) as record:
        record.clear("R01", "pregnant", "A. Midwife", date(2026, 1, 10), NOW)
    (hold,) = with_clearances(workspace).squad.runners[0].holds
    assert (hold.cleared_by, hold.cleared_on) == ("A. Midwife", date(2026, 1, 10))


def test_a_file_that_is_no_record_is_said(workspace: Workspace, capsys: pytest.CaptureFixture[str]) -> None:
    (workspace.folder / "ferrule.db").write_bytes(b"not a record at all" * 100)
    with pytest.raises(Stop) as stop, opened(workspace):
        pass
    assert stop.value.code == 1
    assert stop.value.fix
    assert main(["sheets", str(workspace.folder), "--week", "2026-01-05", "--out", str(workspace.folder / "o")]) == 1
    assert "ferrule sheets:" in capsys.readouterr().err


def test_what_is_kept_is_counted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_record(tmp_path / "ferrule.db") as record:
        filled(record)
        record.add([retold(sample_set(1), 30)], ARRIVED)
    assert main(["record", str(tmp_path)]) == 0
    out = capsys.readouterr().out
    assert "sent weeks    3, 2026-01-19 to 2026-01-19" in out
    assert "entries       21: set 3, test 2" in out
    assert "entry-changed   advice" in out


def test_changes_to_come_are_listed_and_not_made(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    SqliteRecord.open(tmp_path / "ferrule.db", MIGRATIONS[:2]).close()
    words = ["record", str(tmp_path), "--migrations"]
    for _ in range(2):
        assert main(words) == 0
        assert capsys.readouterr().out.splitlines() == [step.name for step in MIGRATIONS[2:]]
    assert main(["record", str(tmp_path)]) == 0
    capsys.readouterr()
    assert main(words) == 0
    assert capsys.readouterr().out == "nothing to change\n"
    (tmp_path / "ferrule.db").write_text("notes " * 200)
    assert main(words) == 1
    assert "record-unopened" in capsys.readouterr().err
