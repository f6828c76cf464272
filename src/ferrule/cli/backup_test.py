from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.store.keeping_suite import filled
from ferrule.store.opening import open_record


def test_a_backup_is_made_once_and_checked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_record(tmp_path / "ferrule.db") as record:
        filled(record)
    words = ["backup", str(tmp_path), str(tmp_path / "monday.db")]
    assert main(words) == 0
    assert "monday.db: 25 rows, checked" in capsys.readouterr().out
    with open_record(tmp_path / "monday.db") as copy, open_record(tmp_path / "ferrule.db") as record:
        assert copy.everything() == record.everything()
    assert main(words) == 1
    assert "backup-exists" in capsys.readouterr().err
