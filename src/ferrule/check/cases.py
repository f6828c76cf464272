"""Case files: small programmes beside a rule that it passes or fails, in Markdown.

## fails: two heel raises

```
...the programme...
```

- line 8: both work calf
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_CASE = re.compile(r"^## (passes|fails): ([^\n]+)\n\n```\n(.*?)^```\n((?:\n?^- line [^\n]+\n)*)", re.M | re.S)
_EXPECTED = re.compile(r"^- line (\d+): (.+)$", re.M)


@dataclass(frozen=True, slots=True)
class Case:
    """One small programme. expected: line and a piece of the words of every finding, in order; empty when it passes."""

    rule: str
    passes: bool
    title: str
    text: str
    expected: tuple[tuple[int, str], ...]


def read_cases(text: str, rule: str) -> tuple[Case, ...]:
    """The cases of one file. Raises ValueError when a case's heading is there but the case cannot be read."""
    found = list(_CASE.finditer(text))
    headings = text.count("\n## passes:") + text.count("\n## fails:")
    if len(found) != headings:
        raise ValueError(f"{rule}: {headings} cases, {len(found)} of them can be read")
    out = []
    for kind, title, programme, lines in (m.groups() for m in found):
        expected = tuple((int(n), words) for n, words in _EXPECTED.findall(lines))
        if bool(expected) == (kind == "passes"):
            raise ValueError(f"{rule}: {title}: a failing case lists what is found, a passing one nothing")
        out.append(Case(rule, kind == "passes", title, programme, expected))
    return tuple(out)
