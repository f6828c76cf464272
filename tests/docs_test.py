"""The documents are true: commands, options, dependencies, docstrings, links."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from ferrule.cli.main import COMMANDS, main

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "ferrule"
DOCUMENTS = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])


def text(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("path", sorted(SOURCE.rglob("*.py")), ids=lambda p: p.relative_to(SOURCE).as_posix())
def test_everything_public_has_a_docstring(path: Path) -> None:
    if path.name.endswith("_test.py") or path.name in ("conftest.py", "strategies.py"):
        return  # tests, and what only tests use
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert ast.get_docstring(tree), "the module has no docstring"
    missing = [
        node.name
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and not ast.get_docstring(node)
    ]
    assert not missing, f"no docstring: {', '.join(missing)}"


def _options(name: str, capsys: pytest.CaptureFixture[str]) -> set[str]:
    assert main([name, "--help"]) == 0
    return set(re.findall(r"--[a-z][a-z-]*", capsys.readouterr().out)) - {"--help"}


@pytest.mark.parametrize("name", [name for name, _, _ in COMMANDS])
def test_every_command_and_option_is_in_the_commands_page(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    page = text("docs/commands.md")
    parts = {part.split()[0]: part for part in page.split("\n## ferrule ")[1:]}
    assert name in parts, f"docs/commands.md has no section for {name}"
    missing = [option for option in _options(name, capsys) if f"`{option}" not in parts[name]]
    assert not missing, f"not in the section for {name}: {missing}"


@pytest.mark.parametrize("name", [name for name, _, _ in COMMANDS])
def test_the_commands_page_names_no_option_that_is_not_there(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    page = text("docs/commands.md")
    part = next(p for p in page.split("\n## ferrule ")[1:] if p.split()[0] == name)
    listed = {m for line in part.splitlines() if line.startswith("- `--") for m in re.findall(r"`(--[a-z-]+)", line)}
    assert listed <= _options(name, capsys)


def _needed(name: str) -> set[str]:
    lines = text(f"requirements/{name}.in").splitlines()
    return {line.strip() for line in lines if line.strip() and not line.startswith(("-", "#"))}


def test_every_dependency_earns_its_place_by_name() -> None:
    page = text("docs/decisions/0009-dependencies.md")
    named = set(re.findall(r"^\| `([^`]+)` \|", page, flags=re.M))
    assert named == _needed("run") | _needed("dev")


def test_the_package_asks_for_what_it_runs_with() -> None:
    listed = re.search(r"^dependencies = \[(.*?)\]", text("pyproject.toml"), flags=re.M | re.S)
    assert listed is not None
    assert set(re.findall(r'"([^"]+)"', listed[1])) == _needed("run") - {"setuptools"}


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_links_and_pictures_lead_somewhere(path: Path) -> None:
    page = path.read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)#\s]+)(?:#[^)]*)?\)", page) + re.findall(r'\bsrc="([^"]+)"', page):
        if not target.startswith(("http://", "https://", "mailto:")):
            assert (path.parent / target).exists(), f"{path.name} links to {target}"


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_every_command_a_document_shows_exists(path: Path) -> None:
    names = {name for name, _, _ in COMMANDS}
    page = path.read_text(encoding="utf-8")
    shown = re.findall(r"^(?:\$ )?ferrule ([a-z][a-z-]*)", "\n".join(_fenced(page)), flags=re.M)
    shown += re.findall(r"`ferrule ([a-z][a-z-]*)", page)
    assert set(shown) <= names, f"{path.name} shows {set(shown) - names}"
    targets = set(re.findall(r"^([a-z-]+):", text("Makefile"), flags=re.M))
    made = re.findall(r"^(?:\$ )?make ([a-z-]+)", "\n".join(_fenced(page)), flags=re.M)
    assert set(made) <= targets, f"{path.name} shows make {set(made) - targets}"


def _fenced(page: str) -> list[str]:
    return re.findall(r"^```[a-z]*\n(.*?)^```", page, flags=re.M | re.S)


def test_the_readme_opens_with_the_two_commands_and_the_purpose() -> None:
    page = text("README.md")
    assert "make demo" in page
    assert "make test" in page
    assert "make test" in text(".ci/run")
    for words in ("not treatment", "not diagnosis", "cleared to train"):
        assert words in page


def test_the_glossary_owns_every_closed_word() -> None:
    from ferrule.model.words import BANDS, GROUPS, LEVELS, PATTERNS, PLACES, REGIONS, TAGS

    page = text("docs/glossary.md").lower()
    words = {*GROUPS, *REGIONS, *TAGS, *PATTERNS, *PLACES, *BANDS, *LEVELS}
    missing = sorted(word for word in words if word not in page)
    assert not missing, f"not in docs/glossary.md: {missing}"
