"""The list on the command line: what it says, what an answer does, what is wrong use."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.model.entry import Reserve
from ferrule.model.fact import Asked, PainTold, WeekTold
from ferrule.notice.sample import entry, told_set, week
from ferrule.store.opening import open_record
from ferrule.store.record import RECORD_FILE

MONDAY = date(2026, 1, 5)
NOW = datetime(2026, 1, 20, 9, tzinfo=UTC)
ON = ["--on", "2026-01-19"]


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    made = tmp_path / "w"
    assert main(["new", str(made)]) == 0
    with open_record(made / RECORD_FILE) as record:
        record.send_all([week("R01", MONDAY), week("R02", MONDAY), week("R03", MONDAY)], "Kim", NOW)
        told = [
            entry("R01", Asked(MONDAY + timedelta(days=3), "may I swim?")),
            entry("R02", PainTold(MONDAY + timedelta(days=9), "calf", "left", 5, 5)),
            entry("R01", WeekTold(MONDAY + timedelta(days=7), "all", "right", pain=False)),
            entry("R02", WeekTold(MONDAY + timedelta(days=7), "all", "right", pain=False)),
        ]
        assert record.add(told, NOW).new == 4
    capsys.readouterr()
    return made


def data(folder: Path, capsys: pytest.CaptureFixture[str], *words: str) -> list[dict[str, object]]:
    assert main(["due", str(folder), *ON, "--json", *words]) == 0
    rows: list[dict[str, object]] = json.loads(capsys.readouterr().out)["due"]
    return rows


def test_the_list_in_words(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["due", str(folder), *ON]) == 0
    out = capsys.readouterr().out
    assert "Mon 19 Jan 2026: 3 runners need a word from you, about 16 min" in out
    assert out.index("\npain\n") < out.index("\nquestion\n") < out.index("\nsilent\n")
    assert "left calf 5 of 10, 5 the next morning: above the line of 3, not settled by the next morning" in " ".join(
        out.split()
    )
    assert "(5 days), 8 min" in out
    assert "draft:" in out
    assert "--week DATE" in out


def test_the_list_as_data(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = data(folder, capsys)
    assert [(r["runner_id"], r["tier"], r["since"], r["minutes"]) for r in rows] == [
        ("R02", "pain", "2026-01-14", 8),
        ("R01", "question", "2026-01-08", 5),
        ("R03", "silent", "2026-01-05", 3),
    ]


@pytest.mark.parametrize(("runner", "tier"), [("R02", "pain"), ("R01", "question"), ("R03", "silent")])
def test_an_answer_takes_it_off_the_list(
    folder: Path, capsys: pytest.CaptureFixture[str], runner: str, tier: str
) -> None:
    words = ["--answer", runner, "--tier", tier, "--by", "Kim", "--words", "spoken"]
    assert main(["due", str(folder), *ON, *words]) == 0
    assert "answered by Kim" in capsys.readouterr().out
    assert tier not in [r["tier"] for r in data(folder, capsys)]
    assert len(data(folder, capsys)) == 2
    assert main(["due", str(folder), *ON, *words]) == 2
    assert "nothing of" in capsys.readouterr().err


def test_a_long_silence_is_counted_from_where_it_began(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_record(folder / RECORD_FILE) as record:
        later = [week("R01", MONDAY + timedelta(weeks=w)) for w in range(1, 12)]
        record.send_all(later, "Kim", NOW)
        record.add([entry("R01", told_set("R01", MONDAY + timedelta(days=14), reserve=Reserve(2, 2)))], NOW)
    assert main(["due", str(folder), "--on", "2026-03-20", "--json"]) == 0
    silent = {r["runner_id"]: r for r in json.loads(capsys.readouterr().out)["due"] if r["tier"] == "silent"}
    assert silent["R01"]["since"] == "2026-01-21"
    assert silent["R01"]["facts"][0].startswith("last word on Mon 19 Jan; 26 sessions since Wed 21 Jan")


def test_the_next_week_is_fitted_when_asked_for(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["due", str(folder), *ON, "--week", "2026-01-19", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["fitted_week"] == "2026-01-19"


def test_nobody_and_nothing_told_yet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", str(tmp_path / "w")]) == 0
    assert main(["due", str(tmp_path / "w"), *ON]) == 0
    assert "nobody needs a word" in capsys.readouterr().out
    assert main(["due", str(tmp_path / "w"), "--answer", "R01", "--tier", "pain", "--by", "Kim"]) == 2


def test_wrong_use(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["due", str(folder / "none")]) == 2
    assert main(["due", str(folder), "--answer", "R01"]) == 2
    assert main(["due", str(folder), "--by", "Kim"]) == 2
    assert main(["due", str(folder), "--answer", "R99", "--tier", "pain", "--by", "Kim"]) == 2
    assert "no runner 'R99'" in capsys.readouterr().err
