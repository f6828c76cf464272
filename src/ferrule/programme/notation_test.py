"""Every example of docs/notation.md, and every file of examples/, reads with the real library."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from ferrule.library.reader import load_library
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.strategies import without_spans
from ferrule.programme.tidy import tidy

ROOT = Path(__file__).parents[3]
BLOCKS = re.findall(r"```markdown\n(.*?)```", (ROOT / "docs" / "notation.md").read_text(encoding="utf-8"), re.DOTALL)
EXAMPLES = sorted((ROOT / "examples").glob("notation-*.md"))
LIBRARY, _ = load_library()


def test_the_reference_has_examples() -> None:
    assert len(BLOCKS) >= 6
    assert len(EXAMPLES) >= 3


@pytest.mark.parametrize("number", range(len(BLOCKS)))
def test_an_example_of_the_reference_reads_without_a_fault(number: int) -> None:
    text = BLOCKS[number]
    _, findings = read_programme(text, "notation.md", SAMPLE)
    assert [f for f in findings if f.level != "note" and f.code != "weeks-left-out"] == []
    once, _ = tidy(text, "notation.md", SAMPLE)
    assert without_spans(read_programme(once, "notation.md", SAMPLE)[0]) == without_spans(
        read_programme(text, "notation.md", SAMPLE)[0]
    )


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name)
def test_an_example_file_is_canonical_and_without_faults(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    _, findings = read_programme(text, path.name, LIBRARY)
    assert [f for f in findings if f.level != "note"] == []
    assert tidy(text, path.name, LIBRARY)[0] == text
