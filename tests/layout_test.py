"""The shape of the source: which folder may import which, tests beside what they protect, modules of one noun."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "ferrule"
MOST_LINES = 500

WITHOUT_OWN_TEST: dict[str, str] = {
    "__main__.py": "three lines; every command test that starts a process runs it",
    "model/exercise.py": "plain values, used by every test of the library",
    "model/fitted.py": "plain values, used by every test of the fit",
    "model/house.py": "plain values; check/house_test.py reads and changes every threshold",
    "model/pose.py": "plain values, used by every test of the body",
    "model/programme.py": "plain values, used by every test of the reader",
    "model/quantity.py": "plain values; programme/text_test.py prints every one of them",
    "model/squad.py": "plain values, used by every test of the squad",
    "model/words.py": "closed lists of words; docs_test.py finds them in the glossary",
    "cli/stop.py": "one exception; main_test.py raises it",
    "cli/arguments.py": "shared arguments; tests/command_test.py gives each one wrong values",
}
"""Modules without a test file of the same name, and where they are tested instead."""


def modules() -> list[Path]:
    return [p for p in sorted(SOURCE.rglob("*.py")) if not p.name.endswith("_test.py") and p.name != "__init__.py"]


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
    missing = [
        name
        for name, path in ((p.relative_to(SOURCE).as_posix(), p) for p in modules())
        if not path.with_name(path.stem + "_test.py").exists()
        and not path.with_name(path.stem + ".cases.md").exists()
        and name not in WITHOUT_OWN_TEST
    ]
    assert not missing, f"no test beside: {', '.join(missing)}"


def test_the_list_of_exceptions_is_true() -> None:
    names = {p.relative_to(SOURCE).as_posix(): p for p in modules()}
    gone = [name for name in WITHOUT_OWN_TEST if name not in names]
    assert not gone, f"listed but not there: {', '.join(gone)}"
    tested = [name for name in WITHOUT_OWN_TEST if names[name].with_name(names[name].stem + "_test.py").exists()]
    assert not tested, f"listed as without a test but has one: {', '.join(tested)}"


def test_every_test_file_protects_something() -> None:
    orphans = [
        p.relative_to(SOURCE).as_posix()
        for p in sorted(SOURCE.rglob("*_test.py"))
        if not p.with_name(p.name.removesuffix("_test.py") + ".py").exists()
    ]
    assert not orphans, f"tests of no module: {', '.join(orphans)}"


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
