"""The stored library is the one that the texts and the statics give."""

from __future__ import annotations

import ast
from importlib.resources import files

import pytest

from ferrule.library import computed, reader
from ferrule.library.build import build
from ferrule.library.compute import main


def test_the_stored_library_is_fresh() -> None:
    texts = computed.built_in_texts()
    read = build(texts)
    assert read.findings == ()
    assert read.unplaced == ()
    assert computed.read(computed.stored()) == read.built
    fresh = computed.write(read.built, computed.digest(texts))
    assert computed.stored() == fresh, "run `python -m ferrule.library.compute`"


def test_the_digest_covers_every_module_the_values_come_from() -> None:
    named = {f"{package}.{module}" for package, modules in computed.CODE.items() for module in modules}
    seen, edge = set[str](), {"ferrule.library.build", "ferrule.body.demand", "ferrule.body.pose_reader"}
    while edge:
        module = edge.pop()
        if module in seen or not module.startswith(("ferrule.body.", "ferrule.library.")):
            continue
        seen.add(module)
        package, _, stem = module.rpartition(".")
        tree = ast.parse((files(package) / f"{stem}.py").read_text(encoding="utf-8"))
        edge |= {n.module for n in ast.walk(tree) if isinstance(n, ast.ImportFrom) and n.module}
    assert seen - {"ferrule.library.order"} <= named


def test_a_change_of_a_text_changes_the_digest() -> None:
    texts = computed.built_in_texts()
    changed = texts | {"step.toml": texts["step.toml"] + b"\n"}
    assert computed.digest(changed) != computed.digest(texts)
    same = {name: data.replace(b"\n", b"\r\n") for name, data in texts.items()}
    assert computed.digest(same) == computed.digest(texts)


@pytest.mark.parametrize("data", [b"", b"{", b'{"digest": "old"}'])
def test_a_stale_or_damaged_file_is_worked_out_anew(data: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    texts = {"squat.toml": computed.built_in_texts()["squat.toml"]}
    monkeypatch.setattr(computed, "stored", lambda: data)
    built, findings = computed.fresh_or_stored(texts)
    assert findings == ()
    assert [v.id for v in built.variants] == ["squat-half", "chair-rise", "squat", "squat-deep"]


def test_a_damaged_file_with_the_right_digest_is_worked_out_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    texts = {"squat.toml": computed.built_in_texts()["squat.toml"]}
    damaged = b'{\n"digest": "' + computed.digest(texts).encode() + b'",\n"families": ['
    monkeypatch.setattr(computed, "stored", lambda: damaged)
    built, findings = computed.fresh_or_stored(texts)
    assert findings == ()
    assert len(built.variants) == 4


def test_loading_the_built_in_library_works_nothing_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is stored is read; how long that takes is measured by bench/library.py."""

    def never(*_: object) -> None:
        raise AssertionError("the stored demands are out of date, or were not read")

    monkeypatch.setattr(computed, "build", never)
    reader.built_in.cache_clear()
    reader.stored_built.cache_clear()
    library, _ = reader.load_library()
    assert len(library.variants) > 200


def test_the_command_says_what_it_wrote(
    monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory, capsys: pytest.CaptureFixture[str]
) -> None:
    from ferrule.library import compute

    folder = tmp_path_factory.mktemp("families")
    squat = {"squat.toml": computed.built_in_texts()["squat.toml"]}
    monkeypatch.setattr(compute, "FOLDER", folder)
    monkeypatch.setattr(compute, "built_in_texts", lambda: squat)
    assert main() == 0
    assert "4 variants in 1 families" in capsys.readouterr().err
    assert computed.read((folder / "computed.json").read_bytes()).families[0].id == "squat"
