"""Who shares a home, and so a kit, with whom."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from ferrule.model.finding import Finding
from ferrule.model.squad import Runner
from ferrule.squad.cell import Cell, fault, shown


def read_shares(cell: Cell) -> tuple[str, ...]:
    """The ids as written, each once: `R07`, `R07 and R08`."""
    if cell.empty:
        return ()
    words = re.split(r"[;,\s]+|\band\b|&|\+", cell.plain)
    return tuple(dict.fromkeys(w.strip(".") for w in words if w.strip(".")))


def joined(runners: Sequence[Runner], cells: Mapping[str, Cell]) -> tuple[list[Runner], list[Finding]]:
    """The runners with ids as in the file, told on both sides: who shares with R07, R07 shares with. Unknown ids are told.

    cells   the cell of each runner, by id
    """
    known = {r.id.lower(): r.id for r in runners}
    homes: dict[str, set[str]] = {r.id: set() for r in runners}
    findings = []
    for runner in runners:
        for written in runner.shares:
            other = known.get(written.lower())
            if other is None or other == runner.id:
                what = f"{shown(written)} is {'this runner' if other else 'no id of this list'}"
                why = "Kit can only be shared between two runners of the list; this one is left out, the rest is kept."
                findings.append(fault(cells[runner.id], "unknown-runner", what, why, "Write the other runner's id."))
            else:
                homes[runner.id].add(other)
                homes[other].add(runner.id)
    order = [r.id for r in runners]
    return [replace(r, shares=tuple(sorted(homes[r.id], key=order.index))) for r in runners], findings
