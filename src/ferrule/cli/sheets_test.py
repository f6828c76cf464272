from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.cli.sheets import file_stem

WEEK = ["--week", "2026-01-05"]


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["new", str(tmp_path / "w")]) == 0
    capsys.readouterr()
    return tmp_path / "w"


def names(out: Path) -> list[str]:
    return sorted(p.name for p in out.iterdir()) if out.exists() else []


def test_only_signed_weeks_leave(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    words = ["sheets", str(folder), *WEEK, "--out", str(out)]
    assert main(words) == 0
    assert "nothing is signed" in capsys.readouterr().out
    assert names(out) == []
    assert not (folder / "ferrule.db").exists()
    assert main(["sign", str(folder), *WEEK, "--runner", "R02", "--by", "A. Coach"]) == 0
    assert main(words) == 0
    assert names(out) == [f"R02-2026-01-05.{kind}" for kind in ("html", "ics", "pdf")]


def test_drafts_are_marked_and_give_way_to_the_signed(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    words = ["sheets", str(folder), *WEEK, "--out", str(out)]
    assert main([*words, "--drafts"]) == 0
    assert "3 drafts, not signed" in capsys.readouterr().out
    drafts = names(out)
    assert drafts == [f"R0{n}-2026-01-05-draft.{kind}" for n in (1, 2, 3) for kind in ("html", "pdf")]
    assert "draft" in (out / drafts[0]).read_text(encoding="utf-8").lower()
    assert main(["sign", str(folder), *WEEK, "--by", "A. Coach"]) == 0
    assert main(words) == 0
    assert names(out) == [f"R0{n}-2026-01-05.{kind}" for n in (1, 2, 3) for kind in ("html", "ics", "pdf")]


def test_written_twice_is_the_same_bytes(folder: Path, tmp_path: Path) -> None:
    assert main(["sign", str(folder), *WEEK, "--runner", "R01", "--by", "A. Coach"]) == 0
    seen = []
    for out in (tmp_path / "a", tmp_path / "b"):
        assert main(["sheets", str(folder), *WEEK, "--out", str(out)]) == 0
        seen.append({p.name: p.read_bytes() for p in out.iterdir()})
    assert seen[0] == seen[1]


def test_two_runners_never_share_a_file_name() -> None:
    monday = date(2026, 1, 5)
    stems = {file_stem(runner, monday) for runner in ("R/1", "R_1", "R 1", "../R1", "R1", "", "…", "x" * 90, "x" * 91)}
    assert len(stems) == 9
    assert all("/" not in s and "." not in s and len(s) < 60 for s in stems)
