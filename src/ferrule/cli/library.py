"""`ferrule library [NAME]`: the exercises, one of them with its figure, what holds for all, or the start of an own one."""

from __future__ import annotations

import argparse
import json
import math
import sys
import textwrap
from pathlib import Path

from ferrule.body.figure import both_ends, figure
from ferrule.cli import muscles
from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.check import report
from ferrule.cli.findings import render, terminal_width
from ferrule.cli.stop import Stop
from ferrule.library.bands import band_words, demand_with
from ferrule.library.muscles import PLAIN
from ferrule.library.names import nearest
from ferrule.library.proof import prove
from ferrule.library.reader import load_library, load_with_places
from ferrule.library.shot import shot_of
from ferrule.library.stance import stance_words
from ferrule.library.start import file_name, start_text
from ferrule.library.variant_text import slug
from ferrule.model.exercise import Ask, Library, Variant
from ferrule.model.finding import Finding, has_errors
from ferrule.model.finding import in_order as ordered
from ferrule.model.quantity import number
from ferrule.model.words import BANDS

TRUST = {
    "number": "may be compared with other families",
    "ratio": "may be compared within its family",
    "order": "an order only, the number is a starting guess",
}

INFERRED = {
    "asks": "demand", "needs": "needs", "load": "loading places", "works": "muscles", "helped by": "helping muscles",
    "unsteady?": "balance help", "caution": "cautions", "filmed": "shot", "time": "time",
}  # fmt: skip
"""Rows of one exercise whose value may have been taken from its neighbours, with the word for it."""

VIEWS = {"side": "from the side", "front": "from the front", "behind": "from behind"}

MORE = """\
`ferrule library new NAME --like ID` writes a file for an own exercise to DIR/library, placed right after ID.
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
    parser.add_argument("--check", action="store_true", help="say what is wrong with the library as a whole")
    parser.add_argument(
        "--figures", metavar="DIR", type=Path, help="write a sheet of every figure, start and end, as SVG and PDF"
    )
    parser.add_argument(
        "--muscles", metavar="WORKSPACE", type=Path, help="sets a week a programme does for each muscle"
    )
    parser.add_argument("--like", metavar="ID", help="with `new`: the exercise it is one step harder than")
    add_json(parser)
    args = parser.parse_args(words)
    if args.like is not None and args.name[:1] != ["new"]:
        parser.error("--like belongs to `ferrule library new NAME`")
    if args.name[:1] == ["new"] and (args.like is not None or len(args.name) > 1):
        if args.check or args.figures or args.figure or args.json:
            parser.error("`new` writes a file; it goes with --like and --workspace alone")
        return _new(" ".join(" ".join(args.name[1:]).split()), args)
    if args.muscles:
        if args.name or args.check or args.figure or args.figures or args.workspace:
            parser.error("--muscles reads a workspace or a programme; it goes with --json alone")
        return muscles.run(args.muscles, as_json=args.json)
    if args.check:
        if args.name or args.figure or args.figures:
            parser.error("--check looks at the whole library; it goes with --workspace and --json alone")
        return _check(args)
    library = _read(args.workspace)
    if args.figures:
        return _figures(args.figures, library)
    if args.name:
        return _one(" ".join(args.name), library, args)
    if args.figure:
        raise Stop("--figure needs the name of an exercise", "ferrule library step-up --figure step-up.svg")
    print(json.dumps([as_data(v, library) for v in in_order(library)], indent=2) if args.json else listed(library))
    return 0


def _check(args: argparse.Namespace) -> int:
    """Print the findings of every file and of the library as a whole. Returns 1 when an error is among them."""
    own, sources, noticed = _own(args.workspace)
    library, findings, places = load_with_places(own)
    told = ordered([*noticed, *findings, *prove(library, places)])
    report(told, sources, as_json=args.json)
    return 1 if has_errors(told) else 0


def _own(folder: Path | None) -> tuple[dict[str, bytes], dict[str, str], list[Finding]]:
    """The coach's exercise files of a workspace, their texts, and what was noticed while opening them."""
    own: dict[str, bytes] = {}
    noticed: list[Finding] = []
    if folder is not None and not folder.is_dir():
        raise Stop(f"there is no folder {folder}")
    for path in sorted((folder / ws.LIBRARY).glob("*.toml")) if folder else ():
        data, more = ws.read_bytes(path)
        noticed += more
        if data is not None:
            own[str(path)] = data
    return own, {name: ws.text_of(data) for name, data in own.items()}, noticed


def _figures(folder: Path, library: Library) -> int:
    """Write figures.svg and figures.pdf."""
    from ferrule.deliver.family_sheet import family_sheet_pdf, family_sheet_svg

    ws.write_text(folder / "figures.svg", family_sheet_svg(library))
    ws.write_bytes(folder / "figures.pdf", family_sheet_pdf(library))
    print(f"{len(library.variants)} exercises written to {folder / 'figures.svg'} and {folder / 'figures.pdf'}")
    return 0


