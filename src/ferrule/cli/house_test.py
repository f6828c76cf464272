from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest

from ferrule.check.house import read_house
from ferrule.cli.main import main
from ferrule.model.house import THRESHOLDS, House


def test_what_is_printed_reads_back_as_the_defaults(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["house"]) == 0
    text = capsys.readouterr().out
    assert read_house(text.encode(), "house.toml") == (House(), ())
    assert "thresholds" in tomllib.loads(text)
    for threshold in THRESHOLDS:
        assert f"# {threshold.key} = " in text


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    text = 'off = ["push-and-pull"]\n\n[thresholds]\nkey-run-gap-h = 36\ncontacts-step = "off"\n'
    (tmp_path / "house.toml").write_text(text, encoding="utf-8")
    return tmp_path


def test_a_workspace_shows_what_is_in_force_and_what_differs(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["house", str(folder)]) == 0
    said = capsys.readouterr().out
    changed, rest = said.split("As by default:")
    assert changed.startswith("2 house rules differ from their defaults:\n")
    assert " 36 h, by default 24 (0 to 72)\n" in changed
    assert "contacts-step" in changed
    assert " off contacts, by default 20 " in changed
    assert "switched off:\n  push-and-pull\n" in changed
    assert len(rest.strip().splitlines()) == len(THRESHOLDS) - 2


def test_the_same_as_data(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["house", str(folder), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    rules = {rule["key"]: rule for rule in data["thresholds"]}
    assert set(rules) == {t.key for t in THRESHOLDS}
    assert (rules["key-run-gap-h"]["value"], rules["key-run-gap-h"]["differs"]) == (36, True)
    assert rules["contacts-step"]["value"] is None
    assert [c["name"] for c in data["checks"] if not c["on"]] == ["push-and-pull"]


def test_without_house_rules_all_is_by_default(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["house", str(tmp_path)]) == 0
    assert capsys.readouterr().out.startswith("No house rule differs")
    assert main(["house", "--json"]) == 0
    assert not any(rule["differs"] for rule in json.loads(capsys.readouterr().out)["thresholds"])


def test_a_fault_in_the_file_is_said_and_the_rest_shown(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "house.toml").write_text("[thresholds]\nno-such = 1\nhold-most-s = 90\n", encoding="utf-8")
    assert main(["house", str(folder)]) == 1
    said = capsys.readouterr()
    assert "One house rule differs" in said.out
    assert "no-such" in said.err
    assert main(["house", str(folder / "nowhere")]) == 2
