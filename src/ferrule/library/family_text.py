"""One TOML file -> a family of drafts, and the tables that are still to be placed between neighbours."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass

from ferrule.library.draft import Draft, DraftFamily
from ferrule.library.fields import Fields
from ferrule.library.key_lines import KeyLines, key_lines
from ferrule.library.variant_text import KEYS, read_variant, slug
from ferrule.model.finding import Finding, Span

_TOP = ("id", "name", "order_source", "kit_note", "shared", "variant")
_AT = re.compile(r"\(at line (\d+), column (\d+)\)")


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A table that names its neighbours; read when the neighbours are known."""

    file: str
    part: str
    raw: Mapping[str, object]
    shared: Mapping[str, object]
    lines: KeyLines

    def fields(self) -> Fields:
        return Fields(self.file, self.part, self.raw, self.shared, self.lines)


def read_family(data: bytes, file: str) -> tuple[DraftFamily | None, tuple[Unplaced, ...], tuple[Finding, ...]]:
    """The family of a file (None when it only holds exercises placed between neighbours), and what was wrong.

    A table with `harder_than` or `easier_than` is left unplaced; a file may also hold one such exercise and no table
    head at all, alone or before the others. Nothing raises: text that is no TOML is one finding with its line and column.
    """
    try:
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
        raw = tomllib.loads(text)
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        return None, (), (_unreadable(file, line, 1, "it is not UTF-8 text", "save the file as UTF-8"),)
    except tomllib.TOMLDecodeError as error:
        line, column = _place(str(error), text)
        what = _AT.sub("", str(error)).replace("(at end of document)", "").strip()
        return None, (), (_unreadable(file, line, column, what, "mend this line; texts stand in quotes"),)
    lines = key_lines(text)
    unplaced: list[Unplaced] = []
    if "harder_than" in raw or "easier_than" in raw:
        unplaced.append(Unplaced(file, "", {k: v for k, v in raw.items() if k not in ("variant", "shared")}, {}, lines))
        raw = {k: v for k, v in raw.items() if k in ("variant", "shared")}
        if not raw:
            return None, tuple(unplaced), ()
    findings: list[Finding] = []
    top = Fields(file, "", raw, {}, lines, findings)
    name, order_source = top.text("name"), top.text("order_source", "common practice, no source")
    kit_note = top.text("kit_note")
    family_id = top.text("id", slug(name or file.rsplit("/", 1)[-1].removesuffix(".toml")))
    shared, tables = top.value("shared") or {}, top.value("variant")
    top.left_over(_TOP)
    if not isinstance(shared, dict):
        top.fault("library-bad-value", "shared", "`shared` is not a table", "write `[shared]` on a line of its own")
        shared = {}
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables) or not tables:
        fix = "begin each exercise with a line `[[variant]]`"
        top.fault("library-missing-key", "variant", f"{file} holds no exercise", fix)
        return None, tuple(unplaced), tuple(findings)
    drafts: list[Draft] = []
    for index, table in enumerate(tables):
        if "harder_than" in table or "easier_than" in table:
            unplaced.append(Unplaced(file, str(index), table, shared, lines))
            continue
        fields = Fields(file, str(index), table, shared, lines)
        draft = read_variant(fields, family_id, len(drafts))
        fields.left_over(KEYS)
        findings.extend(fields.findings)
        if draft:
            drafts.append(draft)
    family = DraftFamily(family_id, name or family_id, order_source, file, tuple(drafts), kit_note) if drafts else None
    return family, tuple(unplaced), tuple(findings)


def _place(message: str, text: str) -> tuple[int, int]:
    at = _AT.search(message)
    return (int(at[1]), int(at[2])) if at else (text.count("\n") + 1, 1)


def _unreadable(file: str, line: int, column: int, what: str, fix: str) -> Finding:
    why = "nothing in this file can be used until it is mended"
    return Finding("library-toml", "error", f"this file cannot be read: {what}", why, fix, Span(file, line, column))