def _new(name: str, args: argparse.Namespace) -> int:
    """Write the start of an own exercise. Raises Stop when the name is taken or no file can be made."""
    folder: Path = args.workspace or Path()
    library = _read(folder)
    if not name or not name.isprintable():
        raise Stop("the new exercise needs a name", 'ferrule library new "Fence step" --like step-up-low')
    if args.like is None:
        raise Stop(f"say which exercise {name} is one step harder than", "add --like and an id, such as step-up-low")
    like = library.find(args.like)
    if like is None:
        near = ", ".join(f"{v.name} ({v.id})" for v in nearest(library, args.like))
        raise Stop(f"the library has no exercise {args.like!r}", f"the nearest are: {near}" if near else "")
    taken = library.find(name) or library.variants.get(slug(name))
    if taken is not None:
        raise Stop(f"the name {name!r} already belongs to {taken.name} ({taken.id})", "choose another name")
    path = folder / ws.LIBRARY / file_name(name)
    if path.exists():
        raise Stop(f"{path} is there already", "choose another name, or change that file")
    ws.write_text(path, start_text(name, like, library))
    amount = {"hold": "20-30 s", "distance": "20 m", "contacts": "20 contacts"}.get(like.dose_kind, "8")
    line = f"- {name}: {amount}{'/side' if like.sided else ''}"
    print(
        f"{path} written: harder than {like.name}. Write it in a programme as `{line}`;\n"
        f"what you do not fill in is inferred from its neighbours. `ferrule library --check --workspace {folder}` says what\n"
        "is wrong with it."
    )
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
        neighbours = [library.variants[i].name for i in ids if i in library.variants]
        if neighbours:
            rows.append((label, ", ".join(neighbours)))
    height = "" if variant.step_cm is None else f", {number(variant.step_cm[0])}-{number(variant.step_cm[1])} cm high"
    rows.append(("needs", (", ".join(variant.kit) or "nothing") + height))
    if variant.loading:
        rows.append(("load", "may be carried: " + ", ".join(variant.loading)))
    rows += [("asks", _asked(a, library)) for a in variant.asks]
    rows += [("with a band", words) for a in variant.asks if (words := band_words(a))]
    if not variant.asks:
        rows.append(("asks", _undosed(variant)))
    rows += [("one side", line) for line in stance_words(variant)]
    for label, names in (("works", variant.muscles), ("helped by", variant.helping)):
        if names:
            rows.append((label, ", ".join(f"{m} ({PLAIN[m]})" for m in names)))
    rows.append(("set-up", variant.setup))
    rows += [("cue", c) for c in variant.cues]
    rows += [("fault", f"{f.seen} - {f.mend}") for f in variant.faults]
    if variant.balance_help:
        rows.append(("unsteady?", variant.balance_help))
    rows += [("caution", c) for c in variant.cautions]
    if variant.movement is not None:
        rows.append(("picture", figure(variant.movement, title=variant.name).alt))
    shot = shot_of(variant)
    side = "" if shot.side == "either side" else f", {shot.side} nearer"
    rows.append(("filmed", f"{VIEWS[shot.view]}{side}; must be seen: {shot.see}; say: {shot.say}"))
    rows.append(("time", f"{number(variant.rep_s)} s a repetition, {number(variant.setup_s)} s to get ready"))
    rows.append(("order from", family.order_source))
    if variant.inferred:
        rows.append(("inferred", _inferred(variant)))
    rows += [("stands here", note) for note in (variant.order_note,) if note]
    rows += [("step to it", note) for note in (variant.gap_note,) if note]
    rows.append(("from", variant.source))
    lines = [variant.name, ""]
    for label, text in rows:
        start = f"{label:>12}  "
        text += " (inferred)" if INFERRED.get(label) in variant.inferred else ""
        lines += textwrap.wrap(text, width, initial_indent=start, subsequent_indent=" " * 14) or []
    return "\n".join(lines)


def _inferred(variant: Variant) -> str:
    """What was not written, and how wide the demand is taken."""
    told = f"from its neighbours, because nothing is written: {', '.join(variant.inferred)}"
    if not variant.spread_log:
        return told
    low, high = (100 * (math.exp(sign * variant.spread_log) - 1) for sign in (-1, 1))
    return f"{told}. Its demand is believed from {-low:.0f} % below to {high:.0f} % above (two times in three)"


def as_data(variant: Variant, library: Library) -> dict[str, object]:
    """One exercise as data; demand in units of the group's first exercise."""
    shot = shot_of(variant)
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
        "bands": {b: round(d, 3) for b in BANDS if variant.main and (d := demand_with(variant.main, b)) is not None},
        "inferred": list(variant.inferred),
        "spread_log": round(variant.spread_log, 4),
        "impact": variant.impact,
        "contacts_per_rep": variant.contacts_per_rep,
        "cues": list(variant.cues),
        "faults": [{"seen": f.seen, "mend": f.mend} for f in variant.faults],
        "cautions": list(variant.cautions),
        "source": variant.source,
        "muscles": list(variant.muscles),
        "helping": list(variant.helping),
        "shot": {"view": shot.view, "side": shot.side, "see": shot.see, "say": shot.say},
        "order_source": library.families[variant.family].order_source,
    }


def _asked(ask: Ask, library: Library) -> str:
    anchor = library.variants.get(library.anchors.get(ask.group, ""))
    times = f"{number(round(ask.base, 2))} times {anchor.name}" if anchor else number(round(ask.base, 2))
    load = ", more with a load" if any(v > 0 for place, v in ask.per_kg.items() if place != "band") else ""
    return f"{ask.group}{' (main)' if ask.main else ' (on the way)'}: {times}{load}; {TRUST[ask.trust]}"


def _undosed(variant: Variant) -> str:
    if variant.impact:
        return f"impact level {variant.impact} of 4, counted in foot contacts"
    return "counted, never dosed: " + (", ".join(variant.tags) or variant.pattern)
