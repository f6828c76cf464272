"""docs/squad.md: every example is read, and gives what stands beside it."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from ferrule.library.reader import load_library
from ferrule.model.finding import Finding
from ferrule.model.quantity import number
from ferrule.model.squad import FieldTest, Hold, KitItem, Limit, Run, Runner, Wish
from ferrule.model.words import DAYS, KIT_KINDS
from ferrule.squad.columns import COLUMNS
from ferrule.squad.reader import read_squad
from ferrule.squad.stand_in import HEIGHT_CM, STAND_INS

DOC = (Path(__file__).parents[3] / "docs" / "squad.md").read_text(encoding="utf-8")
LIBRARY, _ = load_library({})
USUAL = {
    "id": "R01",
    "name": "Arla T",
    "level": "some",
    "anchor": "from 2026-01-05",
    "runs": "Tue key; Sun long",
}


def tables(section: str) -> list[list[list[str]]]:
    """The tables of a section as rows of cells, without their heading rule."""
    found: list[list[list[str]]] = [[]]
    for line in section.splitlines():
        if line.startswith("|"):
            cells = [c.strip() for c in line.strip().strip("|").split("|")]
            if not set("".join(cells)) <= set("-") or not cells[0]:
                found[-1].append(cells)
        elif found[-1]:
            found.append([])
    return [t for t in found if t]


def sections() -> dict[str, str]:
    parts = re.split(r"^### `([^`]+)`$", DOC, flags=re.MULTILINE)
    return {
        name: re.split(r"^## ", body, flags=re.MULTILINE)[0]
        for name, body in zip(parts[1::2], parts[2::2], strict=True)
    }


EXAMPLES = [
    (column, written, read_as)
    for column, body in sections().items()
    for table in tables(body)
    if table[0] == ["written", "read as"]
    for written, read_as in table[1:]
]
FAULTS = [row for table in tables(DOC) if table[0] == ["column", "written", "finding"] for row in table[1:]]


def read_cell(column: str, written: str) -> tuple[Runner, tuple[Finding, ...]]:
    return read_row({**USUAL, column: written} | ({"birth year": "2009"} if column == "consent" else {}))


def read_row(cells: dict[str, str]) -> tuple[Runner, tuple[Finding, ...]]:
    text = io.StringIO()
    writer = csv.DictWriter(text, list(cells), lineterminator="\r\n")
    writer.writeheader()
    writer.writerow(cells)
    squad, findings = read_squad(text.getvalue().encode(), "squad.csv", LIBRARY)
    assert len(squad.runners) == 1
    return squad.runners[0], findings


def said_kit(item: KitItem) -> str:
    words = [item.kind if item.band is None else f"{item.kind} {item.band}"]
    if item.up_to_kg is not None:
        words.append(f"{number(item.kg or 0)}-{number(item.up_to_kg)} kg in {number(item.step_kg or 0)}")
    elif item.kg:
        words.append(f"{number(item.kg)} kg")
    if item.height_cm is not None:
        words.append(f"{number(item.height_cm)} cm")
    return ("" if item.count == 1 else f"{item.count} x ") + " ".join(words)


def said_run(run: Run) -> str:
    return f"{DAYS[run.day]} {run.kind}" + (f" {run.start:%H:%M}" if run.start else "")


def said_limit(limit: Limit) -> str:
    most = "nothing" if limit.ceiling_id is None else f"at most {LIBRARY.variants[limit.ceiling_id].name}"
    end = f"until {limit.until}" if limit.until else "without end"
    return f"{limit.side} {limit.region}: {most}, {end}, said by {limit.said_by}"


def said_wish(wish: Wish) -> str:
    thing = wish.pattern or (LIBRARY.variants[wish.variant_id].name if wish.variant_id else "")
    return f"{wish.kind} {thing}".strip()


def said_hold(hold: Hold) -> str:
    cleared = f"{hold.reason}, cleared by {hold.cleared_by} on {hold.cleared_on}"
    return cleared if hold.cleared_by else f"held: {hold.reason}"


def said_test(test: FieldTest) -> str:
    return f"{test.kind} {number(test.value)}" + ("" if test.side == "both" else f" {test.side}")


def said_holds(r: Runner) -> str:
    return "; ".join(map(said_hold, r.holds)) or "not held"


SAID: dict[str, Callable[[Runner], str]] = {
    "birth year": lambda r: str(r.birth_year),
    "sex": lambda r: str(r.sex),
    "mass": lambda r: f"{number(r.mass_kg or 0)} kg" + (f", spread {r.mass_sd_kg:.1f} kg" if r.mass_sd_kg else ""),
    "height": lambda r: f"{r.height_m:.2f} m",
    "level": lambda r: r.level,
    "kit": lambda r: "; ".join(map(said_kit, r.kit)) or "nothing",
    "shares": lambda r: ", ".join(r.shares) or "with nobody of the list",
    "minutes": lambda r: f"{r.minutes} min",
    "days": lambda r: ", ".join(DAYS[d] for d in r.days),
    "runs": lambda r: "; ".join(map(said_run, r.runs)),
    "anchor": lambda r: f"{r.anchor.kind} {r.anchor.day}" if r.anchor else "none",
    "joins": lambda r: str(r.starts),
    "races": lambda r: ", ".join(map(date.isoformat, r.races)),
    "limits": lambda r: "; ".join(map(said_limit, r.limits)),
    "sore": lambda r: "; ".join(
        f"{s.side} {s.region}" + ("" if s.worst is None else f", {s.worst} at worst") for s in r.sore
    ),
    "notes": lambda r: "; ".join(
        dict.fromkeys([said_wish(w) for w in r.wishes] + ([f"kept: {r.notes}"] if r.notes else []))
    ),
    "tests": lambda r: "; ".join(map(said_test, r.tests)),
    "health": said_holds,
    "consent": said_holds,
}


@pytest.mark.parametrize(("column", "written", "read_as"), EXAMPLES)
def test_an_example_is_read_as_the_reference_says(column: str, written: str, read_as: str) -> None:
    runner, findings = read_cell(column, written)
    assert SAID[column](runner) == read_as
    if column not in ("consent", "shares") and not read_as.startswith("kept"):
        assert findings == ()


SITES = [row for table in tables(DOC) if table[0] == ["kit", "days", "is"] for row in table[1:]]


@pytest.mark.parametrize(("kit", "days", "sites"), SITES)
def test_sites_are_read_as_the_reference_says(kit: str, days: str, sites: str) -> None:
    runner, findings = read_row({**USUAL, "kit": kit, "days": days})
    said = [
        f"{' '.join([*(DAYS[d] for d in s.days), *filter(None, [s.name])])}: {', '.join(map(said_kit, s.kit)) or 'nothing'}"
        for s in sorted(runner.sites, key=lambda s: s.days)
    ]
    assert "; ".join(said) == sites
    assert findings == ()
    assert runner.days == tuple(sorted(d for s in runner.sites for d in s.days))
    assert runner.kit == runner.sites[0].kit


@pytest.mark.parametrize(("column", "written", "code"), FAULTS)
def test_a_fault_is_told_with_row_field_and_value(column: str, written: str, code: str) -> None:
    runner, findings = read_cell(column, written)
    assert [f.code for f in findings] == [code]
    finding = findings[0]
    assert finding.span is not None
    assert finding.span.line == 2
    fields = list({**USUAL, **({column: ""} if column not in USUAL else {})})
    assert finding.span.column == fields.index(column) + 1
    assert not written or any(word in finding.what for word in re.findall(r"[\w.]+", written))
    assert finding.why
    assert finding.fix
    assert (runner.id, runner.name, runner.level) == ("R01", "Arla T", "never" if column == "level" else "some")


def test_the_reference_is_whole() -> None:
    assert set(sections()) == {c.name for c in COLUMNS}
    assert {column for column, _, _ in EXAMPLES} == set(SAID) == {c.name for c in COLUMNS} - {"id", "name"}
    assert f"Kinds: {', '.join(KIT_KINDS)}." in " ".join(DOC.split())
    heights = f"step {HEIGHT_CM['step']} cm, " + ", ".join(f"{k} {cm}" for k, cm in HEIGHT_CM.items() if k != "step")
    assert heights in DOC
    rows = [row for t in tables(DOC) if t[0] == ["instead of", "may be used", "because"] for row in t[1:]]
    assert rows == [[s.wanted, s.owned, s.reason] for s in STAND_INS]


def test_every_code_of_a_finding_is_in_the_reference() -> None:
    source = "".join(p.read_text(encoding="utf-8") for p in Path(__file__).parent.glob("*.py") if "_test" not in p.name)
    codes = set(re.findall(r'"([a-z]+(?:-[a-z]+)+)",\n\s+"(?:error|advice|note)"', source))
    codes |= set(re.findall(r'(?:fault|_whole|_left_out)\(\s*\w+,\s*"([a-z-]+)"', source))
    codes |= set(re.findall(r'NoDate\(\s*"([a-z-]+)"', source))
    assert len(codes) >= 30
    assert {code for code in codes if code not in DOC} == set()


def test_the_example_file_has_no_fault() -> None:
    found = re.search(r"```csv\n(.*?)```", DOC, re.DOTALL)
    assert found
    squad, findings = read_squad(found[1].encode(), "squad.csv", LIBRARY)
    assert [r.id for r in squad.runners] == ["R01", "R02"]
    assert findings == ()
