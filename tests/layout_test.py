"""The shape of the source: which folder may import which, tests beside what they protect, modules of one noun."""

from __future__ import annotations

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "ferrule"
MOST_LINES = 500

FIGURES = "src/ferrule/body/figure_test.py"

TESTED_THROUGH: dict[str, tuple[str, str]] = {
    "model/*": ("src/ferrule/fit/runner_test.py", "plain values without behaviour to speak of"),
    "model/pose.py": ("src/ferrule/body/golden_test.py", "plain values"),
    "body/*": ("src/ferrule/body/golden_test.py", "golden numbers and an independent simulator, through statics.py"),
    **{
        f"body/{part}.py": (FIGURES, "part of a figure")
        for part in ("alt", "arms", "contact_sheet", "limbs", "load_line", "names", "path", "props", "shapes")
    },
    "body/chain.py": ("src/ferrule/body/pins_test.py", "points taken apart and put together again"),
    "check/rules/*": ("src/ferrule/check/cases_test.py", "a file of cases beside each rule"),
    **{
        f"programme/{part}.py": ("src/ferrule/programme/compare_test.py", "part of comparing two versions")
        for part in ("change", "compare_lines", "compare_sessions", "compare_texts", "meaning")
    },
    **{
        f"programme/{part}.py": ("src/ferrule/programme/complete_test.py", "part of what may be written at the cursor")
        for part in ("cursor", "field_offers", "line_offers", "name_offers", "offer", "row_offers")
    },
    **{
        f"programme/paste_{part}.py": ("src/ferrule/programme/paste_test.py", "part of reading a pasted programme")
        for part in ("block", "head", "item", "line")
    },
    **{
        f"simulate/{part}.py": ("src/ferrule/simulate/dry_run_test.py", "part of the dry run")
        for part in ("dry_run_life", "dry_run_squad", "fair")
    },
    "simulate/dry_run_words.py": ("src/ferrule/simulate/dry_run_summary_test.py", "the summary in words"),
    "deliver/explain_picture.py": ("src/ferrule/deliver/explain_test.py", "the picture beside the words"),
    **{
        f"deliver/{part}.py": ("src/ferrule/deliver/review_test.py", "part of the pages at the end of a cycle")
        for part in ("hand_over", "physio", "review_facts", "review_words", "rewrite", "sample_cycle")
    },
    "deliver/score_marks.py": ("src/ferrule/deliver/score_test.py", "what the session score draws"),
    "deliver/written_page.py": ("src/ferrule/deliver/written_test.py", "the page beside the text"),
    "deliver/*": ("src/ferrule/deliver/summary_test.py", "parts of the squad page"),
    "fit/*": ("src/ferrule/fit/runner_test.py", "parts of one runner's problem, fitted and verified whole"),
    "fit/tiny_weeks.py": ("src/ferrule/fit/solve_test.py", "values that tests share"),
    "next/*": ("src/ferrule/next/propose_test.py", "rules, each with its cases, through the proposals they come to"),
    "library/*": ("src/ferrule/library/reader_test.py", "parts of the reader, through texts of families"),
    "library/compute.py": (
        "src/ferrule/library/computed_test.py",
        "makes the stored demands, which are made again there",
    ),
    "notice/*": ("src/ferrule/notice/due_test.py", "the whole list, and the invented squad its tests share"),
    "programme/*": (
        "src/ferrule/programme/round_trip_test.py",
        "parts of the reader: texts there and back, and every finding",
    ),
    "squad/*": ("src/ferrule/squad/reader_test.py", "cells of the squad file, through the reader"),
    "record/strategies.py": ("src/ferrule/record/standing_test.py", "values that tests share"),
    "record/*": (
        "src/ferrule/record/receive_test.py",
        "parts of reading a file handed over, through files of every kind",
    ),
    "store/*": ("src/ferrule/store/sqlite_record_test.py", "one suite of behaviour for every record"),
    "cli/stop.py": ("src/ferrule/cli/main_test.py", "one exception, raised there"),
}
"""Modules without a test file of the same name: module or folder -> the test that reaches them, and why it is enough.
A line for a single module goes before the line for its folder."""


