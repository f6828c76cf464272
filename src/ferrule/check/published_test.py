"""The checks on published programmes: what each finds, kept to be read, and how often each rule fires.

Published programmes were sound enough to be tried on people. A rule that finds fault with half of them is wrong about
programmes, or says as advice what should be a note.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

import pytest

from ferrule.check.rules import RULES
from ferrule.check.run import check
from ferrule.library.reader import load_library
from ferrule.model.finding import Finding, has_errors
from ferrule.model.house import House
from ferrule.programme.reader import read_programme

ROOT = Path(__file__).parents[3]
PUBLISHED = sorted((ROOT / "examples" / "published").glob("*.md"))
PAGE = ROOT / "docs" / "decisions" / "0006-findings-and-rules.md"
_TABLE = re.compile(r"(<!-- counted by check/published_test.py -->\n).*?(<!-- end -->)", re.S)


@cache
def found() -> Mapping[str, tuple[Finding, ...]]:
    """What the checks alone find in each published programme, by its file name."""
    library, _ = load_library({})
    out = {}
    for path in PUBLISHED:
        programme, _ = read_programme(path.read_text(encoding="utf-8"), path.name, library)
        out[path.name] = check(programme, library, House())
    return out


def test_there_are_published_programmes() -> None:
    assert len(PUBLISHED) >= 20


@pytest.mark.parametrize("path", PUBLISHED, ids=lambda p: p.stem)
def test_none_of_them_is_called_impossible(path: Path) -> None:
    assert not has_errors(found()[path.name])


def test_what_is_found(golden: Callable[[str, str], None]) -> None:
    parts = []
    for name, findings in found().items():
        counts = Counter(f.code for f in findings)
        parts.append(f"# {name}: {', '.join(f'{code} {n}' for code, n in sorted(counts.items())) or 'nothing'}")
        parts += [f"{f.span.line if f.span else '-'}  {f.level}  {f.code}: {f.what}" for f in findings]
        parts.append("")
    golden("check/published.txt", "\n".join(parts))


def test_no_advice_is_given_to_half_of_them() -> None:
    advised = Counter(code for fs in found().values() for code in {f.code for f in fs if f.level == "advice"})
    assert {code: n for code, n in advised.items() if 2 * n >= len(PUBLISHED)} == {}


def test_the_table_of_how_often_is_not_stale(request: pytest.FixtureRequest) -> None:
    told = Counter(code for fs in found().values() for code in {f.code for f in fs})
    lines = Counter(f.code for fs in found().values() for f in fs)
    rows = [f"| {r.name} | {r.level} | {told[r.name]} | {lines[r.name]} |" for r in RULES if told[r.name]]
    silent = ", ".join(r.name for r in RULES if not told[r.name])
    head = [f"| rule | level | of {len(PUBLISHED)} programmes | findings |", "|---|---|---|---|"]
    table = "\n".join([*head, *rows, "", f"In none of them: {silent}.", ""])
    page = PAGE.read_text(encoding="utf-8")
    new = _TABLE.sub(lambda m: m[1] + table + m[2], page)
    if request.config.getoption("--golden-update"):
        PAGE.write_text(new, encoding="utf-8")
    assert table in page or request.config.getoption("--golden-update"), "run `make golden` and read the difference"
