"""What stands beside the lines of a programme: tables, comments, fences; and where words go."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from ferrule.model.programme import Allow
from ferrule.programme.by_week import is_by_week
from ferrule.programme.drafts import BlockDraft, Chunk, CycleDraft
from ferrule.programme.front import Front
from ferrule.programme.lines import Said
from ferrule.programme.markdown import Code, Html, Line, Table
from ferrule.programme.naming import Names
from ferrule.programme.report import Report, short

_COMMENT = re.compile(r"<!--(.*?)(-->|$)", re.DOTALL)
_ALLOW = re.compile(r"allow\s+([a-z0-9][a-z0-9-]*)\s*(?:[:—-]\s*(.*))?$", re.IGNORECASE | re.DOTALL)


@dataclass(slots=True)
class Asides:
    """The state of the pass, and the reading of what is neither a head, an item nor words."""

    front: Front
    names: Names
    report: Report
    said: Said = field(default_factory=Said)
    cycles: list[CycleDraft] = field(default_factory=list)
    allows: list[Allow] = field(default_factory=list)
    chunks: list[Chunk] = field(default_factory=list)
    heading: str = ""
    block: BlockDraft | None = None
    coach_line: int = 0

    def _scope(self) -> Said:
        if self.block is not None:
            return self.block.said
        if self.cycles:
            cycle = self.cycles[-1]
            return cycle.sessions[-1].said if cycle.sessions else cycle.said
        return self.said

    def _table(self, table: Table) -> None:
        self._scope().open = ""
        first = table.lines[0]
        raw = [line.text for line in table.lines]
        if not is_by_week(table):
            self.report.add(
                "table-not-by-week", "advice", first.number, first.column, first.column + len(first.text),
                "This table does not begin with `week`; it was left as it is.",
                "Only by-week tables are read.", "Write `week` in its first cell, then the week numbers.",
            )  # fmt: skip
        elif self.block is None and self.cycles and not self.cycles[-1].sessions:
            name = self.cycles[-1].head.label or "1"
            name = name[:1].upper() + name[1:] if name.startswith("week") else f"Cycle {name}"
            self.report.add(
                "table-outside-block", "error", first.number, first.column, first.column + len(first.text),
                f"{name} has no session, so this by-week table has no block; it was not read.",
                "A cycle does not take over the sessions of the one before it.",
                "Write the sessions again below the head of the cycle, `### Session 1, as session 1 of cycle 1` where nothing"
                " changes, and the table below the list of its block; or give the weeks to the cycle before and write one"
                " table there.",
            )  # fmt: skip
        elif self.block is None:
            self.report.add(
                "table-outside-block", "error", first.number, first.column, first.column + len(first.text),
                "A by-week table stands outside any block.", "Its rows name items of a block; it was not read.",
                "Put it below the list of its block, after a blank line.",
            )  # fmt: skip
        else:
            self.block.tables.append((table, raw))
        self.chunks.append(Chunk(raw))

    def _html(self, node: Html) -> None:
        text = "\n".join(line.text for line in node.lines)
        first = node.lines[0]
        self._scope().open = ""
        self.chunks.append(Chunk([line.text for line in node.lines]))
        if "<!--" in text and "-->" not in text[text.rfind("<!--") :]:
            self.report.add(
                "comment-not-closed", "error", first.number, first.column, None, "A comment is opened and never closed.",
                "All that follows it in the file was taken as comment and not read.", "Write `-->` at its end.",
            )  # fmt: skip
        for match in _COMMENT.finditer(text):
            body = " ".join(match.group(1).split())
            offset = text.count("\n", 0, match.start())
            line = node.lines[min(offset, len(node.lines) - 1)]
            start = line.column + match.start() - (text.rfind("\n", 0, match.start()) + 1)
            self._allow(body, line.number, start, start + len(match.group().split("\n")[0]))
        rest = _COMMENT.sub("", text).strip()
        if rest:
            self.report.add(
                "html-not-read", "advice", first.number, first.column, None, f"`{short(rest)}` is HTML and was not read.",
                "A programme is plain Markdown.", "Write it as text.",
            )  # fmt: skip

    def _allow(self, body: str, line: int, start: int, end: int) -> None:
        if not body.lower().startswith("allow"):
            return
        found = _ALLOW.match(body)
        why = (found.group(2) or "").strip() if found else ""
        if not found or not why:
            self.report.add(
                "allow-not-read", "error", line, start, end, f"`{short(body)}` does not set a check aside.",
                "It needs the name of the rule and the reason, which is kept with it.", "Write `<!-- allow rule: why -->`.",
            )  # fmt: skip
            return
        self.allows.append(Allow(found.group(1).lower(), why, self.report.span(line, start, end)))

    def _code(self, node: Code) -> None:
        self._scope().open = ""
        if not node.lines:
            return
        first = node.lines[0]
        self.chunks.append(Chunk([line.text for line in node.lines]))
        if node.closed:
            self.report.add(
                "fenced-text", "advice", first.number, first.column, None, "Text between fences was not read.",
                "Fences mark text that is to be left as it is.", "Take the fences away to have it read.",
            )  # fmt: skip
        else:
            self.report.add(
                "fence-not-closed", "error", first.number, first.column, None, "A fence is opened and never closed.",
                "All that follows it in the file was not read.", f"Write `{first.text[:3]}` where it ends, or take it away.",
            )  # fmt: skip

    def _lone_row(self, line: Line) -> None:
        self.report.add(
            "table-not-read", "error", line.number, line.column, line.column + len(line.text),
            f"`{short(line.text)}` stands alone and makes no table.",
            "A by-week table has a first row with the weeks, a line of dashes, and one row or more.",
            "Write the first row, `|---|---|`, then this row.",
        )  # fmt: skip
        self.chunks.append(Chunk([line.text]))
