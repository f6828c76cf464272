"""`ferrule house [WORKSPACE]`: every house rule with its default, or those in force in a workspace."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from ferrule.check.house import house_toml, shown
from ferrule.check.rules import RULES
from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.findings import may_style, render, terminal_width
from ferrule.model.finding import Finding, has_errors
from ferrule.model.house import THRESHOLDS, House
from ferrule.model.quantity import number

MORE = """\
Without WORKSPACE: house.toml with every rule commented out; keep it in the workspace and change what you want
otherwise. With WORKSPACE: the rules in force there, those that differ from the default first."""


def run(words: list[str]) -> int:
    """Print the house rules. Returns the exit code: 1 when house.toml has errors."""
    parser = parser_for("house", MORE)
    parser.add_argument("workspace", metavar="WORKSPACE", type=Path, nargs="?", help="folder with house.toml")
    add_json(parser)
    args = parser.parse_args(words)
    if args.workspace is None and not args.json:
        print(house_toml().rstrip())
        return 0
    path = None if args.workspace is None else args.workspace / ws.HOUSE if args.workspace.is_dir() else args.workspace
    house = House()
    findings: tuple[Finding, ...] = ()
    sources: dict[str, str] = {}
    if path is not None and (path.exists() or not args.workspace.is_dir()):
        house, findings, sources = ws.house_of(path)
    if args.json:
        print(json.dumps(as_data(house), indent=2, ensure_ascii=False))
    else:
        print(in_force(house))
    if findings:
        print(render(findings, sources, width=terminal_width(), styled=may_style(sys.stderr)), file=sys.stderr)
    return 1 if has_errors(findings) else 0


def in_force(house: House) -> str:
    """The rules in force as a table in words: those the coach changed, the checks that are off, the rest."""
    wide = max(len(t.key) for t in THRESHOLDS)
    changed, kept = [], []
    for t in THRESHOLDS:
        line = f"  {t.key:<{wide}}  {shown(t, house):>6} {t.unit}"
        if house.value(t.key) != t.default:
            changed.append(f"{line}, by default {number(t.default)} ({number(t.low)} to {number(t.high)})")
        else:
            kept.append(line)
    out = [_counted(len(changed)), *changed]
    if house.switched_off:
        out += ["", "Checks that are switched off:", *(f"  {name}" for name in sorted(house.switched_off))]
    return "\n".join([*out, "", "As by default:", *kept])


def as_data(house: House) -> dict[str, object]:
    """The same as plain data; a rule that is off has the value null."""
    rules = [
        {
            "key": t.key,
            "value": None if shown(t, house) == "off" else house.value(t.key),
            "default": t.default,
            "low": t.low,
            "high": t.high,
            "unit": t.unit,
            "what": t.what,
            "source": t.source,
            "differs": house.value(t.key) != t.default,
        }
        for t in THRESHOLDS
    ]
    checks = [{"name": r.name, "level": r.level, "on": r.name not in house.switched_off} for r in RULES]
    return {"coach": house.coach, "contact": house.contact, "thresholds": rules, "checks": checks}


def _counted(n: int) -> str:
    if n == 0:
        return "No house rule differs from its default."
    return "One house rule differs from its default:" if n == 1 else f"{n} house rules differ from their defaults:"
