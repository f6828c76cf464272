"""The findings of one reading, collected while it goes on and handed over in order at its end."""

from __future__ import annotations

from ferrule.model.finding import Finding, Level, Span, in_order


class Report:
    """Collects findings about one file; `findings()` gives them in order of place, each once."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.lines: tuple[str, ...] = ()
        self._found: list[Finding] = []

    def span(self, line: int, start: int, end: int | None = None) -> Span:
        """A span at `line`, kept inside the line as it stands in the file."""
        if 0 < line <= len(self.lines):
            most = len(self.lines[line - 1]) + 1
            start = min(start, most)
            end = None if end is None else max(start, min(end, most))
        return Span(self.file, line, start, end)

    def add(
        self, code: str, level: Level, line: int, start: int, end: int | None,
        what: str, why: str, fix: str, *, source: str = "", related: tuple[Span, ...] = (),
    ) -> None:  # fmt: skip
        """One finding at `line`, columns `start` to `end` (from 1, `end` exclusive)."""
        self._found.append(Finding(code, level, what, why, fix, self.span(line, start, end), source, related))

    def withdraw(self, code: str, line: int) -> None:
        """Takes back what was told at `line` under `code`: something that stands above it has turned out wrong."""
        self._found = [f for f in self._found if f.code != code or f.span is None or f.span.line != line]

    def findings(self) -> tuple[Finding, ...]:
        return in_order(self._found)

    def codes_since(self, count: int) -> list[str]:
        """Codes of the findings added after the first `count`."""
        return [f.code for f in self._found[count:]]

    def __len__(self) -> int:
        return len(self._found)


def short(text: str, limit: int = 60) -> str:
    """`text` for quoting in a finding: control signs shown as a mark, cut when long."""
    plain = "".join(c if c.isprintable() else "\ufffd" for c in text)
    return plain if len(plain) <= limit else plain[: limit - 1] + "…"
