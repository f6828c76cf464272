"""`ferrule library [NAME]`: the exercises, or one of them with its figure."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap
from pathlib import Path

from ferrule.body.figure import both_ends, figure
from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.findings import render, terminal_width
from ferrule.cli.stop import Stop
from ferrule.library.names import nearest
from ferrule.library.reader import load_library
from ferrule.model.exercise import Ask, Library, Variant
from ferrule.model.quantity import number

TRUST = {
    "number": "may be compared with other families",
    "ratio": "may be compared within its family",
    "order": "an order only, the number is a starting guess",
}

MORE = """\
Demand is relative: 1 is what the group's first exercise asks without a load. It is never a force.
Own exercises: --workspace DIR reads DIR/library/*.toml too."""


def run(words: list[str]) -> int:
    """List the library or show one exercise. Returns the exit code."""
    parser = parser_for("library", MORE)
    parser.add_argument("name", metavar="NAME", nargs="*", help="an exercise: its id, name or another trade name")
    parser.add_argument(
        "--workspace", metavar="DIR", type=Path, help="read the coach's own exercises of this workspace"
    )
    parser.add_argument(
        "--figure", metavar="FILE.svg", type=Path, help="write the picture of the exercise to this file"
    )
    add_json(parser)
    args = parser.parse_args(words)
    library = _read(args.workspace)
    if args.name:
        return _one(" ".join(args.name), library, args)
    if args.figure:
        raise Stop("--figure needs the name of an exercise", "ferrule library step-up --figure step-up.svg")
    print(json.dumps([as_data(v, library) for v in in_order(library)], indent=2) if args.json else listed(library))
    return 0


def _read(folder: Path | None) -> Library:
    """The built-in library, with the coach's own exercises when a workspace is named; their faults go to stderr."""
    if folder is None:
        return load_library({})[0]
    if not folder.is_dir():
        raise Stop(f"there is no folder {folder}")
    around = ws.surroundings(folder)
    if around.findings:
        print(render(around.findings, around.sources, width=terminal_width()), file=sys.stderr)
    return around.library


def _one(name: str, library: Library, args: argparse.Namespace) -> int:
    variant = library.find(name)
    if variant is None:
        near = ", ".join(f"{v.name} ({v.id})" for v in nearest(library, name))
        raise Stop(f"the library has no exercise {name!r}", f"the nearest are: {near}")
    if args.figure:
        if variant.movement is None:
            raise Stop(f"{variant.name} has no figure")
        drawn = both_ends if variant.movement.other is not None else figure
        ws.write_text(args.figure, drawn(variant.movement, title=variant.name).svg)
    print(json.dumps(as_data(variant, library), indent=2) if args.json else shown(variant, library, terminal_width()))
    if args.figure and not args.json:
        print(f"\nfigure written to {args.figure}")
    return 0


def in_order(library: Library) -> tuple[Variant, ...]:
    """Every variant, family by family, easier to harder."""
    return tuple(library.variants[i] for f in library.families.values() for i in f.variant_ids)


def listed(library: Library) -> str:
    """All families with their variants, easier to harder."""
    wide = max((len(v.name) for v in library.variants.values()), default=0)
    lines = [
        f"{len(library.variants)} exercises in {len(library.families)} families, easier to harder",
        "group and number: what it asks without a load; 1 is the group's first exercise",
        "",
    ]
    for family in library.families.values():
        lines.append(f"{family.name}")
        for variant in (library.variants[i] for i in family.variant_ids):
            main = variant.main
            asks = f"{main.group} {main.base:.2g}" if main else _undosed(variant)
            lines.append(f"  {variant.name:<{wide}}  {asks}")
        lines.append("")
    return "\n".join(lines).rstrip()


def shown(variant: Variant, library: Library, width: int = 100) -> str:
    """One exercise in words."""
    family = library.families[variant.family]
    rows: list[tuple[str, str]] = [("id", variant.id)]
    if variant.aliases:
        rows.append(("also called", ", ".join(variant.aliases)))
    rows.append(("family", f"{family.name}, number {variant.rank + 1} of {len(family.variant_ids)} from the easiest"))
    for label, ids in (("easier", variant.easier), ("harder", variant.harder)):
        names = [library.variants[i].name for i in ids if i in library.variants]
        if names:
            rows.append((label, ", ".join(names)))
    height = "" if variant.step_cm is None else f", {number(variant.step_cm[0])}-{number(variant.step_cm[1])} cm high"
    rows.append(("needs", (", ".join(variant.kit) or "nothing") + height))
    if variant.loading:
        rows.append(("load", "may be carried: " + ", ".join(variant.loading)))
    rows += [("asks", _asked(a, library)) for a in variant.asks]
    if not variant.asks:
        rows.append(("asks", _undosed(variant)))
    rows.append(("set-up", variant.setup))
    rows += [("cue", c) for c in variant.cues]
    rows += [("fault", f"{f.seen} - {f.mend}") for f in variant.faults]
    if variant.balance_help:
        rows.append(("unsteady?", variant.balance_help))
    rows += [("caution", c) for c in variant.cautions]
    if variant.movement is not None:
        rows.append(("picture", figure(variant.movement, title=variant.name).alt))
    rows.append(("from", variant.source))
    lines = [variant.name, ""]
    for label, text in rows:
        start = f"{label:>12}  "
        lines += textwrap.wrap(text, width, initial_indent=start, subsequent_indent=" " * 14) or []
    return "\n".join(lines)


def as_data(variant: Variant, library: Library) -> dict[str, object]:
    """One exercise as data; demand in units of the group's first exercise."""
    return {
        "id": variant.id,
        "name": variant.name,
        "aliases": list(variant.aliases),
        "family": variant.family,
        "rank": variant.rank,
        "pattern": variant.pattern,
        "counted_in": variant.dose_kind,
        "one_leg": variant.one_leg,
        "kit": list(variant.kit),
        "loading": list(variant.loading),
        "asks": [
            {
                "group": a.group,
                "main": a.main,
                "demand": round(a.base, 3),
                "unit": f"1 = {library.variants[library.anchors[a.group]].name}" if a.group in library.anchors else "",
                "trust": a.trust,
            }
            for a in variant.asks
        ],
        "impact": variant.impact,
        "contacts_per_rep": variant.contacts_per_rep,
        "cues": list(variant.cues),
        "faults": [{"seen": f.seen, "mend": f.mend} for f in variant.faults],
        "cautions": list(variant.cautions),
        "source": variant.source,
    }


def _asked(ask: Ask, library: Library) -> str:
    anchor = library.variants.get(library.anchors.get(ask.group, ""))
    times = f"{number(round(ask.base, 2))} times {anchor.name}" if anchor else number(round(ask.base, 2))
    load = ", more with a load" if any(v > 0 for v in ask.per_kg.values()) else ""
    return f"{ask.group}{' (main)' if ask.main else ' (on the way)'}: {times}{load}; {TRUST[ask.trust]}"


def _undosed(variant: Variant) -> str:
    if variant.impact:
        return f"impact level {variant.impact} of 4, counted in foot contacts"
    return "counted, never dosed: " + (", ".join(variant.tags) or variant.pattern)
