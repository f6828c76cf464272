from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.cli.main import main

UNTIDY = "---\nprogramme: Short\nweeks: 1\n---\n\n## Cycle 1, weeks 1-1: One\n\n### Session 1: legs\n\nStraight, 3 sets\n\n- step-up:  8 / side,2 RIR\n"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "programme.md"
    path.write_text(UNTIDY, encoding="utf-8")
    return path


def test_without_write_nothing_changes(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tidy", str(file)]) == 0
    said = capsys.readouterr().out
    assert "\n-- step-up:  8 / side,2 RIR\n" in said
    assert "\n+- Step-up: 8/side, 2 RIR\n" in said
    assert "--write" in said
    assert file.read_text(encoding="utf-8") == UNTIDY


def test_write_changes_it_once(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tidy", str(file), "--write"]) == 0
    after = file.read_text(encoding="utf-8")
    assert "- Step-up: 8/side, 2 RIR\n" in after
    assert "written" in capsys.readouterr().out
    assert main(["tidy", str(file), "--write"]) == 0
    assert "is tidy" in capsys.readouterr().out
    assert file.read_text(encoding="utf-8") == after
    assert [p.name for p in file.parent.iterdir()] == ["programme.md"]


def test_what_cannot_be_read_stays_and_is_said(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text(UNTIDY + "- press-up: eight or nine!\n", encoding="utf-8")
    assert main(["tidy", str(file), "--write"]) == 1
    assert "press-up: eight or nine!" in file.read_text(encoding="utf-8")
    assert "error" in capsys.readouterr().err


@pytest.mark.parametrize(
    "data", [b"\x00\x01\x02" * 400, b"", UNTIDY.encode() * 8000], ids=["binary", "empty", "too long"]
)
def test_a_file_that_is_not_read_whole_is_never_written(
    data: bytes, file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_bytes(data)
    assert main(["tidy", str(file), "--write"]) == 1
    assert "stays as it is" in capsys.readouterr().out
    assert file.read_bytes() == data
