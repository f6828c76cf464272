from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.cli.reading import indented, read_file
from ferrule.cli.stop import Stop


def test_a_programme_with_its_findings_and_text(tmp_path: Path) -> None:
    path = tmp_path / "p.md"
    path.write_text("### Session 1: x\n\nStraight, 1 set\n\n- Press-up: 8 or so!\n", encoding="utf-8")
    read = read_file(path)
    assert [s.key for c in read.programme.cycles for s in c.sessions] == ["1"]
    assert {f.span.file for f in read.findings if f.span} == {str(path)}
    assert "8 or so!" in read.sources[str(path)]


def test_a_file_without_a_week_is_an_error_with_a_way_out(tmp_path: Path) -> None:
    path = tmp_path / "p.md"
    path.write_text("hello\n", encoding="utf-8")
    read = read_file(path)
    assert "programme-empty" in {f.code for f in read.findings if f.level == "error" and f.fix}


def test_no_file_stops(tmp_path: Path) -> None:
    with pytest.raises(Stop):
        read_file(tmp_path / "none.md")
    with pytest.raises(Stop):
        read_file(tmp_path)


def test_long_lines_go_on_further_in_and_nothing_steers_the_terminal() -> None:
    assert indented("  one two three\n\nb\x1b[2J", 9) == "  one two\n    three\n\nb?[2J"
