"""The file as text: encoding, size and line ends, with a finding for whatever had to be guessed."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.programme.report import Report

SIZE_LIMIT_BYTES = 400_000
"""About 12,000 lines. A programme of a year is some 20 kB; what lies beyond is not read, and a finding says so."""

_BOMS = ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


@dataclass(frozen=True, slots=True)
class Source:
    """A text cut into lines, with the place each came from.

    lines    text of each line, without its line end
    origin   line number in the user's file, from 1, of each line (mended text may hold more lines than the file)
    raw      the lines of the user's file, as they stand there
    """

    lines: tuple[str, ...]
    origin: tuple[int, ...]
    raw: tuple[str, ...]

    def column(self, index: int, content: str) -> int:
        """Column, from 1, of `content` that ends line `index`; 1 when the line was rewritten."""
        line = self.raw[self.origin[index] - 1].rstrip()
        found = line.rfind(content)
        return found + 1 if found >= 0 else 1


_CONTROLS = dict.fromkeys((*range(1, 9), 11, 12, *range(14, 32), 127), " ") | {0: "\ufffd"}
"""Control characters read as spaces, one for one, so that columns stay: what looks like a list mark is then one."""


def read_source(data: bytes | str, report: Report) -> Source:
    """The lines of `data`; never raises. Findings: file-empty, file-binary, file-encoding, file-too-long."""
    text = data if isinstance(data, str) else _decode(data, report)
    if len(text) > SIZE_LIMIT_BYTES:
        text = _first_part(text, report)
    lines = text.replace("\r\n", "\n").replace("\r", "\n").translate(_CONTROLS).split("\n")
    lines[0] = lines[0].lstrip("\ufeff")
    if not text.strip("\ufeff \t\r\n"):
        report.add(
            "file-empty", "error", 1, 1, 1, "The file holds no text.", "There is nothing to read.",
            "Write the programme, or name the file that holds it.",
        )  # fmt: skip
    while len(lines) > 1 and not lines[-1].strip():
        lines.pop()
    kept = tuple(lines)
    return Source(kept, tuple(range(1, len(kept) + 1)), kept)


def _decode(data: bytes, report: Report) -> str:
    for bom, encoding in _BOMS:
        if data.startswith(bom):
            report.add(
                "file-encoding", "advice", 1, 1, 1, "The file is in UTF-16.",
                "Other programs that read it may see noise.", "Save it as UTF-8.",
            )  # fmt: skip
            return data.decode(encoding, errors="replace")
    head = data[:4096]
    zeros = head.count(0)
    if zeros and zeros * 3 > len(head):
        encoding = "utf-16-le" if head[1::2].count(0) >= head[::2].count(0) else "utf-16-be"
        text = data[:SIZE_LIMIT_BYTES].decode(encoding, errors="replace")
        if (
            "\ufffd" not in text
            and "\x00" not in text
            and text.isprintable() is False
            and sum(map(str.isascii, text[:2000])) * 2 > len(text[:2000])
        ):
            report.add(
                "file-encoding", "advice", 1, 1, 1, "The file is in UTF-16 without a mark.",
                "Other programs that read it may see noise.", "Save it as UTF-8.",
            )  # fmt: skip
            return text
    odd = sum(1 for byte in head if byte < 9 or 13 < byte < 32)
    if odd * 20 > len(head):
        report.add(
            "file-binary", "error", 1, 1, 1, "The file is not text.",
            "A programme is a text file; a document, a picture or a packed file cannot be read.",
            "Save the programme as plain text (Markdown, UTF-8).",
        )  # fmt: skip
        return ""
    try:
        return data[: SIZE_LIMIT_BYTES * 4].decode("utf-8") if len(data) <= SIZE_LIMIT_BYTES * 4 else _cut(data)
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        column = fault.start - (data.rfind(b"\n", 0, fault.start) + 1) + 1
        report.add(
            "file-encoding", "advice", line, column, column + 1,
            "The file is not in UTF-8; it was read as Western European (Windows-1252).",
            "Letters with accents and dashes may have been read wrongly.", "Save it as UTF-8.",
        )  # fmt: skip
        return data[: SIZE_LIMIT_BYTES * 4].decode("cp1252", errors="replace")


def _cut(data: bytes) -> str:
    """The first part of a very large file; a letter cut in two at its end is dropped."""
    part = data[: SIZE_LIMIT_BYTES * 4]
    return part[: part.rfind(b"\n") + 1 or len(part)].decode("utf-8", errors="ignore")


def _first_part(text: str, report: Report) -> str:
    cut = text.rfind("\n", 0, SIZE_LIMIT_BYTES)
    kept = text[: cut if cut > 0 else SIZE_LIMIT_BYTES]
    line = kept.count("\n") + 1
    report.add(
        "file-too-long", "error", line, 1, 1, f"The file is longer than {SIZE_LIMIT_BYTES:,} characters.",
        f"What follows line {line} was not read.", "Split it: one file for each programme.",
    )  # fmt: skip
    return kept
