"""docs/editor.md is true: its examples run, its tables name what there is."""

from __future__ import annotations

import json
import re
from dataclasses import fields
from importlib import import_module
from importlib.resources import files
from pathlib import Path
from typing import Any, get_args

from ferrule.cli.spread import as_data
from ferrule.fit.while_writing import spread
from ferrule.library.reader import load_library
from ferrule.model.house import House
from ferrule.programme.offer import Choice, Kind
from ferrule.squad.reader import read_squad

PAGE = (Path(__file__).parents[1] / "docs" / "editor.md").read_text(encoding="utf-8")


def test_the_examples_run_one_after_the_other() -> None:
    library, _ = load_library({})
    squad, _ = read_squad((files("ferrule.demo") / "squad.csv").read_bytes(), "squad.csv", library)
    names: dict[str, Any] = {"squad": squad}
    for code in re.findall(r"^```python\n(.*?)^```", PAGE, flags=re.M | re.S):
        exec(compile(code, "docs/editor.md", "exec"), names)
    assert "2 RIR" in [c.text for c in names["choices"]]
    choice = next(c for c in names["choices"] if c.text == "2 RIR")
    assert choice.applied("- Step-up: 8/side, 2") == "- Step-up: 8/side, 2 RIR"
    assert list(names["found"].lines) == [(5, "A")]


def test_the_calls_of_the_table_exist() -> None:
    called = re.findall(r"`(ferrule(?:\.\w+)+)\.(\w+)\(", PAGE)
    assert len(called) >= 6
    for module, name in called:
        assert callable(getattr(import_module(module), name))


def test_the_fields_and_kinds_of_a_choice_are_named() -> None:
    for field in fields(Choice):
        assert f"`{field.name}`" in PAGE
    for kind in get_args(Kind):
        assert f"`{kind}`" in PAGE


def test_the_json_shape_is_the_one_printed() -> None:
    shown = json.loads(re.findall(r"^```json\n(.*?)^```", PAGE, flags=re.M | re.S)[0])
    library, _ = load_library({})
    demo = files("ferrule.demo")
    squad, _ = read_squad((demo / "squad.csv").read_bytes(), "squad.csv", library)
    data = as_data(spread((demo / "programme.md").read_bytes(), squad, library, House()))
    assert list(shown) == list(data)
    assert list(shown["lines"][0]) == list(data["lines"][0])
    assert list(shown["left_out"][0]) == list(data["left_out"][0])
