"""`ferrule next`: proposals from the record of a workspace, the coach's word kept, and `sign` signing the same week."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.model.fact import Decided, Entry, PainTold, WeekTold
from ferrule.store.opening import open_record
from ferrule.store.record import RECORD_FILE

FIRST, SECOND = "2026-01-05", "2026-01-12"
NOW = datetime(2026, 1, 12, 8, tzinfo=UTC)


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """A new workspace with its first week signed."""
    place = tmp_path / "w"
    assert main(["new", str(place)]) == 0
    assert main(["sign", str(place), "--week", FIRST, "--by", "Cara"]) == 0
    capsys.readouterr()
    return place


def keep(folder: Path, *entries: Entry) -> None:
    with open_record(folder / RECORD_FILE) as record:
        assert record.add(entries, NOW).findings == ()


def pain(region: str = "calf", **more: object) -> Entry:
    fact = PainTold(date(2026, 1, 7), region, "left", 3, 3, **more)  # type: ignore[arg-type]
    return Entry("019b0000-0000-7000-8000-000000000001", "R01", NOW, "page", fact)


def data(folder: Path, capsys: pytest.CaptureFixture[str], week: str = SECOND) -> dict[str, dict[str, object]]:
    assert main(["next", str(folder), "--week", week, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["monday"] == week
    return {r["runner_id"]: r for r in told["runners"]}


def test_one_line_a_runner_and_asking_twice_gives_the_same(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["next", str(folder), "--week", SECOND]) == 0
    first = capsys.readouterr().out
    assert [line[:3] for line in first.splitlines()[:3]] == ["R01", "R02", "R03"]
    assert "has told nothing yet" in first
    assert main(["next", str(folder), "--week", SECOND]) == 0
    assert capsys.readouterr().out == first


def test_the_page_holds_everybody_and_nothing_else(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    keep(folder, pain())
    assert main(["next", str(folder), "--week", SECOND, "--out", str(tmp_path / "next.html"), "--runner", "R02"]) == 0
    page = (tmp_path / "next.html").read_text(encoding="utf-8")
    assert "R02" in page
    assert "R01" not in page
    assert "R02" in capsys.readouterr().out


def test_sign_signs_what_was_proposed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A calf that had not settled: the signed week asks less of it, and `sign` verifies it with the same bounds."""
    keep(folder, pain())
    told = data(folder, capsys)["R01"]
    cut = [x for x in told["lines"] if x["move"] == "back off"]  # type: ignore[attr-defined]
    assert cut
    assert main(["sign", str(folder), "--week", SECOND, "--by", "Cara", "--runner", "R01"]) == 0
    with open_record(folder / RECORD_FILE) as record:
        copy = record.latest("R01", date(2026, 1, 12))
    assert copy is not None
    for line in cut:
        names = [
            i.name
            for s in copy.week.sessions
            for b in s.blocks
            for i in b.items
            if (s.key, i.item_key) == (line["session_key"], line["item_key"])
        ]
        assert names == ([line["now"].partition(":")[0]] if line["now"] else [])


def test_a_word_is_kept_and_stands(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    line = data(folder, capsys)["R01"]["lines"][0]  # type: ignore[index]
    key = f"{line['session_key']}/{line['item_key']}"
    assert (
        main(
            ["next", str(folder), "--week", SECOND, "--set", "R01", key, "hold", "--by", "Cara", "--why", "form first"]
        )
        == 0
    )
    assert f"R01 {capsys.readouterr().out.split('R01 ')[1]}".startswith("R01")
    with open_record(folder / RECORD_FILE) as record:
        kept = [e for e in record.entries() if isinstance(e.fact, Decided)]
    assert [(e.source, e.runner_id) for e in kept] == [("coach", "R01")]
    fact = kept[0].fact
    assert isinstance(fact, Decided)
    assert (fact.choice, fact.by, fact.why, fact.proposed) == ("hold", "Cara", "form first", line["move"])
    after = data(folder, capsys)["R01"]["lines"][0]  # type: ignore[index]
    assert (after["move"], after["decided_by"]) == ("hold", "Cara")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["R01", "no such line", "hold"], "there is no line"),
        (["R01", "red flag", "hold"], "a red flag is cleared or it stands"),
        (["R01", "1/A1", "double"], "is no choice"),
        (["R99", "1/A1", "hold"], "no runner"),
    ],
)
def test_a_word_that_cannot_be_kept(
    words: list[str], said: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["next", str(folder), "--week", SECOND, "--set", *words, "--by", "Cara"]) == 2
    assert said in capsys.readouterr().err


def test_a_red_flag_waits_for_a_named_human(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    keep(folder, pain(flags=("chest or faint",)))
    told = data(folder, capsys)["R01"]
    assert told["outcome"] == "held"
    assert any("Stop, get medical help, and tell your coach" in a for a in told["asks"])  # type: ignore[attr-defined]
    assert main(["sign", str(folder), "--week", SECOND, "--by", "Cara", "--runner", "R01"]) == 1
    assert "red flag" in capsys.readouterr().out
    assert main(["next", str(folder), "--week", SECOND, "--set", "R01", "red flag", "cleared", "--by", "Dr M"]) == 0
    capsys.readouterr()
    assert data(folder, capsys)["R01"]["outcome"] == "fittedweek"
    assert main(["next", str(folder), "--week", SECOND, "--set", "R01", "red flag", "cleared", "--by", "Dr M"]) == 0
    assert "no red flag waits" in capsys.readouterr().out


def test_a_missed_week_is_done_again(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    fact = WeekTold(date(2026, 1, 5), "none", None, None)
    keep(folder, Entry("019b0000-0000-7000-8000-000000000002", "R02", NOW, "page", fact))
    told = data(folder, capsys)["R02"]
    assert told["silence"] == "did not do"
    assert "programme week 1 again" in told["notes"]  # type: ignore[operator]


def test_a_word_needs_a_name(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["next", str(folder), "--week", SECOND, "--set", "R01", "1/A1", "hold"]) == 2
    assert "--set needs --by" in capsys.readouterr().err
    assert main(["next", str(folder), "--week", SECOND, "--by", "Cara"]) == 2
