"""Where each key of a TOML file stands, because the standard reader tells values but not lines."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"""^\s*(?:([A-Za-z0-9_-]+)|"([^"]+)"|'([^']+)')\s*[.=]""")
_TRIPLE = re.compile(r'"""|\'\'\'')


@dataclass(frozen=True, slots=True)
class KeyLines:
    """Lines, from 1. A part is "" for the top, "shared", or the number of a `[[variant]]` as text: "0", "1", ..."""

    lines: Mapping[tuple[str, str], int]

    def of(self, part: str, key: str = "") -> int:
        """The line of `key` in `part`; the head of the part when the key is not written; else 1."""
        return self.lines.get((part, key)) or self.lines.get((part, "")) or 1


def key_lines(text: str) -> KeyLines:
    """The line of every table head and of every first-level key in `text`."""
    lines: dict[tuple[str, str], int] = {}
    part, variants, inside = "", 0, False
    for number, line in enumerate(text.splitlines(), start=1):
        was_inside = inside
        if len(_TRIPLE.findall(line)) % 2:
            inside = not inside
        if was_inside:
            continue
        if head := _HEADER.match(line):
            first, _, rest = head[2].partition(".")
            if head[1] == "[[" and first == "variant" and not rest:
                part, variants = str(variants), variants + 1
                lines.setdefault((part, ""), number)
            elif first == "variant" and variants:
                part = str(variants - 1)
                lines.setdefault((part, rest.split(".")[0]), number)
            else:
                part = first
                lines.setdefault((part, ""), number)
        elif key := _KEY.match(line):
            lines.setdefault((part, key[1] or key[2] or key[3]), number)
    return KeyLines(lines)
