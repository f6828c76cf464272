from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

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
