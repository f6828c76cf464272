from __future__ import annotations

import json
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

import pytest

from ferrule.cli.main import main

SLIPS = (
    ("- Step-up: 6-8/side", "- Stepp-up: 6-8/side"),
    ("- Side plank: 20-30 s/side", "- Side plank: 30-20 s/side"),
    ("| rounds | 3 ", "| rounds | three "),
    ("Pair A, 3 rounds, rest 75-90 s\n\n- any", "Pair A, 3 rounds, rest -30 s\n\n- any"),
)


def programme() -> str:
    """The starting programme with four slips."""
    text = (files("ferrule.cli") / "start" / "programme.md").read_text(encoding="utf-8")
    for right, wrong in SLIPS:
        assert right in text
        text = text.replace(right, wrong, 1)
    return text


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "90")


def test_findings_as_a_coach_reads_them(golden: Callable[[str, str], None], capsys: pytest.CaptureFixture[str]) -> None:
    Path("programme.md").write_text(programme(), encoding="utf-8")
    assert main(["check", "programme.md"]) == 1
    text = capsys.readouterr().out
    assert "programme.md:23:3" in text
    assert "Step-up" in text
    golden("cli/check.txt", text)


def test_the_same_as_data(golden: Callable[[str, str], None], capsys: pytest.CaptureFixture[str]) -> None:
    Path("programme.md").write_text(programme(), encoding="utf-8")
    assert main(["check", "programme.md", "--json"]) == 1
    said = capsys.readouterr()
    assert said.err == ""
    data = json.loads(said.out)
    assert data["summary"].startswith(f"{sum(f['level'] == 'error' for f in data['findings'])} error")
    golden("cli/check.json", said.out)


def test_each_kind_of_file_is_read_as_what_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "w"]) == 0
    Path("w/library").mkdir()
    Path("w/library/own.toml").write_text("= 3\n", encoding="utf-8")
    Path("w/house.toml").write_text("[thresholds]\nno-such-rule = 3\n", encoding="utf-8")
    codes = {}
    capsys.readouterr()
    for name in ("programme.md", "squad.csv", "house.toml", "library/own.toml", ""):
        assert main(["check", f"w/{name}", "--json"]) == 1
        codes[name] = {(f["code"], f["file"]) for f in json.loads(capsys.readouterr().out)["findings"]}
    assert {file for _, file in codes["house.toml"]} == {"w/house.toml"}
    assert {file for _, file in codes["library/own.toml"]} == {"w/library/own.toml"}
    assert codes["house.toml"] | codes["library/own.toml"] <= codes[""]
    assert codes["house.toml"] | codes["library/own.toml"] <= codes["programme.md"], "what stands beside is read too"


UNSAID = """\
---
programme: Short
needs: mat
---

## Cycle 1, weeks 1-2: Try

### Session 1: legs, 60 min

Straight, 3 sets, rest 90 s

- Step-up: 8, 2 RIR
- Bridge, one leg: 10/side, RPE 8
"""


def test_fix_shows_the_differences_and_changes_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    Path("p.md").write_text(UNSAID, encoding="utf-8")
    assert main(["check", "p.md", "--fix"]) == 0
    said = capsys.readouterr()
    assert "\n-needs: mat\n" in said.out
    assert "\n+needs: mat; step\n" in said.out
    assert "\n+- Step-up: 8/side, 2 RIR\n" in said.out
    assert "\n+- Bridge, one leg: 10/side, 2 RIR\n" in said.out
    assert "3 findings would be mended; --write keeps it" in said.out
    assert said.err.startswith("left: ")
    assert Path("p.md").read_text(encoding="utf-8") == UNSAID


def test_fix_and_write_keep_it_and_a_second_time_changes_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    Path("w").mkdir()
    Path("w/programme.md").write_text(UNSAID, encoding="utf-8")
    assert main(["check", "w", "--fix", "--write"]) == 0
    assert "3 findings mended" in capsys.readouterr().out
    text = Path("w/programme.md").read_text(encoding="utf-8")
    assert "needs: mat; step\n" in text
    assert main(["check", "w", "--fix", "--write"]) == 0
    assert "nothing that can be mended" in capsys.readouterr().out
    assert Path("w/programme.md").read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    "words", [["--write"], ["--fix", "--json"], ["../none.md", "--fix"]], ids=["write alone", "data", "no file"]
)
def test_wrong_use_is_said(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    Path("p.md").write_text(UNSAID, encoding="utf-8")
    assert main(["check", *(words if words[0].endswith(".md") else ["p.md", *words])]) == 2
    assert capsys.readouterr().err


def test_fix_leaves_alone_what_is_no_programme_or_no_text(capsys: pytest.CaptureFixture[str]) -> None:
    Path("squad.csv").write_text("name\nA\n", encoding="utf-8")
    assert main(["check", "squad.csv", "--fix"]) == 2
    assert "no programme" in capsys.readouterr().err
    Path("p.md").write_bytes(b"\xff\xfe\x00")
    assert main(["check", "p.md", "--fix", "--write"]) == 1
    assert Path("p.md").read_bytes() == b"\xff\xfe\x00"
