"""The squad file -> Squad. Every fault is told with its row and field; no fault loses a runner."""

from __future__ import annotations

import re
from collections.abc import Iterable

from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, Span, in_order
from ferrule.model.squad import Anchor, Hold, Runner, Squad
from ferrule.squad.anchor_cells import read_anchor, read_joins, read_races
from ferrule.squad.cell import Cell, fault, shown
from ferrule.squad.health_cells import LONGEST_PROGRAMME, read_consent, read_health
from ferrule.squad.limit_cells import read_limits, read_sore
from ferrule.squad.note_cells import read_tests, read_wishes
from ferrule.squad.person_cells import read_birth_year, read_height, read_level, read_mass, read_minutes, read_sex
from ferrule.squad.share_cells import joined, read_shares
from ferrule.squad.site_cells import read_kits, read_sites
from ferrule.squad.table import Row, read_table
from ferrule.squad.week_cells import read_runs

_ID = re.compile(r"\w[\w-]{0,39}")
_RUN_NAMES = {"key": "key run", "long": "long run", "race": "race"}


def read_squad(data: bytes, file: str, library: Library) -> tuple[Squad, tuple[Finding, ...]]:
    """The squad in a CSV file (docs/squad.md has its reference), and all its faults in order of place.

    Never raises. Each row that holds anything becomes one runner. An optional cell that cannot be read is left out;
    where leaving it out would be the less careful thing (a limit, a sore place, a health status, a birth year) it is
    read as the more careful one instead, or the runner is held. A missing id or name gets a stand-in made of the line.
    """
    table, findings = read_table(data, file)
    runners: list[Runner] = []
    shares: dict[str, Cell] = {}
    taken: dict[str, Span] = {}
    for row in table.rows:
        runner, row_findings = _read_runner(row, library, taken, frozenset(table.columns))
        runners.append(runner)
        shares[runner.id] = row.cell("shares")
        findings += row_findings
    runners, found = joined(runners, shares)
    findings += found
    if table.rows:
        findings += [_no_column(file, *told) for told in _WITHOUT if told[0] not in table.columns]
    return Squad(file, tuple(runners)), in_order(findings)


def _read_runner(
    row: Row, library: Library, taken: dict[str, Span], columns: frozenset[str]
) -> tuple[Runner, list[Finding]]:
    findings: list[Finding] = []

    def keep(found: Iterable[Finding]) -> None:
        findings.extend(found)

    runner_id, found = _read_id(row, taken, "id" in columns)
    keep(found)
    name, found = _read_name(row, runner_id, "name" in columns)
    keep(found)
    anchor, found = read_anchor(row.cell("anchor"))
    keep(found if "anchor" in columns else [])
    birth_year, found = read_birth_year(row.cell("birth year"), _first_year(anchor))
    keep(found)
    sex, found = read_sex(row.cell("sex"))
    keep(found)
    mass_kg, mass_sd_kg, found = read_mass(row.cell("mass"))
    keep(found)
    height_m, found = read_height(row.cell("height"))
    keep(found)
    level, found = read_level(row.cell("level"))
    keep(found)
    kits, found = read_kits(row.cell("kit"))
    keep(found)
    minutes, found = read_minutes(row.cell("minutes"))
    keep(found)
    days, sites, found = read_sites(kits, row.cell("kit"), row.cell("days"))
    keep(found)
    runs, found = read_runs(row.cell("runs"))
    keep(found)
    starts, found = read_joins(row.cell("joins"), anchor)
    keep(found)
    limits, found, limits_hold = read_limits(row.cell("limits"), library, anchor)
    keep(found)
    sore, found, sore_holds = read_sore(row.cell("sore"))
    keep(found)
    wishes, notes, found = read_wishes(row.cell("notes"), library)
    keep(found)
    races, found = read_races(row.cell("races"), anchor)
    keep(found)
    tests, found = read_tests(row.cell("tests"))
    keep(found)
    holds, found = read_health(row.cell("health"), anchor)
    keep(found)
    consent_holds, found = read_consent(row.cell("consent"), row.cell("birth year"), birth_year, anchor)
    keep(found)
    for held, column in ((limits_hold, "limits"), (sore_holds, "sore")):
        if held:
            holds = (*holds, Hold("health question", None, None, row.cell(column).span))
    if row.unsure:
        holds = (*holds, Hold("health question", None, None, Span(row.file, row.line, 1)))
    runner = Runner(
        id=runner_id,
        name=name,
        level=level,
        kit=sites[0].kit if sites else kits.everywhere,
        days=days,
        runs=runs,
        anchor=anchor,
        span=Span(row.file, row.line, 1),
        birth_year=birth_year,
        sex=sex,
        mass_kg=mass_kg,
        mass_sd_kg=mass_sd_kg,
        height_m=height_m,
        minutes=minutes,
        limits=limits,
        sore=sore,
        wishes=wishes,
        tests=tests,
        holds=(*holds, *consent_holds),
        races=races,
        notes=notes,
        starts=starts,
        shares=read_shares(row.cell("shares")),
        sites=sites,
    )
    keep(_no_free_day(row.cell("days"), runner))
    return runner, findings


