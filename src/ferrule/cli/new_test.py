from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.cli.main import main


def test_the_start_is_checked_without_errors_and_tidy(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "a" / "b"
    assert main(["new", str(folder)]) == 0
    said = capsys.readouterr().out
    assert f"ferrule check {folder}" in said
    assert {p.name for p in folder.iterdir()} == {"programme.md", "squad.csv", "house.toml"}
    assert main(["check", str(folder)]) == 0, capsys.readouterr().out
    capsys.readouterr()
    assert main(["tidy", str(folder / "programme.md")]) == 0
    assert capsys.readouterr().out == f"{folder / 'programme.md'} is tidy\n"


def test_nothing_is_overwritten(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "programme.md").write_text("mine", encoding="utf-8")
    assert main(["new", str(tmp_path)]) == 2
    assert "holds something" in capsys.readouterr().err
    assert [p.name for p in tmp_path.iterdir()] == ["programme.md"]
    assert (tmp_path / "programme.md").read_text(encoding="utf-8") == "mine"
