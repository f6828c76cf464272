"""Time away from the command line: recorded once, said as before and after, taken back, and met by the fit."""

from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.cli.record import with_clearances
from ferrule.cli.workspace import open_workspace
from ferrule.model.squad import Absence


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    assert main(["new", str(tmp_path / "w")]) == 0
    capsys.readouterr()
    return str(tmp_path / "w")


def out(words: list[str], capsys: pytest.CaptureFixture[str], code: int = 0) -> str:
    assert main(words) == code
    said = capsys.readouterr()
    return said.out + said.err


HOLIDAY = ["--from", "2026-01-12", "--to", "2026-01-18", "--kind", "holiday"]


def test_recorded_once_and_said_as_before_and_after(folder: str, capsys: pytest.CaptureFixture[str]) -> None:
    text = out(["away", folder, "R01", *HOLIDAY], capsys)
    assert text.startswith("R01 ")
    assert "holiday, 2026-01-12 to 2026-01-18, no training" in text
    assert "Week of 12 Jan 2026: away (was programme week 2)." in text
    assert "The programme ends in the week of" in text
    assert "already" in out(["away", folder, "R01", *HOLIDAY], capsys)
    listed = out(["away", folder, "R01"], capsys)
    assert listed.count("holiday") == 1
    assert "no time away is recorded" in out(["away", folder, "R02"], capsys)


def test_dry_keeps_nothing(folder: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "(was programme week 2)" in out(["away", folder, "R01", *HOLIDAY, "--dry"], capsys)
    assert "no time away" in out(["away", folder, "R01"], capsys)


def test_taken_back(folder: str, capsys: pytest.CaptureFixture[str]) -> None:
    out(["away", folder, "R01", *HOLIDAY], capsys)
    text = out(["away", folder, "R01", "--take-back", "2026-01-12"], capsys)
    assert "taken back: holiday" in text
    assert "Week of 12 Jan 2026: programme week 2 (was none)." in text
    assert "no time away" in out(["away", folder, "R01"], capsys)
    assert "no time away of R01 begins" in out(["away", folder, "R01", "--take-back", "2026-01-12"], capsys, 2)


def test_kit_ramp_and_who_said_so(folder: str, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["--from", "2026-01-12", "--kind", "illness", "--kit", "mat", "--ramp", "60,80", "--by", "A. Coach"]
    text = out(["away", folder, "R01", *words], capsys)
    assert "illness, 2026-01-12, with mat, then 60, 80 % for 2 weeks, said by A. Coach" in text
    workspace = with_clearances(open_workspace(Path(folder)))
    (absence,) = workspace.squad.runners[0].away
    assert isinstance(absence, Absence)
    assert absence.kit is not None
    assert [k.kind for k in absence.kit] == ["mat"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--from", "2026-01-18", "--to", "2026-01-12", "--kind", "holiday"], "is before the first"),
        (["--from", "2026-01-12", "--to", "2028-01-12", "--kind", "holiday"], "check the years"),
        (["--from", "2026-01-12", "--kind", "holiday", "--kit", "widget"], "the kit cannot be read"),
        (["--from", "2026-01-12", "--kind", "holiday", "--ramp", "0,50"], "is no ramp"),
        (["--from", "2026-01-12"], "--kind is needed"),
        (["--to", "2026-01-12"], "--from is needed"),
    ],
)
def test_what_is_refused(folder: str, words: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    text = out(["away", folder, "R01", *words], capsys, 2)
    assert said in text
    assert "Traceback" not in text
    assert "no time away" in out(["away", folder, "R01"], capsys)


def test_the_fit_and_the_calendar_meet_it(folder: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    week = ["--week", "2026-01-05", "--runner", "R01", "--by", "A. Coach"]
    out(["sign", folder, *week], capsys)
    out(["sheets", folder, "--week", "2026-01-05", "--out", str(tmp_path / "o")], capsys)
    before = (tmp_path / "o" / "R01-2026-01-05.ics").read_text(encoding="utf-8")
    assert "STATUS:CANCELLED" not in before
    ill = ["--from", "2026-01-05", "--to", "2026-01-11", "--kind", "illness"]
    text = out(["away", folder, "R01", *ill], capsys)
    assert "Already sent: the copy stays as it is." in " ".join(text.split())
    assert "Week of 12 Jan 2026: programme week 1 (was 2)." in text or "(were" in text
    out(["sheets", folder, "--week", "2026-01-05", "--out", str(tmp_path / "o")], capsys)
    after = (tmp_path / "o" / "R01-2026-01-05.ics").read_text(encoding="utf-8")
    assert after.count("STATUS:CANCELLED") == before.count("STATUS:CONFIRMED") > 0
    assert "SEQUENCE:1" in before
    assert "SEQUENCE:2" in after
    out(["sign", folder, "--week", "2026-01-12", "--runner", "R01", "--by", "A. Coach"], capsys)
    out(["sheets", folder, "--week", "2026-01-12", "--out", str(tmp_path / "o")], capsys)
    later = (tmp_path / "o" / "R01-2026-01-12.ics").read_text(encoding="utf-8")
    assert uids(later) == uids(before), "the same sessions, on other days"
    assert "SEQUENCE:3" in later
    assert "STATUS:CANCELLED" not in later


def uids(text: str) -> list[str]:
    return sorted(line for line in text.replace("\n ", "").splitlines() if line.startswith("UID"))