def modules() -> list[Path]:
    """Every module that could break: no tests, no fixtures, no package files, nor the one command_test.py starts."""
    kept = [p for p in sorted(SOURCE.rglob("*.py")) if p.name not in ("__init__.py", "__main__.py", "conftest.py")]
    return [p for p in kept if not p.name.endswith("_test.py")]


def named(path: Path) -> str:
    return path.relative_to(SOURCE).as_posix()


@cache
def imported(path: Path) -> frozenset[Path]:
    """Files of ours that `path` imports itself, inside functions too; `from package import name` counts both."""
    found: set[Path] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module, *(f"{node.module}.{alias.name}" for alias in node.names)]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        for name in names:
            place = ROOT / "src" / Path(*name.split("."))
            found |= {p for p in (place.with_suffix(".py"), place / "__init__.py") if p.is_file()}
    return frozenset(found)


@cache
def reached(test: Path) -> frozenset[Path]:
    """Every file of ours that `test` imports, over any number of steps."""
    seen: set[Path] = set()
    new = {test}
    while new:
        seen |= new
        new = {p for path in new for p in imported(path)} - seen
    return frozenset(seen)


def listed(name: str) -> str | None:
    """The test that protects a module by the table above: its own line, else the line of its folder."""
    folders = [f"{parent}/*" for parent in Path(name).parents]
    return next((TESTED_THROUGH[key][0] for key in (name, *folders) if key in TESTED_THROUGH), None)


def test_folders_import_only_folders_above_them() -> None:
    done = subprocess.run(
        [sys.executable, "-c", "from importlinter.cli import lint_imports_command as run; run()", "--no-cache"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "1 kept, 0 broken" in done.stdout


def test_every_module_has_a_test_beside_it_or_says_why_not() -> None:
    missing = []
    for path in modules():
        beside = path.with_name(path.stem + "_test.py")
        through = listed(named(path))
        if not beside.exists() and (through is None or path not in reached(ROOT / through)):
            missing.append(named(path))
    assert not missing, f"no test beside, and not reached by the one that is listed: {', '.join(missing)}"


def test_the_list_of_exceptions_is_true() -> None:
    gone = [test for test, _ in TESTED_THROUGH.values() if not (ROOT / test).is_file()]
    assert not gone, f"no such test: {', '.join(gone)}"
    alone = {named(p) for p in modules() if not p.with_name(p.stem + "_test.py").exists()}
    single = {name for name in TESTED_THROUGH if not name.endswith("/*")}
    assert single <= alone, f"gone, or has a test of its own: {', '.join(sorted(single - alone))}"


def test_every_test_file_protects_something() -> None:
    """A test is named for its module or folder, or reaches modules of its folder: a suite of the whole of it."""
    orphans = []
    for path in sorted(SOURCE.rglob("*_test.py")):
        of = path.with_name(path.name.removesuffix("_test.py"))
        reaches = any(p.parent == path.parent and p.name != "__init__.py" for p in reached(path) - {path})
        if not (of.with_suffix(".py").exists() or of.is_dir() or reaches):
            orphans.append(named(path))
    assert not orphans, f"tests of nothing in their folder: {', '.join(orphans)}"


def test_no_module_is_too_long() -> None:
    long = {
        p.relative_to(SOURCE).as_posix(): n
        for p in modules()
        if (n := len(p.read_text(encoding="utf-8").splitlines())) > MOST_LINES
    }
    assert not long, f"more than {MOST_LINES} lines: {long}"


def test_only_the_command_line_prints() -> None:
    printing = [
        p.relative_to(SOURCE).as_posix()
        for p in modules()
        if p.relative_to(SOURCE).parts[0] not in ("cli", "__main__.py")
        and any(line.lstrip().startswith("print(") for line in p.read_text(encoding="utf-8").splitlines())
    ]
    assert not printing, f"a stage prints: {', '.join(printing)}"
