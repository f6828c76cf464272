"""Bad input through the command line: a clear finding with its place, exit code 0 or 1, never a fault of ours."""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

import pytest

from ferrule.cli.main import main

START = files("ferrule.cli") / "start"
PROGRAMME = (START / "programme.md").read_text(encoding="utf-8")
SQUAD = (START / "squad.csv").read_text(encoding="utf-8")
HEADING = SQUAD.splitlines()[0]

Make = Callable[[], bytes]


def changed(text: str, old: str, new: str) -> bytes:
    """`text` with `old` written as `new`; fails when there is nothing to change."""
    assert old in text, f"{old!r} is not in the starting text"
    return text.replace(old, new, 1).encode("utf-8")


def row(**cells: str) -> bytes:
    """The starting squad with a first runner whose cells are changed."""
    heads = HEADING.split(",")
    first = dict(zip(heads, SQUAD.splitlines()[1].split(","), strict=True)) | {
        k.replace("_", " "): v for k, v in cells.items()
    }
    return "\n".join([",".join(first), ",".join(first.values()), *SQUAD.splitlines()[2:], ""]).encode("utf-8")


def nested(depth: int) -> bytes:
    lines = [" " * (2 * i) + "- or Press-up: 8" for i in range(1, depth)]
    return changed(PROGRAMME, "- Press-up: 8-10, 3 RIR\n", "- Press-up: 8-10, 3 RIR\n" + "\n".join(lines) + "\n")


BAD: dict[str, tuple[str, bytes]] = {
    "programme empty": ("programme.md", b""),
    "programme blank": ("programme.md", b" \n\n\t\n"),
    "programme binary": ("programme.md", bytes(range(256)) * 40),
    "programme zeros": ("programme.md", b"\0" * 5000),
    "programme of 10 MB": ("programme.md", (PROGRAMME * 20000).encode()[:10_000_000]),
    "one line of 900 kB": ("programme.md", b"- Step-up: " + b"8, " * 300_000),
    "by-week column too many": (
        "programme.md",
        changed(PROGRAMME, "| rounds | 3   |     | 4   | 3   |", "| rounds | 3 | | 4 | 3 | 2 |"),
    ),
    "by-week columns of other weeks": (
        "programme.md",
        changed(PROGRAMME, "| week   | 1   | 2   | 3   | 4   |", "| week   | 1   | 2   | 3   | 9   |"),
    ),
    "by-week row of no item": ("programme.md", changed(PROGRAMME, "| rounds |", "| Stpe-up: reps |")),
    "a week is missing": ("programme.md", changed(PROGRAMME, "weeks: 4", "weeks: 6")),
    "negative rest": ("programme.md", changed(PROGRAMME, "rest 75-90 s", "rest -30 s")),
    "no rounds": ("programme.md", changed(PROGRAMME, "Pair A, 3 rounds", "Pair A, 0 rounds")),
    "range backwards": ("programme.md", changed(PROGRAMME, "6-8/side", "8-6/side")),
    "unknown exercise": ("programme.md", changed(PROGRAMME, "- Step-up:", "- Stpe-up:")),
    "squad empty": ("squad.csv", b""),
    "squad binary": ("squad.csv", bytes(range(255, -1, -1)) * 40),
    "squad of 10 MB": ("squad.csv", (SQUAD * 40000).encode()[:10_000_000]),
    "squad heading only": ("squad.csv", (HEADING + "\n").encode()),
    "squad in Latin letters": ("squad.csv", SQUAD.replace("Ash", "Åsé").encode("latin-1")),
    "runner twice": ("squad.csv", changed(SQUAD, "R02", "R01")),
    "mass of 700 kg": ("squad.csv", row(mass="700 kg")),
    "kit that cannot be read": ("squad.csv", row(kit="a thing of iron; dumbbell ?? kg")),
    "born in the future": ("squad.csv", row(birth_year="2190")),
    "anchor that is no date": ("squad.csv", row(anchor="from the spring")),
    "days that are none": ("squad.csv", row(days="Funday")),
    "a quote left open": ("squad.csv", changed(SQUAD, "R02,Birch", 'R02,"Birch')),
    "house rules that are no TOML": ("house.toml", b"[[[\n"),
    "house rules binary": ("house.toml", bytes(range(256))),
    "house rule unknown": ("house.toml", b"no-such-rule = 3\n"),
    "own exercises that are no TOML": ("library/own.toml", b"= 3\n"),
    "own exercises binary": ("library/own.toml", bytes(range(256))),
}
"""Input that must be told as an error: name -> (file of the workspace, its bytes)."""

ADVISED: dict[str, tuple[str, bytes]] = {
    "programme in Latin letters": ("programme.md", PROGRAMME.replace("First", "Première é").encode("latin-1")),
    "nested ten deep": ("programme.md", nested(10)),
}
"""Input that is read as best one can, and told as advice."""