def _first_year(anchor: Anchor | None) -> int | None:
    if anchor is None:
        return None
    return (anchor.day if anchor.kind == "from" else anchor.day - LONGEST_PROGRAMME).year


def _stand_in(row: Row, taken: dict[str, Span]) -> str:
    stand_in = f"line-{row.line}"
    while stand_in in taken:
        stand_in += "-"
    return stand_in


def _read_id(row: Row, taken: dict[str, Span], has_column: bool) -> tuple[str, list[Finding]]:
    """An id that no earlier runner has (whatever the case: files are named after it), or a stand-in."""
    cell = row.cell("id")
    text = cell.plain
    findings: list[Finding] = []
    if _ID.fullmatch(text) and text.lower() not in taken:
        taken[text.lower()] = cell.span
        return text, []
    stand_in = _stand_in(row, taken)
    taken[stand_in] = cell.span
    kept = f'The runner is kept as "{stand_in}".'
    if text.lower() in taken and text.lower() != stand_in:
        first = taken[text.lower()]
        what = f"the id {shown(text)} is taken by the runner in line {first.line}"
        fix = "Give this runner an id of its own, or delete the row that is double."
        findings.append(fault(cell, "runner-twice", what, f"Sent weeks are kept by id. {kept}", fix, related=(first,)))
    elif has_column:
        what = f"{shown(cell.text)} is no id" if text else "the id is missing"
        fix = 'Write letters, digits and hyphens, "R01".'
        findings.append(fault(cell, "no-id", what, f"Sent weeks are kept by id. {kept}", fix))
    return stand_in, findings


def _read_name(row: Row, runner_id: str, has_column: bool) -> tuple[str, list[Finding]]:
    cell = row.cell("name")
    name = " ".join("".join(c if c.isprintable() else " " for c in cell.text).split())
    if name and len(name) <= 60:
        return name, []
    if not has_column:
        return runner_id, []
    what = "the name is missing" if not name else f"the name {shown(name)} has more than 60 characters"
    why = f"The name stands on the sheet; {shown(name[:60]) if name else runner_id} is used until then."
    return name[:60] or runner_id, [fault(cell, "no-name", what, why, "Write the name the runner is called by.")]


def _no_free_day(cell: Cell, runner: Runner) -> list[Finding]:
    """Every possible day has a key run, long run or race of the usual week."""
    hard = {run.day: _RUN_NAMES[run.kind] for run in runner.runs if run.kind in _RUN_NAMES}
    if not runner.days or not all(day in hard for day in runner.days):
        return []
    return [
        fault(
            cell,
            "no-free-day",
            f"each day in {shown(cell.text)} has a {' or '.join(sorted({hard[d] for d in runner.days}))}",
            "Heavy leg work is kept hours away from those, so there may be no day for it.",
            "Ask this runner for one more day.",
            level="advice",
        )
    ]


_WITHOUT = (
    (
        "anchor",
        "Nothing says when the programme begins, so no week is fitted.",
        'Add a column `anchor`: "from 2026-01-05" or "to race 2026-05-17".',
    ),
    (
        "level",
        "Every runner counts as never trained, the careful end, until sets are logged.",
        "Add a column `level`: never, some, regular or strong.",
    ),
)


def _no_column(file: str, column: str, why: str, fix: str) -> Finding:
    return Finding(f"no-{column}", "advice", f"there is no column `{column}`", why, fix, Span(file, 1, 1))
