"""Runs on the command line: kept once, listed with their kind, overruled by the coach."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.cli.runs import Local

GPX = Path(__file__).parents[3] / "tests" / "data" / "gpx"
TABLE = (
    "date,km,time,kind\n"
    + "".join(f"2026-01-{d:02},8,48:00,\n" for d in (1, 3, 6, 8, 10, 13))
    + "2026-01-17,14,1:30:00,\n"
)


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    made = tmp_path / "w"
    assert main(["new", str(made)]) == 0
    (tmp_path / "runs.csv").write_text(TABLE, encoding="utf-8")
    capsys.readouterr()
    return made


def runs(folder: Path, *words: str) -> int:
    return main(["runs", str(folder), *words, "--runner", "R02"])


def data(folder: Path, capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, object]:
    capsys.readouterr()
    runs(folder, "--json", *words)
    found: dict[str, object] = json.loads(capsys.readouterr().out)
    return found


def test_a_track_is_kept_once(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lake = str(GPX / "cerknicko-jezero.gpx")
    assert runs(folder, lake, "--zone", "Europe/London") == 0
    assert "1 runs kept, 0 known already" in capsys.readouterr().out
    assert runs(folder, lake, "--zone", "Europe/London") == 0
    out = capsys.readouterr().out
    assert "0 runs kept, 1 known already" in out
    assert "Thu 2010-08-05    4.6 km   1:10:39   224 m up" in out


def test_a_track_in_another_zone_and_a_part_of_it_are_the_run_it_was(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lake = GPX / "cerknicko-jezero.gpx"
    runs(folder, str(lake), "--zone", "Europe/London")
    before = data(folder, capsys, "--zone", "Europe/London")["runs"]
    assert runs(folder, str(lake), "--zone", "Pacific/Auckland") == 0
    said = capsys.readouterr()
    assert "run-other-zone" in said.err
    assert "entry-changed" not in said.err
    part = folder.parent / "part.gpx"
    part.write_bytes(lake.read_bytes()[: lake.stat().st_size // 2])
    assert runs(folder, str(part), "--zone", "Europe/London") == 1
    said = capsys.readouterr()
    assert "gpx-broken" in said.err
    assert "run-overlap" in said.err
    assert data(folder, capsys)["runs"] == before


def test_dry_keeps_nothing(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert runs(folder, str(folder.parent / "runs.csv"), "--dry") == 0
    assert "7 runs read, none kept" in capsys.readouterr().out
    assert not (folder / "ferrule.db").exists()


def test_kinds_and_the_longest_run_are_said(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert runs(folder, str(folder.parent / "runs.csv")) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "14.0 km 1:30:00 long longest of its week, 1.8 times the usual 8.0 km" in out
    assert "75 % beyond the longest run told in the 30 days" in out
    assert "Frandsen 2025" in out
    assert "no curve from fewer than 3 distances" in out
    assert "no session was told" in out


def test_the_coach_overrules(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    runs(folder, str(folder.parent / "runs.csv"))
    assert runs(folder, "--set", "2026-01-17", "--kind", "race", "--by", "Kim") == 0
    assert "race, says Kim" in capsys.readouterr().out
    found = data(folder, capsys)["runs"]
    assert isinstance(found, list)
    assert [(r["kind"], r["told"]) for r in found][-1] == ("race", True)
    assert len(found) == 7, "a correction is no second run"
    runs(folder, str(folder.parent / "runs.csv"))
    assert data(folder, capsys)["runs"] == found, "the same table again does not undo it"


def test_races_give_a_curve(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = folder.parent / "races.csv"
    table.write_text(
        "date,km,time,kind\n2026-01-04,5,20:06,race\n2026-01-11,10,42:00,race\n2026-01-18,21.1,1:34:00,race\n"
    )
    assert runs(folder, str(table), "--race", "15") == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "3 races over 5-21.1 km: time grows as distance to the power 1.07" in out
    assert "15 km on the flat: 1:0" in out


def test_faults_are_told_and_the_rest_is_kept(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert runs(folder, str(GPX / "Mojstrovka.gpx"), str(folder.parent / "runs.csv")) == 1
    said = capsys.readouterr()
    assert "run-no-day" in said.err
    assert "7 runs kept" in said.out
    assert runs(folder, str(GPX / "Mojstrovka.gpx"), "--on", "2026-01-19") == 0


@pytest.mark.parametrize(
    "words",
    [
        ["none.gpx"],
        ["--zone", "Nowhere/At all"],
        ["--race", "far"],
        ["--set", "2026-01-17"],
        ["--set", "2026-03-17", "--kind", "easy", "--by", "Kim"],
    ],
)
def test_wrong_use(folder: Path, words: list[str]) -> None:
    assert runs(folder, *words) == 2


def test_local_time_is_that_of_the_machine() -> None:
    moment = datetime(2026, 7, 1, 12, tzinfo=UTC)
    assert moment.astimezone(Local()).replace(tzinfo=None) == moment.astimezone().replace(tzinfo=None)
    assert moment.astimezone(Local()).utcoffset() == moment.astimezone().utcoffset()
    assert Local().dst(None) is None
    assert Local().utcoffset(None) is None
    assert timedelta(hours=-24) < (moment.astimezone(Local()).utcoffset() or timedelta()) < timedelta(hours=24)
