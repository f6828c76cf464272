"""`ferrule dry-run PROGRAMME --runners N --weeks W`: the programme on simulated runners, before any human sees it."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.findings import plain, render, terminal_width
from ferrule.cli.reading import read_file
from ferrule.deliver.dry_run_page import page
from ferrule.model.finding import has_errors
from ferrule.simulate.dry_run import dry_run
from ferrule.simulate.dry_run_squad import as_often, invented_squad
from ferrule.simulate.dry_run_summary import summary_of
from ferrule.simulate.dry_run_words import as_data, told

MORE = """\
Each runner gets the fitted week, goes through it with a hidden body that is not the model, tells some of it, and the next
week is decided from that alone. Days are missed, pain comes and goes, some only tap, some say nothing.
Without --squad people are invented whose homes hold what the programme needs. The same seed gives the same run."""
MOST_RUNNERS, MOST_WEEKS = 500, 104


def run(words: list[str]) -> int:
    """Run it dry and print what came of it. Returns the exit code: 1 when a safety rule broke or the file has errors."""
    parser = parser_for("dry-run", MORE)
    parser.add_argument("file", metavar="PROGRAMME", type=Path, help="programme")
    parser.add_argument(
        "--runners", metavar="N", type=_whole(MOST_RUNNERS), default=24, help="how many; 24 when left out"
    )
    parser.add_argument(
        "--weeks",
        metavar="W",
        type=_whole(MOST_WEEKS),
        default=MOST_WEEKS,
        help="how many; the whole programme when left out",
    )
    parser.add_argument("--seed", metavar="S", type=_whole(10**9), default=1, help="of every draw; 1 when left out")
    parser.add_argument(
        "--squad", metavar="SQUAD.csv", type=Path, help="runners like these, one after the other and again"
    )
    parser.add_argument(
        "--fair", action="store_true", help="bodies and reports as the model has them: shows the loop alone"
    )
    parser.add_argument("--page", metavar="FILE.html", type=Path, help="also write it as a page with pictures")
    add_json(parser)
    args = parser.parse_args(words)
    read = read_file(args.file)
    findings, sources = read.findings, dict(read.sources)
    around = ws.surroundings(args.file.parent)
    squad = invented_squad(read.programme, read.library, args.runners, args.seed)
    if args.squad is not None:
        listed, noticed, more = ws.squad_of(args.squad, around)
        squad, findings, sources = as_often(listed, args.runners), (*findings, *noticed), {**sources, **more}
    if findings:
        print(render(findings, sources, width=terminal_width()), file=sys.stderr)
    if not read.programme.cycles or not squad.runners:
        return 1
    found = dry_run(
        read.programme, squad, read.library, around.house, args.weeks, seed=args.seed, fair=args.fair,
        own_tests=args.squad is not None, progress=_progress,
    )  # fmt: skip
    summary = summary_of(found)
    print(
        json.dumps(as_data(found, summary), indent=2, ensure_ascii=False)
        if args.json
        else plain_lines(told(found, summary))
    )
    if args.page is not None:
        args.page.write_text(page(found, summary), encoding="utf-8")
    return 1 if found.broken or has_errors(findings) else 0


def plain_lines(text: str) -> str:
    """Without control characters, line by line."""
    return "\n".join(plain(line) for line in text.split("\n"))


def _progress(done: int, of: int) -> None:
    if sys.stderr.isatty():
        sys.stderr.write(f"\rweek {done} of {of}\x1b[K" + ("\n" if done == of else ""))
        sys.stderr.flush()


def _whole(most: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        if not text.isascii() or not text.isdigit() or not 1 <= int(text) <= most:
            raise argparse.ArgumentTypeError(f"{text!r} is no whole number from 1 to {most}")
        return int(text)

    return read
