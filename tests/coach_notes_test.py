"""What stands after `coach:` never leaves: not on a sheet, not on a page, not in a calendar, signed or draft."""

from __future__ import annotations

import io
from importlib.resources import files
from pathlib import Path

import pypdf
import pytest

from ferrule.cli.main import main

START = (files("ferrule.cli") / "start" / "programme.md").read_text(encoding="utf-8")
KEPT = "quartzfinch"
SAID = "marblewren"
WEEK = "2026-01-05"


def marked() -> str:
    """The starting programme with a coach's line in every place that takes one, and one line for the runner."""
    text = START
    for n, (after, indent) in enumerate(
        [
            ("Aim: own the positions on one leg first, add reps before load.\n", "\n"),
            ("### Session 1: step and calf, 30 min\n", "\n"),
            ("- Ankle rock: 8/side\n", "  "),
            ("  note: Push through the whole foot; no bounce off the floor.\n", "  "),
            ("- Side plank: 20-30 s/side\n", "  "),
            ("  - or Press-up, hands raised: 8-12\n", "    "),
        ]
    ):
        assert after in text
        text = text.replace(after, f"{after}{indent}coach: {KEPT}{n} and no one else\n", 1)
    text = text.replace("no bounce off the floor.", f"no bounce off the floor. {SAID}", 1)
    assert text.count(KEPT) == 6
    return text + f"\ncoach: {KEPT}9 at the end\n"


def readable(path: Path) -> str:
    """All the text of one output, its metadata included."""
    data = path.read_bytes()
    if path.suffix != ".pdf":
        return data.decode("utf-8").replace("\r\n ", "")
    reader = pypdf.PdfReader(io.BytesIO(data))
    pages = "\n".join(page.extract_text() for page in reader.pages)
    return pages + str(reader.metadata) + data.decode("latin-1")


@pytest.fixture
def outputs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> list[Path]:
    """Signed sheets, pages and calendars of two runners, drafts of the third."""
    folder = tmp_path / "w"
    assert main(["new", str(folder)]) == 0
    (folder / "programme.md").write_text(marked(), encoding="utf-8")
    assert main(["check", str(folder)]) == 0, capsys.readouterr().out
    who = ["--runner", "R01", "--runner", "R02", "--by", "A. Coach"]
    assert main(["sign", str(folder), "--week", WEEK, *who]) == 0, capsys.readouterr()
    assert main(["sheets", str(folder), "--week", WEEK, "--out", str(tmp_path / "out"), "--drafts"]) == 0
    return sorted((tmp_path / "out").iterdir())


def test_a_coachs_note_is_in_no_output(outputs: list[Path]) -> None:
    kinds = [path.suffix for path in outputs]
    assert kinds.count(".pdf") == kinds.count(".html") == 3
    assert kinds.count(".ics") == 2
    for path in outputs:
        assert KEPT not in readable(path), f"a coach's note left in {path.name}"


def test_what_is_for_the_runner_does_arrive(outputs: list[Path]) -> None:
    for path in outputs:
        if path.suffix in (".pdf", ".html"):
            assert SAID in readable(path).replace("\n", " "), f"the note for the runner is missing in {path.name}"


def test_a_coachs_note_is_in_no_review(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Pages at the end of a cycle, for a physiotherapist and for a helping coach; what they print too."""
    folder, out = tmp_path / "w", tmp_path / "pages"
    assert main(["new", str(folder)]) == 0
    (folder / "programme.md").write_text(marked(), encoding="utf-8")
    assert main(["sign", str(folder), "--week", WEEK, "--runner", "R01", "--by", "A. Coach"]) == 0, capsys.readouterr()
    capsys.readouterr()
    for words in (["--cycle", "1"], ["--physio", "R01"], ["--hand-over", "--on", WEEK]):
        assert main(["review", str(folder), *words, "--out", str(out)]) == 0
    assert KEPT not in capsys.readouterr().out
    pages = sorted(out.iterdir())
    assert len(pages) == 4
    for path in pages:
        assert KEPT not in readable(path), f"a coach's note left in {path.name}"
