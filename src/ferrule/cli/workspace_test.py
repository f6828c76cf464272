from __future__ import annotations

import os
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.cli.stop import Stop
from ferrule.cli.workspace import MOST_BYTES, open_workspace, read_bytes, surroundings, text_of, write_text


def test_a_workspace_is_read_whole(tmp_path: Path) -> None:
    assert main(["new", str(tmp_path / "w")]) == 0
    workspace = open_workspace(tmp_path / "w")
    assert [r.id for r in workspace.squad.runners] == ["R01", "R02", "R03"]
    assert workspace.programme.weeks == 4
    assert set(workspace.sources) == {str(tmp_path / "w" / n) for n in ("programme.md", "squad.csv", "house.toml")}


@pytest.mark.parametrize("missing", ["programme.md", "squad.csv"])
def test_a_missing_file_is_named(missing: str, tmp_path: Path) -> None:
    assert main(["new", str(tmp_path / "w")]) == 0
    (tmp_path / "w" / missing).unlink()
    with pytest.raises(Stop, match=f"no {missing}"):
        open_workspace(tmp_path / "w")


def test_house_and_library_may_be_missing(tmp_path: Path) -> None:
    around = surroundings(tmp_path)
    assert around.house.changed == {}
    assert around.sources == {}
    assert len(around.library.variants) > 30


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "x.md").write_bytes(b"x" * (MOST_BYTES + 1))
    data, findings = read_bytes(tmp_path / "x.md")
    assert data is None
    assert [f.code for f in findings] == ["file-too-large"]
    (tmp_path / "x.md").write_bytes(b"x" * MOST_BYTES)
    assert read_bytes(tmp_path / "x.md") == (b"x" * MOST_BYTES, ())


@pytest.mark.skipif(os.name != "posix" or os.getuid() == 0, reason="root reads everything")
def test_a_file_that_may_not_be_read(tmp_path: Path) -> None:
    (tmp_path / "x.md").write_bytes(b"x")
    (tmp_path / "x.md").chmod(0)
    with pytest.raises(Stop, match="cannot be read"):
        read_bytes(tmp_path / "x.md")


def test_line_ends_and_marks_do_not_move_lines() -> None:
    assert text_of(b"\xef\xbb\xbfa\r\nb\rc\nd") == "a\nb\nc\nd"
    assert text_of(b"\xff\xfe") == "��"


def test_writing_leaves_no_half_file(tmp_path: Path) -> None:
    write_text(tmp_path / "new" / "x.md", "é")
    assert (tmp_path / "new" / "x.md").read_bytes() == "é".encode()
    assert [p.name for p in (tmp_path / "new").iterdir()] == ["x.md"]
    with pytest.raises(Stop, match="cannot be written"):
        write_text(tmp_path / "new" / "x.md" / "under", "x")
