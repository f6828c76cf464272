from __future__ import annotations

import json
import shutil
from importlib.resources import files
from pathlib import Path

import pytest

from ferrule.cli.main import main


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    for name in ("programme.md", "squad.csv"):
        (tmp_path / name).write_bytes((files("ferrule.demo") / name).read_bytes())
    return tmp_path


def test_each_line_is_said_with_its_place(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["spread", str(demo / "programme.md"), str(demo / "squad.csv"), "--week", "4"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("week 4: Make it stronger; 21 runners counted")
    text = (demo / "programme.md").read_text(encoding="utf-8").split("\n")
    place = text.index("- Press-up: 8-12, 2 RIR") + 1
    line = next(x for x in said.split("\n") if x.split()[:1] == [str(place)])
    assert " right, " in line
    assert "not counted: R06 (under 18 without consent)" in said


def test_json_holds_the_runners(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["spread", str(demo / "programme.md"), str(demo / "squad.csv"), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["week"] == 1
    first = data["lines"][0]
    every = [
        *first["too_easy"],
        *first["right"],
        *first["too_hard"],
        *first["not_dosed"],
        *(c["runner"] for c in first["cannot"]),
    ]
    assert sorted(every) == sorted(data["counted"])


def test_a_week_that_is_not_written_is_said(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["spread", str(demo / "programme.md"), str(demo / "squad.csv"), "--week", "40"]) == 1
    assert "no such week" in capsys.readouterr().out
    assert main(["spread", str(demo / "programme.md"), str(demo / "squad.csv"), "--week", "x"]) == 2


def test_a_programme_with_errors_is_read_as_far_as_it_can_be(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.copy(demo / "programme.md", demo / "p.md")
    with (demo / "p.md").open("a", encoding="utf-8") as file:
        file.write("\n- Nothing like it: 8\n\nPair Z, x rounds\n")
    assert main(["spread", str(demo / "p.md"), str(demo / "squad.csv"), "--week", "4"]) == 0
    assert "the exercise is not known" in capsys.readouterr().out


PUSH = """---
programme: Push
weeks: 2
sessions: 1 a week
---

## Cycle 1, weeks 1-2: Push

### Session 1: push, 30 min

Straight, 3 sets, rest 2 min

- Press-up: 12, 2 RIR
"""


def test_the_change_that_brings_most_back_is_told_as_text(
    demo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "push.md"
    file.write_text(PUSH, encoding="utf-8")
    rows = (demo / "squad.csv").read_text(encoding="utf-8").split("\n")
    few = tmp_path / "few.csv"
    few.write_text("\n".join([rows[0], *(r for r in rows if r.startswith(("R01,", "R03,", "R07,")))]) + "\n", "utf-8")
    before = file.read_text(encoding="utf-8")
    words = ["spread", str(file), str(few), "--suggest"]
    assert main([*words, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["suggest"]
    assert told["off"] >= 2
    assert 0 < told["tried"] <= told["possible"]
    best = told["changes"][0]
    assert best["back"] >= max(c["back"] for c in told["changes"])
    assert best["lines"][0]["new"].startswith("- ")
    assert main(words) == 0
    said = capsys.readouterr().out
    assert f"+ {best['lines'][0]['new']}" in said
    assert f": {best['back']} come back" in said
    assert file.read_text(encoding="utf-8") == before, "the text is not changed"
