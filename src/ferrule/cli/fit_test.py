from __future__ import annotations

import json
from pathlib import Path

import pytest

from ferrule.cli.fit import plain_lines
from ferrule.cli.main import main


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["new", str(tmp_path / "w")]) == 0
    capsys.readouterr()
    return tmp_path / "w"


def test_the_table_has_every_runner_and_line_and_nothing_is_kept(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = sorted(folder.iterdir())
    assert main(["fit", str(folder), "--week", "2026-01-07"]) == 0
    text = capsys.readouterr().out
    for word in ("Ash", "Birch", "Cedar", "Step-up", "Press-up", "5 January"):
        assert word in text
    assert sorted(folder.iterdir()) == before


@pytest.mark.parametrize("columns", [72, 80, 100])
def test_the_table_fits_the_terminal(
    columns: int, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    assert main(["fit", str(folder), "--week", "2026-01-05"]) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= columns


def test_any_day_of_the_week_is_the_same_week(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = []
    for day in ("2026-01-05", "2026-01-11"):
        assert main(["fit", str(folder), "--week", day, "--json"]) == 0
        said.append(capsys.readouterr())
    assert said[0] == said[1]
    assert said[0].err == ""
    data = json.loads(said[0].out)
    assert data["monday"] == "2026-01-05"
    assert [(o["runner_id"], o["kind"]) for o in data["outcomes"]] == [(f"R0{n}", "fitted") for n in (1, 2, 3)]
    assert {o["programme_week"] for o in data["outcomes"]} == {1}


def test_a_week_outside_the_programme_is_away_and_no_error(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(folder), "--week", "2027-01-05", "--json"]) == 0
    assert {o["kind"] for o in json.loads(capsys.readouterr().out)["outcomes"]} == {"away"}


def test_one_bad_row_does_not_stop_the_others(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    squad = (folder / "squad.csv").read_text(encoding="utf-8")
    (folder / "squad.csv").write_text(squad.replace("60-70 kg", "700 kg"), encoding="utf-8")
    assert main(["fit", str(folder), "--week", "2026-01-05"]) == 1
    said = capsys.readouterr()
    assert "700" in said.err
    assert "Ash" in said.out


def test_words_from_files_cannot_steer_the_terminal() -> None:
    assert plain_lines("a\x1b[2J\nb") == "a?[2J\nb"


def test_the_read_back_is_also_a_page(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = tmp_path / "read" / "squad.html"
    assert main(["fit", str(folder), "--week", "2026-01-05", "--page", str(page)]) == 0
    text = page.read_text(encoding="utf-8")
    for word in ("Ash", "Birch", "Cedar", "Step-up"):
        assert word in text
    assert "Ash" in capsys.readouterr().out, "the table is printed all the same"


def test_several_weeks_are_a_table_a_runner(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(folder), "--week", "2026-01-05", "--weeks", "3"]) == 0
    text = capsys.readouterr().out
    for word in ("Ash (R01)", "week 1", "week 2", "week 3", "Step-up", "as the week before"):
        assert word in text


def test_several_weeks_as_data(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(folder), "--week", "2026-01-05", "--weeks", "2", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert [w["monday"] for w in data["weeks"]] == ["2026-01-05", "2026-01-12"]


@pytest.mark.parametrize("words", [["--weeks", "0"], ["--weeks", "53"], ["--weeks", "2", "--page", "x.html"]])
def test_weeks_that_cannot_be(words: list[str], folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(folder), "--week", "2026-01-05", *words]) == 2
    assert "--weeks" in capsys.readouterr().err
