from __future__ import annotations

import re
import time
from pathlib import Path

import pytest

from ferrule.cli.main import main


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("demo") / "out"
    start = time.perf_counter()
    assert main(["demo", "--out", str(out)]) == 0
    assert time.perf_counter() - start < 60, "15 s on a quiet machine of two cores; tests run beside others"
    return out


def test_it_writes_what_it_says(demo: Path) -> None:
    assert {p.name for p in demo.iterdir()} == {"workspace", "squad.html", "sheets"}
    assert {p.name for p in (demo / "workspace").iterdir()} >= {"programme.md", "squad.csv", "house.toml", "ferrule.db"}
    pdfs = [p.stem for p in (demo / "sheets").glob("*.pdf")]
    assert len(pdfs) >= 15
    assert sorted(pdfs) == sorted(p.stem for p in (demo / "sheets").glob("*.html"))
    assert sorted(pdfs) == sorted(p.stem for p in (demo / "sheets").glob("*.ics"))


def test_no_output_names_a_force(demo: Path) -> None:
    for path in [demo / "squad.html", *(demo / "sheets").glob("*.html")]:
        text = re.sub(r"<(script|style)\b.*?</\1>|<[^>]+>", " ", path.read_text(encoding="utf-8"), flags=re.S)
        assert not re.search(r"N·m|\bNm\b|\bnan\b|\bNone\b", text), path.name


def test_it_can_be_run_again_and_takes_no_folder_of_others(
    demo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "thesis.txt").write_text("mine", encoding="utf-8")
    assert main(["demo", "--out", str(tmp_path)]) == 2
    assert "not a demo" in capsys.readouterr().err
    assert (tmp_path / "thesis.txt").read_text(encoding="utf-8") == "mine"
    (demo / "sheets" / "left.txt").write_text("old", encoding="utf-8")
    assert main(["demo", "--out", str(demo)]) == 0
    assert not (demo / "sheets" / "left.txt").exists()
    assert "signed by" in capsys.readouterr().out
