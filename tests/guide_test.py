"""The guide's commands work as they stand, in order, in an empty folder."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from ferrule.cli.main import main

GUIDE = (Path(__file__).parents[1] / "docs" / "guide.md").read_text(encoding="utf-8")


def commands() -> list[list[str]]:
    """Every `ferrule ...` line of the guide's shell blocks, as words after `ferrule`."""
    blocks = re.findall(r"^```sh\n(.*?)^```", GUIDE, flags=re.M | re.S)
    return [shlex.split(line)[1:] for block in blocks for line in block.splitlines() if line.startswith("ferrule ")]


def told() -> str:
    """The lines the guide has typed into told.txt."""
    (found,) = re.findall(r"^```text\n(.*?)^```", GUIDE, flags=re.M | re.S)
    return str(found)


def test_the_guide_leads_from_new_to_sheets(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "told.txt").write_text(told(), encoding="utf-8")
    names = [words[0] for words in commands()]
    assert names[0] == "new"
    assert {"check", "tidy", "library", "fit", "sign", "sheets", "log", "due", "next"} <= set(names)
    for words in commands():
        code = main(words)
        said = capsys.readouterr()
        assert code == 0, f"ferrule {shlex.join(words)}\n{said.out}\n{said.err}"
        assert said.out
    out = tmp_path / "spring" / "out"
    assert {p.suffix for p in out.iterdir()} == {".pdf", ".html", ".ics"}
    assert len(list(out.glob("*.pdf"))) == len(list(out.glob("*.html"))) == len(list(out.glob("*.ics"))) == 6


def test_the_guide_quotes_the_programme_it_starts_from() -> None:
    from importlib.resources import files

    start = (files("ferrule.cli") / "start" / "programme.md").read_text(encoding="utf-8")
    for quoted in re.findall(r"^```markdown\n(.*?)^```", GUIDE, flags=re.M | re.S):
        assert quoted in start
