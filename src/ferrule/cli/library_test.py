from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from ferrule.cli.demo import laid_out
from ferrule.cli.library import in_order
from ferrule.cli.main import main
from ferrule.library.reader import load_library

LIBRARY = load_library({})[0]


def test_the_list_has_every_exercise_easier_to_harder(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library"]) == 0
    text = capsys.readouterr().out
    places = [text.index(f"\n  {v.name}  ") for v in in_order(LIBRARY)]
    assert places == sorted(places)
    assert len(places) == len(LIBRARY.variants)


@pytest.mark.parametrize("name", sorted(LIBRARY.variants))
def test_every_exercise_can_be_shown_and_no_force_is(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library", name]) == 0
    text = capsys.readouterr().out
    variant = LIBRARY.variants[name]
    assert text.startswith(variant.name)
    assert all(cue in " ".join(text.split()) for cue in variant.cues)
    assert not re.search(r"N·m|Nm\b|newton|\bnan\b|None", text)
    assert main(["library", name, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["id"] == name
    assert [a["group"] for a in data["asks"]] == [a.group for a in variant.asks]


def test_a_name_of_several_words_needs_no_quotes(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library", *LIBRARY.variants["step-up"].name.split()]) == 0
    assert capsys.readouterr().out.startswith("Step-up\n")


def test_the_figure_is_written_with_its_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library", "step-up", "--figure", str(tmp_path / "f.svg")]) == 0
    assert str(tmp_path / "f.svg") in capsys.readouterr().out
    root = ET.fromstring((tmp_path / "f.svg").read_text(encoding="utf-8"))
    assert root.tag.endswith("svg")
    assert root.find("{http://www.w3.org/2000/svg}title") is not None


def test_an_unknown_name_gets_the_three_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library", "stepp up"]) == 2
    said = capsys.readouterr().err
    near = said.split("the nearest are:")[1]
    assert "Step-up (step-up)" in near
    assert near.count("(") == 3


def test_the_coachs_own_exercises_are_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "library").mkdir()
    (tmp_path / "library" / "own.toml").write_bytes(b"= 3\n")
    assert main(["library", "step-up", "--workspace", str(tmp_path)]) == 0
    assert "own.toml" in capsys.readouterr().err


def test_the_library_checks_clean(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library", "--check"]) == 0
    assert capsys.readouterr().out == "checked, nothing noticed\n"


def test_an_own_exercise_is_started_checked_and_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = ["--workspace", str(tmp_path)]
    assert main(["library", "new", "Fence", "step", "--like", "step-up-low", *folder]) == 0
    path = tmp_path / "library" / "fence-step.toml"
    said = capsys.readouterr().out
    assert str(path) in said
    assert "`- Fence step: 8/side`" in said
    assert main(["library", "--check", *folder]) == 0
    said = capsys.readouterr().out
    assert "library-incomplete" in said
    assert f"{path}:3:1" in said
    assert main(["library", "fence step", *folder]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "inferred: placed between Step-up, low and Step-down" in said
    assert "3 s a repetition, 20 s to get ready (inferred)" in said
    assert "Its demand is believed from 14 % below to 16 % above" in said
    assert "needs step (inferred)" not in said
    assert main(["library", "new", "Fence step", "--like", "step-up-low", *folder]) == 2
    assert "already belongs to Fence step" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["new", "Fence step"], "--like"),
        (["new", "Fence step", "--like", "stepp up"], "the nearest are: Step-up"),
        (["new", "--like", "step-up"], "needs a name"),
        (["new", "Squat", "--like", "step-up"], "already belongs to Squat"),
        (["squat", "--like", "step-up"], "--like belongs to"),
        (["squat", "--check"], "--check looks at the whole library"),
        (["new", "A", "--like", "step-up", "--json"], "`new` writes a file"),
    ],
)
def test_wrong_use_is_answered(words: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library", *words, "--workspace", str(tmp_path)]) == 2
    assert said in capsys.readouterr().err
    assert not (tmp_path / "library").exists()


def test_the_guide_to_an_own_exercise_ends_in_fitted_weeks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """docs/add-an-exercise.md to the letter, in the workspace of the demo: started, written, checked, fitted, filmed, signed."""
    monkeypatch.setenv("COLUMNS", "100")
    squad = laid_out(tmp_path / "demo")
    folder = ["--workspace", str(squad)]
    assert main(["library", "new", "Fence step", "--like", "step-up-low", *folder]) == 0
    programme = squad / "programme.md"
    programme.write_text(programme.read_text("utf-8").replace("Step-up, low", "Fence step"), "utf-8")
    assert main(["library", "--check", *folder]) == 0
    assert main(["check", str(programme)]) == 0
    capsys.readouterr()
    assert main(["fit", str(squad), "--week", "2026-01-19"]) == 0
    said = capsys.readouterr().out
    assert re.search(r"Fence step: 8-10/side, 2 RIR, tempo 2-0-1 +\d+ ", said), "its line stands in the read-back"
    assert "24 runners: 21 with a week" in said
    assert main(["shots", str(squad), "--cycle", "1"]) == 0
    assert ". Fence step\n  camera: from the side" in capsys.readouterr().out
    main(["sign", str(squad), "--week", "2026-01-19", "--by", "C"])
    assert "21 signed by C" in capsys.readouterr().out


def test_a_check_with_an_error_in_an_own_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "library").mkdir()
    (tmp_path / "library" / "own.toml").write_bytes(b'name = "A"\nharder_than = "Skwot"\n')
    assert main(["library", "--check", "--workspace", str(tmp_path), "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert [f["code"] for f in data["findings"]] == ["library-unknown-neighbour"]


def test_the_sheet_of_figures_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library", "--figures", str(tmp_path / "out")]) == 0
    assert f"{len(LIBRARY.variants)} exercises written" in capsys.readouterr().out
    assert (tmp_path / "out" / "figures.pdf").read_bytes().startswith(b"%PDF-")
    ET.fromstring((tmp_path / "out" / "figures.svg").read_text(encoding="utf-8"))


def test_muscles_camera_and_one_sided_loads_are_shown(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["library", "pelvic-drop"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "works gluteus medius (side of the hip)" in said
    assert "filmed from behind; must be seen:" in said
    assert "one side a tenth of the body mass in the hand of the other side asks about 40 % more" in said
