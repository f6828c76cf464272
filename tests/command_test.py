"""Commands from the outside: wrong use, exit codes, nothing printed where data is promised."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest

from ferrule.cli.main import main

FAULT = "a fault in Ferrule itself"


@pytest.mark.parametrize(
    "words",
    [
        ["check"],
        ["check", "no-such-file.md"],
        ["check", "bad\0name.md"],
        ["tidy", "no-such-file.md"],
        ["tidy", "."],
        ["fit", "no-such-folder", "--week", "2026-01-19"],
        ["fit", "."],
        ["fit", ".", "--week", "next monday"],
        ["fit", ".", "--week", "2026-02-30"],
        ["fit", ".", "--week", "0001-01-01"],
        ["fit", ".", "--week", "9999-12-31"],
        ["sign", ".", "--week", "2026-01-19"],
        ["sign", ".", "--week", "2026-01-19", "--by", "  "],
        ["sign", ".", "--week", "2026-01-19", "--by", "A\x1b[2J"],
        ["clear", ".", "--by", "A. Physician"],
        ["clear", "no-such-folder", "--runner", "R01", "--by", "A. Physician"],
        ["sheets", ".", "--week", "2026-01-19"],
        ["sheets", "no-such-folder", "--week", "2026-01-19", "--out", "out"],
        ["library", "an exercise nobody knows"],
        ["library", "--figure", "x.svg"],
        ["demo"],
        ["new"],
        ["house", "more"],
    ],
    ids=" ".join,
)
def test_wrong_use_is_a_sentence_and_two(
    words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert f"ferrule {words[0]}" in said.err
    assert "Traceback" not in said.err
    assert FAULT not in said.err
    assert list(tmp_path.iterdir()) == []


def test_new_does_not_overwrite(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", str(tmp_path / "a" / "b")]) == 0
    before = {p: p.read_bytes() for p in (tmp_path / "a" / "b").iterdir()}
    assert {p.name for p in before} == {"programme.md", "squad.csv", "house.toml"}
    assert main(["new", str(tmp_path / "a" / "b")]) == 2
    assert "holds something" in capsys.readouterr().err
    assert before == {p: p.read_bytes() for p in (tmp_path / "a" / "b").iterdir()}


def test_a_folder_that_cannot_be_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    assert main(["new", str(tmp_path / "file" / "under")]) == 2
    assert FAULT not in capsys.readouterr().err


@pytest.mark.parametrize("locale", ["C", "C.UTF-8"])
def test_a_terminal_that_cannot_show_a_letter(locale: str, tmp_path: Path) -> None:
    (tmp_path / "programme.md").write_text(
        "## Cycle 1, weeks 1-3: Grüße “é”\n\n- Ünknöwn — “thing”: 8\n", encoding="utf-8"
    )
    environment = {**os.environ, "LC_ALL": locale, "PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii"}
    done = subprocess.run(
        [sys.executable, "-m", "ferrule", "check", str(tmp_path / "programme.md")],
        env=environment,
        capture_output=True,
        check=False,
    )
    assert done.returncode == 1, done.stderr
    assert b"Traceback" not in done.stderr
    assert FAULT.encode() not in done.stderr


def test_a_reader_that_goes_away() -> None:
    done = subprocess.run(
        f"{sys.executable} -m ferrule library | head -n 1", shell=True, capture_output=True, text=True, check=False
    )
    assert done.stderr == ""
    assert "exercises in" in done.stdout


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
@pytest.mark.parametrize("to", [">/dev/full", ">&-"])
@pytest.mark.parametrize("words", ["library", "--help", "check --help"])
def test_output_that_cannot_be_written(words: str, to: str) -> None:
    done = subprocess.run(
        f"{sys.executable} -m ferrule {words} {to}", shell=True, capture_output=True, text=True, check=False
    )
    assert "Traceback" not in done.stderr
    assert "Exception ignored" not in done.stderr
    assert FAULT not in done.stderr


def test_help_is_instant() -> None:
    """Under three times an empty Python: best of several turns, so that a busy machine does not decide."""

    def seconds(*command: str) -> float:
        start = time.perf_counter()
        subprocess.run([sys.executable, *command], check=True, stdout=subprocess.DEVNULL)
        return time.perf_counter() - start

    turns = [(seconds("-c", "pass"), seconds("-m", "ferrule", "--help")) for _ in range(9)]
    ratio = statistics.median(ours / empty for empty, ours in turns)
    assert min(ratio, min(o for _, o in turns) / min(e for e, _ in turns)) < 3
