"""Bad input: a clear finding, nothing lost, the rest still read, no exception."""

from __future__ import annotations

from time import process_time

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from ferrule.model.finding import Finding, in_order
from ferrule.model.programme import Programme
from ferrule.programme.decisions_test import FULL
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.source import SIZE_LIMIT_BYTES
from ferrule.programme.strategies_texts import texts
from ferrule.programme.tidy import tidy


def read(data: bytes | str) -> tuple[Programme, list[str]]:
    programme, findings = read_programme(data, "p.md", SAMPLE)
    return programme, [f.code for f in findings]


def items(programme: Programme) -> int:
    return sum(len(b.items) for c in programme.cycles for s in c.sessions for b in s.blocks)


ALL = items(read(FULL)[0])


def test_empty_and_blank() -> None:
    for data in (b"", b"\n\n  \n", b"\xef\xbb\xbf"):
        assert read(data)[1] == ["file-empty"]


def test_binary() -> None:
    for data in (bytes(range(256)) * 40, b"PK\x03\x04\x00\x00\x00\x08" * 300, b"\x89PNG\r\n\x1a\n\x00\x00\x00" * 100):
        assert "file-binary" in read(data)[1]


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-8-sig"])
def test_other_unicode_encodings_are_read(encoding: str) -> None:
    programme, codes = read(FULL.encode(encoding))
    assert items(programme) == ALL
    assert codes == ([] if encoding == "utf-8-sig" else ["file-encoding"])


def test_western_european_is_read_and_told_where_it_shows() -> None:
    programme, findings = read_programme(FULL.replace("5-7", "5–7").encode("cp1252"), "p.md", SAMPLE)
    assert items(programme) == ALL
    assert [(f.code, f.span.line if f.span else 0) for f in findings] == [("file-encoding", 24)]


def test_carriage_returns_and_tabs() -> None:
    for data in (
        FULL.replace("\n", "\r\n"),
        FULL.replace("\n", "\r"),
        FULL.replace("  note:", "\tnote:").replace("- Ank", "-\tAnk"),
    ):
        programme, codes = read(data)
        assert (items(programme), codes) == (ALL, [])


@pytest.mark.parametrize("part", [0.1, 0.3, 0.5, 0.62, 0.7, 0.9])
def test_truncated(part: float) -> None:
    cut = FULL[: int(len(FULL) * part)]
    programme, _ = read(cut)
    assert items(programme) >= sum(line.startswith("- ") for line in cut.split("\n")) - 1


