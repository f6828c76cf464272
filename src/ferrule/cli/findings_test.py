from __future__ import annotations

import io
from collections.abc import Callable

import pytest

from ferrule.cli.findings import as_data, columns_of, counted, may_style, plain, render, render_one, terminal_width
from ferrule.model.finding import Finding, Span

PROGRAMME = "# Hill-ready\n\nWarm-up, 1 round\n\n- Stepp-up: 5/side\n\ttabbed: line 8 kg\n"
SQUAD = 'id,name,kit,minutes\nR01,Runner 01,"mat, dumbbell 8 kg",forty\n'


def found(
    *,
    code: str = "unknown-exercise",
    file: str = "programme.md",
    line: int = 5,
    column: int = 3,
    end: int | None = 10,
    what: str = "There is no exercise named “Stepp-up”.",
    why: str = "It cannot be fitted or drawn.",
    fix: str = "Write Step-up, or add the exercise to the library folder.",
    source: str = "",
) -> Finding:
    return Finding(code, "error", what, why, fix, Span(file, line, column, end), source)


FINDINGS = (
    found(),
    found(
        code="unclear-line",
        line=6,
        column=2,
        end=8,
        what="This line does not parse.",
        why="",
        fix="Start it with note:",
    ),
    found(
        code="not-a-number",
        file="squad.csv",
        line=2,
        column=4,
        end=None,
        what="Minutes are a whole number; “forty” is none.",
        source="common practice, no source",
    ),
    found(code="kit-unread", file="squad.csv", line=2, column=3, end=None, what="Field 3 of a quoted row."),
    Finding("no-place", "advice", "Something about the whole.", "It matters.", "Think again.", None, "from memory"),
    Finding(
        "pair-fights",
        "note",
        "Two lines fight.",
        "One waits.",
        "",
        Span("programme.md", 3),
        "",
        (Span("programme.md", 5, 3),),
    ),
)


def test_golden(golden: Callable[[str, str], None]) -> None:
    text = render(FINDINGS, {"programme.md": PROGRAMME, "squad.csv": SQUAD}, width=72)
    assert max(map(columns_of, text.splitlines())) <= 72
    golden("cli/findings.txt", text + "\n")


def test_every_finding_stands_once_and_in_order_of_place() -> None:
    text = render([*reversed(FINDINGS), FINDINGS[0]], {})
    heads = [line.split()[0] for line in text.splitlines() if line and not line.startswith(" ")]
    assert heads[:-1] == ["pair-fights", "unknown-exercise", "unclear-line", "kit-unread", "not-a-number", "no-place"]
    assert text.splitlines()[-1] == "4 errors, 1 advice, 1 note"


def test_the_mark_stands_under_what_was_meant() -> None:
    lines = render_one(found(), {"programme.md": PROGRAMME}).splitlines()
    assert lines[1][lines[2].index("^") : lines[2].rindex("^") + 1] == "Stepp-u"


@pytest.mark.parametrize(("number", "field"), [(1, "R01"), (3, '"mat, dumbbell 8 kg"'), (4, "forty")])
def test_in_a_table_file_the_column_is_the_field(number: int, field: str) -> None:
    lines = render_one(found(file="squad.csv", line=2, column=number, end=None), {"squad.csv": SQUAD}).splitlines()
    assert lines[1][lines[2].index("^") : lines[2].rindex("^") + 1] == field


def test_wide_characters_shift_the_mark() -> None:
    one = found(line=1, column=3, end=4)
    marks = [render_one(one, {"programme.md": text}).splitlines()[2] for text in ("ab!", "歩歩!", "e\u0301b!")]
    assert marks[1].index("^") == marks[0].index("^") + 2
    assert marks[2].index("^") == marks[0].index("^") - 0 - (columns_of("ab") - columns_of("e\u0301"))


def test_a_long_line_is_cut_around_the_place() -> None:
    text = "x" * 5000 + "HERE" + "y" * 5000
    lines = render_one(found(line=1, column=5001, end=5005), {"programme.md": text}, width=80).splitlines()
    assert all(columns_of(line) <= 80 for line in lines)
    assert lines[1][lines[2].index("^") : lines[2].rindex("^") + 1] == "HERE"


@pytest.mark.parametrize(("line", "column"), [(0, 1), (99, 1), (1, 999), (5, -3)])
def test_a_place_outside_the_file_still_prints(line: int, column: int) -> None:
    text = render_one(found(line=line, column=column, end=None), {"programme.md": PROGRAMME})
    assert "There is no exercise" in text


def test_a_file_cannot_steer_the_terminal() -> None:
    bad = found(what="name \x1b[31mred\x07", line=1, column=1)
    text = render_one(bad, {"programme.md": "\x1b]0;title\x07 text"})
    assert "\x1b" not in text
    assert "\x07" not in text
    assert plain("a\tb\u202ec") == "a b?c"


def test_style_adds_no_words() -> None:
    sources = {"programme.md": PROGRAMME, "squad.csv": SQUAD}
    styled = render(FINDINGS, sources, styled=True)
    assert "\x1b[1m" in styled
    for mark in ("\x1b[1m", "\x1b[2m", "\x1b[0m"):
        styled = styled.replace(mark, "")
    assert styled == render(FINDINGS, sources)


def test_no_color_and_a_pipe_are_respected(monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert may_style(Terminal())
    assert not may_style(io.StringIO())
    monkeypatch.setenv("NO_COLOR", "1")
    assert not may_style(Terminal())


@pytest.mark.parametrize(("columns", "width"), [("60", 60), ("7", 40), ("400", 100), ("many", 100), ("0", 100)])
def test_terminal_width(monkeypatch: pytest.MonkeyPatch, columns: str, width: int) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    monkeypatch.setattr("sys.stdout", io.StringIO())
    assert terminal_width() == width


def test_as_data_has_the_same_in_stable_keys() -> None:
    data = as_data(FINDINGS)
    assert len(data) == len(FINDINGS)
    assert data[0]["related"] == [{"file": "programme.md", "line": 5, "column": 3}]
    assert set(data[0]) == {
        "code", "level", "file", "line", "column", "end_column", "what", "why", "fix", "source",
        "strength", "can_be_mended", "related",
    }  # fmt: skip
    assert data[-1]["line"] is None


def test_counted() -> None:
    assert counted(()) == "checked, nothing noticed"
    assert counted(FINDINGS[:1]) == "1 error"
