"""Copies are looked for some weeks back; without a record there is nothing."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from ferrule.cli.main import main
from ferrule.cli.next_told import WEEKS_BACK, copies_before, entries_in, sent_before, told_in
from ferrule.cli.workspace import open_workspace
from ferrule.store.opening import open_record
from ferrule.store.record import RECORD_FILE
from ferrule.store.sample import sample_week

MONDAY = date(2026, 2, 16)
WEEK = timedelta(days=7)


def test_the_newest_copy_of_the_last_weeks(tmp_path: Path) -> None:
    assert main(["new", str(tmp_path / "w")]) == 0
    workspace = open_workspace(tmp_path / "w")
    assert sent_before(workspace, MONDAY) == {}
    assert entries_in(workspace) == ()
    assert told_in(workspace, MONDAY).last == {}
    now = datetime(2026, 1, 1, tzinfo=UTC)
    with open_record(tmp_path / "w" / RECORD_FILE) as record:
        for back, reps in ((WEEKS_BACK + 1, 5), (3, 6), (2, 7), (2, 8)):
            record.send(sample_week("R01", monday=MONDAY - back * WEEK, reps=reps), "Cara", now)
        record.send(sample_week("R02", monday=MONDAY - (WEEKS_BACK + 1) * WEEK), "Cara", now)
    copies = copies_before(workspace, MONDAY)
    assert list(copies) == ["R01"]
    assert [w.monday for w in copies["R01"]] == [MONDAY - 3 * WEEK, MONDAY - 2 * WEEK]
    newest = sent_before(workspace, MONDAY)["R01"].sessions[0].blocks[0].items[0].reps
    assert newest is not None
    assert newest.high == 8
