from __future__ import annotations

import json
from pathlib import Path

import pytest

from ferrule.cli.main import main

TEXT = """\
---
programme: P
weeks: 2
---

## Cycle 1, week 1: First

### Session 1, 30 min

Straight, 3 sets, rest 60 s

- Squat: 8
- Squat: 8, 12 kg at chest
- Flying trapeze: 8

## Cycle 2, week 2: Second

### Session 1, 30 min

Straight, 3 sets, rest 60 s

- any hinge, one leg: 8/side
"""


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    (tmp_path / "programme.md").write_text(TEXT, encoding="utf-8")
    return tmp_path


def test_each_cycle_has_its_list(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["shots", str(workspace)])
    text = " ".join(capsys.readouterr().out.split())
    assert "First, week 1: 1 clip for 2 things to be seen" in text
    assert "1. Squat + Squat, a weight at the chest" in text
    assert "say: Sit down between your heels." in text
    assert "Not in the library" in text
    assert "session 1, A3: Flying trapeze" in text
    assert "session 1, A: any hinge, one leg" in text


def test_one_cycle_as_data(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["shots", str(workspace / "programme.md"), "--cycle", "1", "--json"])
    data = json.loads(capsys.readouterr().out)
    assert len(data["cycles"]) == 1
    clip = data["cycles"][0]["clips"][0]
    assert [s["place"] for s in clip["shows"]] == [None, "chest"]
    assert clip["view"] == "side"
    assert clip["used"] == ["session 1, A1", "session 1, A2"]


def test_a_cycle_that_is_not_there_is_wrong_use(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["shots", str(workspace), "--cycle", "7"]) == 2
    assert "it has 1, 2" in capsys.readouterr().err


def test_a_folder_without_a_programme_is_wrong_use(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["shots", str(tmp_path)]) == 2
    assert "there is no file" in capsys.readouterr().err


def test_a_file_without_a_cycle_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "programme.md").write_text("nothing\n", encoding="utf-8")
    assert main(["shots", str(tmp_path)]) == 1
    assert "nothing to film" in capsys.readouterr().out


def test_a_fitted_week_shows_what_anybody_is_given_and_their_ways_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "w"
    assert main(["new", str(folder)]) == 0
    capsys.readouterr()
    assert main(["fit", str(folder), "--week", "2026-01-05", "--json"]) == 0
    fitted = json.loads(capsys.readouterr().out)
    items = [i for o in fitted["outcomes"] for s in o["sessions"] for b in s["blocks"] for i in b["items"]]
    ways = [i[w] for i in items for w in ("too_hard", "too_easy") if i[w]]
    assert items
    assert ways
    assert main(["shots", str(folder), "--week", "2026-01-05", "--json"]) == 0
    (shots,) = json.loads(capsys.readouterr().out)["cycles"]
    shown = {s["id"] for clip in shots["clips"] for s in clip["shows"]}
    assert shown == {x["variant_id"] for x in (*items, *ways)}
    assert shots["open_lines"] == []
