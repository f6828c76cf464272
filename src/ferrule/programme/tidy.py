"""The canonical text of a programme. Tidying never changes the meaning, and tidying twice changes nothing."""

from __future__ import annotations

from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.programme.assemble import assemble
from ferrule.programme.reader import read_parts
from ferrule.programme.source import SIZE_LIMIT_BYTES


def tidy(data: bytes | str, file: str, library: Library) -> tuple[str, tuple[Finding, ...]]:
    """The text in canonical form, and the findings of the text as it was.

    Lines that were not understood stay where they stood. A text that could not be read whole (too long, not text) comes
    back as it is.
    """
    reading = read_parts(data, file, library)
    assemble(reading, file)
    findings = reading.report.findings()
    if any(f.code in ("file-too-long", "file-binary") for f in findings):
        return (data if isinstance(data, str) else data.decode("utf-8", errors="replace")), findings
    lines: list[str] = []
    if reading.front.text:
        lines += ["---", *reading.front.text, "---"]
    for chunk in reading.chunks:
        shown = chunk.text()
        if not shown:
            continue
        if lines and not chunk.tight:
            lines.append("")
        lines += shown
    return "\n".join(lines) + "\n" if lines else "", findings


__all__ = ["SIZE_LIMIT_BYTES", "tidy"]