FINE: dict[str, tuple[str, bytes]] = {
    "programme with Windows line ends": ("programme.md", PROGRAMME.replace("\n", "\r\n").encode()),
    "programme with a byte order mark": ("programme.md", b"\xef\xbb\xbf" + PROGRAMME.encode()),
    "squad with Windows line ends": ("squad.csv", SQUAD.replace("\n", "\r\n").encode()),
    "squad with a byte order mark": ("squad.csv", b"\xef\xbb\xbf" + SQUAD.encode()),
    "squad with semicolons": ("squad.csv", SQUAD.replace(";", "+").replace(",", ";").replace("+", ",").encode()),
    "house rules empty": ("house.toml", b""),
}
"""Input that is unusual and right."""

ODD: dict[str, tuple[str, bytes]] = {
    "programme cut short": ("programme.md", PROGRAMME.encode()[: len(PROGRAMME) * 2 // 3]),
    "programme with tabs": (
        "programme.md",
        PROGRAMME.replace("  note:", "\tnote:").replace("  - or", "\t- or").encode(),
    ),
    "squad cut short": ("squad.csv", SQUAD.encode()[: len(SQUAD) * 2 // 3]),
    "programme with old line ends": ("programme.md", PROGRAMME.replace("\n", "\r").encode()),
}
"""Input that may be read or told, but never ends in a fault."""


@pytest.fixture
def workspace(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    folder = tmp_path / "w"
    assert main(["new", str(folder)]) == 0
    capsys.readouterr()
    return folder


def checked(
    folder: Path, name: str, data: bytes, capsys: pytest.CaptureFixture[str]
) -> tuple[int, list[dict[str, object]]]:
    """Exit code and findings of `ferrule check` on the workspace with one file put in; both outputs are looked at."""
    (folder / name).parent.mkdir(exist_ok=True)
    (folder / name).write_bytes(data)
    assert main(["check", str(folder)]) in (0, 1)
    said = capsys.readouterr()
    assert said.err == ""
    assert len(said.out) < 300_000, "more than a person can read"
    code = main(["check", str(folder), "--json"])
    said = capsys.readouterr()
    assert said.err == ""
    findings = json.loads(said.out)["findings"]
    assert len({json.dumps(f) for f in findings}) == len(findings), "a finding is told twice"
    assert all(f["what"] and f["level"] in ("error", "advice", "note") for f in findings)
    return code, findings


def test_the_start_has_no_errors(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(workspace)]) == 0, capsys.readouterr().out


@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_told(name: str, workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, data = BAD[name]
    code, findings = checked(workspace, file, data, capsys)
    assert code == 1
    errors = [f for f in findings if f["level"] == "error"]
    assert any(f["file"] == str(workspace / file) and f["line"] for f in errors), "no error points into the file"
    assert all(f["fix"] for f in errors), "an error says no way out"
    assert len(findings) <= 40, f"one slip became {len(findings)} findings"


@pytest.mark.parametrize("name", ADVISED)
def test_what_is_read_as_best_one_can_is_told(name: str, workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, data = ADVISED[name]
    code, findings = checked(workspace, file, data, capsys)
    assert code == 0
    assert any(f["level"] == "advice" and f["file"] == str(workspace / file) for f in findings)


@pytest.mark.parametrize("name", FINE)
def test_unusual_input_is_read(name: str, workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, data = FINE[name]
    before = checked(workspace, "none.txt", b"", capsys)[1]
    code, findings = checked(workspace, file, data, capsys)
    assert code == 0, findings
    assert [f["code"] for f in findings] == [f["code"] for f in before]


@pytest.mark.parametrize("name", ODD)
def test_odd_input_is_no_fault(name: str, workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    checked(workspace, *ODD[name], capsys)


@pytest.mark.parametrize("name", [name for name, (file, _) in (BAD | ADVISED | ODD).items() if file == "programme.md"])
def test_tidy_of_a_bad_programme_is_no_fault(name: str, workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (workspace / "programme.md").write_bytes((BAD | ADVISED | ODD)[name][1])
    assert main(["tidy", str(workspace / "programme.md")]) in (0, 1)
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "file"),
    [("programme of 10 MB", "programme.md"), ("programme binary", "programme.md"), ("squad binary", "squad.csv")],
)
def test_the_other_commands_say_it_too(
    name: str, file: str, workspace: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (workspace / file).write_bytes(BAD[name][1])
    assert main(["fit", str(workspace), "--week", "2026-01-05"]) == 1
    said = capsys.readouterr()
    assert "error" in said.out + said.err
    assert main(["sign", str(workspace), "--week", "2026-01-05", "--by", "A. Coach"]) == 1
    assert "Traceback" not in capsys.readouterr().err
