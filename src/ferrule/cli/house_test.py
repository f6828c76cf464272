from __future__ import annotations

import tomllib

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
