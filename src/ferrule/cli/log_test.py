from __future__ import annotations

import io
import json
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from ferrule.cli.main import main
from ferrule.store.opening import open_record
from ferrule.store.sample import MONDAY, sample_week

SQUAD = "id,name,level,days\nR01,Arla T,some,Mon Wed\nR02,Bram K,some,Mon Wed\n"
NOW = datetime(2026, 1, 17, 9, 30, tzinfo=UTC)
EXAMPLE = Path(__file__).parents[1] / "record" / "phone_example.json"


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    (tmp_path / "squad.csv").write_text(SQUAD, encoding="utf-8")
    with open_record(tmp_path / "ferrule.db") as record:
        for runner_id in ("R01", "R02"):
            record.send(replace(sample_week(runner_id), monday=MONDAY), "Coach", NOW)
    return tmp_path


def copy_of(workspace: Path, runner_id: str) -> str:
    with open_record(workspace / "ferrule.db") as record:
        found = record.latest(runner_id, MONDAY)
    assert found is not None
    return found.copy_id


def phone_file(workspace: Path, name: str = "phone.json", **head: object) -> Path:
    body = {**json.loads(EXAMPLE.read_text(encoding="utf-8")), "copy": copy_of(workspace, "R01"), **head}
    path = workspace / name
    path.write_text(json.dumps(body), encoding="utf-8")
    return path


def log(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str]:
    code = main(["log", *map(str, words)])
    told = capsys.readouterr()
    assert not told.err, told.err
    return code, told.out


def kept(workspace: Path) -> int:
    with open_record(workspace / "ferrule.db") as record:
        return len(record.entries())


def test_a_phone_file_is_kept_once(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = phone_file(workspace)
    code, out = log(capsys, workspace, path)
    assert (code, kept(workspace)) == (0, 13)
    assert out.splitlines()[1].split()[-4:] == ["R01", "13", "0", "0"]
    code, out = log(capsys, workspace, path, path)
    assert (code, kept(workspace)) == (0, 13)
    assert out.splitlines()[1].split()[-4:] == ["R01", "0", "13", "0"]


def test_half_a_file_then_the_whole_one(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = phone_file(workspace)
    half = workspace / "half.json"
    half.write_bytes(path.read_bytes()[:1200])
    code, out = log(capsys, workspace, half)
    assert code == 1
    assert "log-cut-off" in out
    assert 0 < kept(workspace) < 13
    log(capsys, workspace, path)
    assert kept(workspace) == 13


def test_another_runners_file_is_refused_and_stays(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = phone_file(workspace, runner="R02")
    before = path.read_bytes()
    code, out = log(capsys, workspace, path)
    assert (code, kept(workspace), path.read_bytes()) == (1, 0, before)
    assert "R01 Arla T" in out
    code, out = log(capsys, workspace, phone_file(workspace), "--runner", "R02")
    assert (code, kept(workspace)) == (1, 0)
    assert "log-other-runner" in out


def test_dry_keeps_nothing(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = log(capsys, workspace, phone_file(workspace), "--dry")
    assert (code, kept(workspace)) == (0, 0)
    assert "would take" in out


def test_typed_lines_on_standard_input(
    workspace: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("Step-up: 6, 6, 5/side, 12 kg, 1 RIR\nrating 6, 40 min\n"))
    code, out = log(capsys, workspace, "--runner", "r01", "--on", "2026-01-19")
    assert (code, kept(workspace)) == (0, 4)
    assert "standard input" in out
    code, out = log(capsys, workspace, "--show", "R01")
    assert code == 0
    assert "R01 Arla T: 4 entries stand" in out
    assert "6 with 12 kg; 6 with 12 kg; 5 with 12 kg, 1 left" in out
    assert "done, rating 6, 40 min" in out


def test_typing_it_again_in_other_words_corrects_it(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = workspace / "log.txt"
    path.write_text("R01 2026-01-19\nStep-up: 8 failed at 9\n", encoding="utf-8")
    log(capsys, workspace, path)
    path.write_text("R01 2026-01-19\nStep-up: 6\n", encoding="utf-8")
    _, out = log(capsys, workspace, path)
    assert "1 (1 corrected)" in out
    _, out = log(capsys, workspace, path)
    assert out.splitlines()[1].split()[-4:] == ["R01", "0", "1", "0"]
    _, out = log(capsys, workspace, "--show", "R01")
    assert "6 with 12 kg" in out
    assert "failed" not in out


def test_a_page_and_a_line_that_differ_are_a_question(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log(capsys, workspace, phone_file(workspace))
    path = workspace / "log.txt"
    path.write_text("R01 2026-01-19\nStep-up: 7, 7\n", encoding="utf-8")
    _, out = log(capsys, workspace, path)
    assert "log-told-twice" in out
    _, out = log(capsys, workspace, path, "--instead")
    assert "(2 corrected)" in out
    assert "log-told-twice" not in out
    _, out = log(capsys, workspace, "--show", "arla t")
    assert "R01 Arla T" in out
    assert "7 with 12 kg; 7 with 12 kg" in out
    _, out = log(capsys, workspace, path, "--instead")
    assert out.splitlines()[1].split()[-4:] == ["R01", "0", "2", "0"]


def test_a_table_and_a_slip(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = workspace / "log.csv"
    path.write_text(
        "Runner;Date;Exercise;Reps;kg;RIR\nR01;19/01/2026;Step-up;55;12;2\nR09;2026-01-19;Step-up;6;12;2\n",
        encoding="utf-8",
    )
    code, out = log(capsys, workspace, path)
    assert (code, kept(workspace)) == (1, 1)
    assert "log-slip" in out
    assert "log.csv:3:1" in out
    code, out = log(capsys, workspace, path, "--json")
    told = json.loads(out)["files"][0]
    assert (told["kind"], told["taken"], told["known"]) == ("table", 0, 1)


def test_show_as_data(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log(capsys, workspace, phone_file(workspace))
    _, out = log(capsys, workspace, "--show", "R01", "--json")
    told = json.loads(out)
    assert len(told) == 10
    assert {"id", "day", "kind", "what", "told", "source", "recorded_at"} == set(told[0])


@pytest.mark.parametrize(
    "words", [["--show", "R01", "a.json"], ["--on", "2026-01-19"], [], ["nowhere.json"], ["-", "-"], ["--show", "R99"]]
)
def test_wrong_use_says_so(workspace: Path, capsys: pytest.CaptureFixture[str], words: list[str]) -> None:
    assert main(["log", str(workspace), *words]) == 2
    assert capsys.readouterr().err


def test_a_workspace_without_a_record(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "squad.csv").write_text(SQUAD, encoding="utf-8")
    path = tmp_path / "log.txt"
    path.write_text("R01 2026-01-19\nStep-up: 6\n", encoding="utf-8")
    code, _ = log(capsys, tmp_path, path, "--dry")
    assert (code, (tmp_path / "ferrule.db").exists()) == (0, False)
    code, out = log(capsys, tmp_path, "--show", "R01")
    assert (code, "0 entries stand" in out) == (0, True)