def test_ten_megabytes_answer_in_seconds_and_say_what_was_not_read() -> None:
    block = "Pair A, 3 rounds\n\n- Step-up: 5-7/side, 2 RIR\n- Squat: 8\n\nSome words about it.\n\n"
    data = ("### Session 1: x\n\n" + block * (10_000_000 // len(block))).encode()
    start = process_time()
    programme, codes = read(data)
    assert process_time() - start < 10
    assert "file-too-long" in codes
    assert items(programme) > 8_000


def test_a_text_too_long_to_be_read_whole_is_not_tidied() -> None:
    data = (
        "### session 1\n\nStraight\n\n- Squat: 8\n\n" + "Some words about it.\n" * (SIZE_LIMIT_BYTES // 20)
    ).encode()
    text, findings = tidy(data, "p.md", SAMPLE)
    assert text == data.decode()
    assert [f.code for f in findings] == ["file-too-long"]


@pytest.mark.parametrize(
    "unit",
    [
        "a",
        "- ",
        "> ",
        "|",
        "#",
        "x" * 50 + " ",
        "- x\n" * 3,
        "[",
        "`",
        "<!--",
        "8-",
        "tempo ",
        "coach: ",
        "1:30 ",
        "Pair ",
        "any ",
    ],
)
def test_one_endless_line_or_nest_takes_linear_time(unit: str) -> None:
    start = process_time()
    read("### Session 1: x\n\nPair A\n\n- Step-up: " + unit * (60_000 // len(unit)))
    read(unit * (60_000 // len(unit)))
    assert process_time() - start < 10


def test_a_list_nested_ten_deep() -> None:
    text = "### Session 1: x\n\nPair A\n\n" + "".join(
        "  " * n + f"- {'or ' if n else ''}Squat: {n + 1}\n" for n in range(10)
    )
    programme, codes = read(text)
    block = programme.cycles[0].sessions[0].blocks[0]
    assert 1 + len(block.items[0].alternatives) == 10
    assert set(codes) == {"or-too-deep"}


def test_a_table_with_too_few_and_too_many_columns() -> None:
    rows = "### Session 1: x\n\nPair A, 3 rounds\n\n- Squat: 5\n\n| week | 1 | 2 |\n|---|---|---|\n| rounds | 3 |\n| Squat: reps | 6 | 7 | 8 |\n"
    programme, codes = read("## Cycle 1, weeks 1-2\n\n" + rows)
    assert codes == ["row-width", "row-width", "base-never-true"]
    table = programme.cycles[0].sessions[0].blocks[0].table
    assert table is not None
    assert [len(r.cells) for r in table.rows] == [2, 2]


def test_cycles_that_overlap_leave_out_or_run_over() -> None:
    def course(*heads: str) -> list[str]:
        text = "---\nweeks: 6\n---\n\n" + "".join(
            f"## Cycle {n}, {h}\n\n### Session 1\n\nPair A\n\n- Squat: 5\n\n" for n, h in enumerate(heads, 1)
        )
        return read(text)[1]

    assert course("weeks 1-3", "weeks 4-6") == []
    assert course("weeks 1-3", "weeks 3-6") == ["cycles-overlap"]
    assert course("weeks 1-2", "weeks 4-6") == ["weeks-left-out"]
    assert course("weeks 1-3", "weeks 4-8") == ["weeks-beyond-end"]
    assert course("weeks 1-3", "weeks 6-4") == ["cycle-weeks-wrong"]
    assert course("weeks 1-3") == ["weeks-left-out"]


def test_two_sessions_of_one_number_are_both_kept() -> None:
    programme, codes = read("### Session 1\n\nPair A\n\n- Squat: 5\n\n### Session 1\n\nPair A\n\n- Plank: 30 s\n")
    assert codes == ["session-twice"]
    assert [s.key for s in programme.cycles[0].sessions] == ["1", "1-2"]


def test_an_unreadable_line_leaves_the_rest() -> None:
    programme, codes = read(FULL.replace("- Dead bug: 6/side", "- ???!!"))
    assert items(programme) == ALL
    assert codes == ["exercise-unknown"]


def sound(data: bytes | str, lines: list[str] | None = None) -> None:
    programme, findings = read_programme(data, "p.md", SAMPLE)
    assert isinstance(programme, Programme)
    assert findings == in_order(findings)
    assert len(set(findings)) == len(findings)
    for finding in findings:
        _inside(finding, lines)
    tidy(data, "p.md", SAMPLE)


def _inside(finding: Finding, lines: list[str] | None) -> None:
    span = finding.span
    assert span is not None
    assert span.line >= 1
    assert span.column >= 1
    assert span.end_column is None or span.end_column >= span.column
    if lines is not None:
        assert span.line <= len(lines), finding
        width = len(lines[span.line - 1])
        assert span.column <= width + 1, finding
        assert span.end_column is None or span.end_column <= width + 2, finding


def lines_of(text: str) -> list[str]:
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


FAST = settings(derandomize=True, deadline=None, phases=(Phase.explicit, Phase.generate))


@settings(FAST, max_examples=300)
@given(st.text(alphabet=st.sampled_from("-*+>#|:,;./@%x 0123456789abtuSstepup\n\t`<!~=_()[]–×é\r"), max_size=300))
def test_any_text_is_read_without_an_exception(text: str) -> None:
    sound(text, lines_of(text))


@settings(FAST, max_examples=100)
@given(st.binary(max_size=300))
def test_any_bytes_are_read_without_an_exception(data: bytes) -> None:
    sound(data)


@settings(FAST, max_examples=150)
@given(st.data())
def test_mutated_programmes_are_read_without_an_exception(data: st.DataObject) -> None:
    text = data.draw(st.one_of(st.just(FULL), texts()))
    for _ in range(data.draw(st.integers(1, 6))):
        at = data.draw(st.integers(0, max(0, len(text) - 1)))
        to = min(len(text), at + data.draw(st.integers(0, 12)))
        new = data.draw(
            st.sampled_from(
                [
                    "",
                    "\n",
                    "\n\n",
                    "- ",
                    "    ",
                    "|",
                    ":",
                    ",",
                    "0",
                    "-",
                    "coach:",
                    "---\n",
                    "Pair ",
                    "> ",
                    "\t",
                    "<!--",
                    "```\n",
                    "weeks 9",
                ]
            )
        )
        text = text[:at] + new + text[to:]
    sound(text, lines_of(text))
