from __future__ import annotations

import json
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

import pytest

from ferrule.cli.main import main

DEMO = (files("ferrule.demo") / "programme.md").read_text(encoding="utf-8")


@pytest.fixture
def pair(tmp_path: Path) -> list[str]:
    """The demo programme, and the same with a few lines put otherwise."""
    after = DEMO
    for was, now in (
        ("- Step-up, low: 8-10/side, 2-3 RIR, tempo 2-0-1", "- Step-up, low: 10-12/side, 2-3 RIR, tempo 3-0-1"),
        ("- Foot dome: 6\n", "- Foot dome: 6\n- One-leg stand: 30 s/side\n"),
        ("- Hop forward and hold: 4/side", "- Hop in place: 4/side"),
    ):
        assert after.count(was) == 1
        after = after.replace(was, now)
    (tmp_path / "old.md").write_text(DEMO, encoding="utf-8")
    (tmp_path / "new.md").write_text(after, encoding="utf-8")
    return [str(tmp_path / "old.md"), str(tmp_path / "new.md")]


def test_the_list(pair: list[str], capsys: pytest.CaptureFixture[str], golden: Callable[[str, str], None]) -> None:
    assert main(["compare", *pair]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    golden("cli/compare.txt", said.out)


@pytest.mark.parametrize("columns", [40, 72])
def test_the_list_fits_the_terminal(
    columns: int, pair: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    assert main(["compare", *pair]) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= columns


def test_the_same_as_data(pair: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", *pair, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["same"] is False
    assert [part["weeks"] for part in data["weeks"]] == [[1, 2, 3], [4, 5, 6]]
    assert data["weeks"][1]["changes"] == [
        {
            "kind": "swapped", "level": "line", "session": "Session 2: hinge and calf", "block": "Straight, Hop in place",
            "line": "Hop in place", "alternative": "", "what": "line", "old": "Hop forward and hold: 4/side",
            "new": "Hop in place: 4/side", "also": [],
        }
    ]  # fmt: skip


def test_no_difference(pair: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", pair[0], pair[0]]) == 0
    assert capsys.readouterr().out == "no difference in what a runner does\n"
    assert main(["compare", pair[0], pair[0], "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"same": True, "weeks": []}


def test_what_cannot_be_read_is_said_beside_the_comparison(pair: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    new = Path(pair[1])
    new.write_text(
        new.read_text(encoding="utf-8").replace("- Foot dome: 6\n", "- Foot dome: six or so!\n"), encoding="utf-8"
    )
    assert main(["compare", *pair]) == 1
    said = capsys.readouterr()
    assert "six or so" in said.err
    assert "new.md" in said.err
    assert "Step-up, low: reps 10-12" in said.out


@pytest.mark.parametrize(
    "data", [b"", b"\x00\x01\x02" * 400, b"hello", DEMO.encode() * 200], ids=["empty", "binary", "prose", "long"]
)
def test_a_file_that_is_no_programme(data: bytes, pair: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    Path(pair[1]).write_bytes(data)
    assert main(["compare", *pair]) == 1
    assert "error" in capsys.readouterr().err


def test_a_file_that_is_not_there(pair: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", pair[0], pair[0] + "x"]) == 2
    assert "there is no file" in capsys.readouterr().err


def test_each_file_is_read_with_the_exercises_of_its_own_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "### Session 1: x\n\nStraight, 1 set\n\n- Press-up: 8\n"
    for name, more in (("a", ""), ("b", "- Press up: 9\n")):
        (tmp_path / name / "library").mkdir(parents=True)
        (tmp_path / name / "programme.md").write_text(text + more, encoding="utf-8")
    (tmp_path / "b" / "library" / "mine.toml").write_text("nonsense [", encoding="utf-8")
    assert main(["compare", str(tmp_path / "a" / "programme.md"), str(tmp_path / "b" / "programme.md")]) == 1
    assert "mine.toml" in capsys.readouterr().err
