from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from ferrule.cli import demo_told
from ferrule.cli.demo import laid_out
from ferrule.cli.main import main


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("demo") / "out"
    assert main(["demo", "--out", str(out)]) == 0
    return out


def test_it_writes_what_it_says(demo: Path) -> None:
    assert {p.name for p in demo.iterdir()} == {"workspace", "logs", "next.html", "squad.html", "sheets"}
    assert {p.name for p in (demo / "workspace").iterdir()} >= {"programme.md", "squad.csv", "house.toml", "ferrule.db"}
    pdfs = [p.stem for p in (demo / "sheets").glob("*.pdf")]
    assert len(pdfs) >= 15
    assert sorted(pdfs) == sorted(p.stem for p in (demo / "sheets").glob("*.html"))
    assert sorted(pdfs) == sorted(p.stem for p in (demo / "sheets").glob("*.ics"))


def test_no_output_names_a_force(demo: Path) -> None:
    for path in [demo / "squad.html", demo / "next.html", *(demo / "sheets").glob("*.html")]:
        text = re.sub(r"<(script|style)\b.*?</\1>|<[^>]+>", " ", path.read_text(encoding="utf-8"), flags=re.S)
        assert not re.search(r"N·m|\bNm\b|\bnan\b|\bNone\b", text), path.name


def test_it_replaces_an_earlier_demo_and_takes_no_folder_of_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "thesis.txt").write_text("mine", encoding="utf-8")
    assert main(["demo", "--out", str(tmp_path)]) == 2
    assert "not a demo" in capsys.readouterr().err
    assert (tmp_path / "thesis.txt").read_text(encoding="utf-8") == "mine"
    out = tmp_path / "out"
    for name in ("sheets", "logs"):
        (out / name).mkdir(parents=True)
        (out / name / "left.txt").write_text("old", encoding="utf-8")
    assert laid_out(out) == out / "workspace"
    assert {p.name for p in out.iterdir()} == {"workspace"}


def test_the_fifth_week_goes_on_from_what_was_told(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    workspace = str(demo / "workspace")
    capsys.readouterr()
    assert main(["record", workspace]) == 0
    said = capsys.readouterr().out
    assert "sent weeks    1" in said
    assert "to 2026-02-02" in said
    assert main(["next", workspace, "--week", "2026-02-02", "--json"]) in (0, 1)
    runners = {r["runner_id"]: r for r in json.loads(capsys.readouterr().out)["runners"]}
    assert {line["move"] for line in runners[demo_told.SORE]["lines"]} >= {"stop"}
    assert runners[demo_told.SILENT]["silence"] == "gone"
    moves = {line["move"] for r in runners.values() for line in r["lines"]}
    assert {"as written", "progress", "back off", "ask"} <= moves
    assert main(["due", workspace, "--on", "2026-02-01"]) == 0
    due = capsys.readouterr().out
    assert demo_told.SORE in due
    assert demo_told.ASKS in due


def test_handing_the_same_files_over_again_tells_nothing_new(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = sorted(str(p) for p in (demo / "logs").iterdir())
    capsys.readouterr()
    main(["log", str(demo / "workspace"), *told, "--json"])
    assert {f["file"]: f["taken"] for f in json.loads(capsys.readouterr().out)["files"] if f["taken"]} == {}
