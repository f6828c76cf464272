from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.cli.sign import Unsigned, said
from ferrule.store.opening import open_record
from ferrule.store.record import SentWeek

WEEK = ["--week", "2026-01-05"]
BY = ["--by", "A. Coach"]


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["new", str(tmp_path / "w")]) == 0
    capsys.readouterr()
    return tmp_path / "w"


def copies(folder: Path) -> tuple[SentWeek, ...]:
    from datetime import date

    with open_record(folder / "ferrule.db") as record:
        return record.sent(date(2026, 1, 5))


def replaced(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_a_signed_copy_outlives_changes_of_the_text(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sign", str(folder), *WEEK, *BY]) == 0
    first = copies(folder)
    text = capsys.readouterr().out
    assert [c.runner_id for c in first] == ["R01", "R02", "R03"]
    assert len({c.copy_id for c in first}) == 3
    assert all(c.copy_id in text for c in first)
    assert {c.signed_by for c in first} == {"A. Coach"}
    assert main(["sign", str(folder), *WEEK, *BY]) == 0
    assert copies(folder) == first, "the same week signed again is the same copy"
    replaced(folder / "programme.md", "Step-up: 6-8/side", "Step-up: 5-6/side")
    assert main(["sign", str(folder), *WEEK, "--runner", "R01", *BY]) == 0
    second = copies(folder)
    assert [(c.runner_id, c.sequence) for c in second] == [("R01", 1), ("R01", 2), ("R02", 1), ("R03", 1)]
    assert [c for c in second if c.sequence == 1] == list(first), "the first copies are as they were"


def test_a_runner_on_hold_needs_a_named_clearance(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = (folder / "squad.csv").read_text(encoding="utf-8").splitlines()
    rows = [lines[0] + ",health", lines[1] + ",bone stress", *(line + "," for line in lines[2:])]
    (folder / "squad.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    assert main(["sign", str(folder), *WEEK, *BY]) == 0
    assert [c.runner_id for c in copies(folder)] == ["R02", "R03"]
    assert "bone stress" in capsys.readouterr().out
    assert main(["sign", str(folder), *WEEK, "--runner", "R01", *BY]) == 1, "asked for by name and not signed"
    assert main(["clear", str(folder), "--runner", "R01", "--by", "A. Physician"]) == 0
    assert main(["sign", str(folder), *WEEK, "--runner", "R01", *BY]) == 0
    assert [c.runner_id for c in copies(folder)] == ["R01", "R02", "R03"]


def test_an_error_in_the_programme_stops_everybody(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    replaced(folder / "programme.md", "- Side plank: 20-30 s", "- Side plonk: 20-30 s")
    assert main(["sign", str(folder), *WEEK, *BY]) == 1
    said_ = capsys.readouterr()
    assert "nobody was signed" in said_.out
    assert "Side plonk" in said_.err
    assert not (folder / "ferrule.db").exists()


def test_an_error_in_a_row_stops_that_runner(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    replaced(folder / "squad.csv", "60-70 kg", "700 kg")
    assert main(["sign", str(folder), *WEEK, *BY]) == 1
    assert [c.runner_id for c in copies(folder)] == ["R01", "R03"]
    assert "the row in the squad list has an error" in capsys.readouterr().out


def test_a_runner_without_any_possible_week_is_not_signed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    replaced(folder / "squad.csv", ",40,Mon Thu Fri,", ",5,Mon,")
    assert main(["sign", str(folder), *WEEK, *BY]) in (0, 1)
    text = capsys.readouterr().out
    signed = [c.runner_id for c in copies(folder)]
    assert ("R01" in signed) != ("has no week" in text)


def test_what_is_said() -> None:
    text = said((), (Unsigned("R01", "A\x1b", "because", True),), "A. Coach")
    assert text == "0 signed by A. Coach\n1 not signed\n  R01   A?                 because"


def test_without_a_name_the_house_s_coach_signs_or_the_record_says_it_has_none(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sign", str(folder), *WEEK]) == 0
    assert "put your name into house.toml" in capsys.readouterr().out
    house = folder / "house.toml"
    house.write_text('coach = "B. Coach"\n', encoding="utf-8")
    assert main(["sign", str(folder), *WEEK]) == 0
    said_ = capsys.readouterr().out
    assert "signed by B. Coach" in said_
    assert said_.count("as signed before by the coach") == 3, "the copies and their signer stay"
