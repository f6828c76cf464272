"""Every rule against the small programmes beside it: `rules/<rule>.cases.md`."""

from __future__ import annotations

from pathlib import Path

import pytest

from ferrule.check.cases import Case, read_cases
from ferrule.check.course import lay_out
from ferrule.check.rules import RULES
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.house import House
from ferrule.programme.reader import read_programme

RULE_FILES = Path(__file__).parent / "rules"
BY_NAME = {rule.name: rule for rule in RULES}


def _all_cases() -> list[Case]:
    out: list[Case] = []
    for path in sorted(RULE_FILES.glob("*.cases.md")):
        out += read_cases(path.read_text(encoding="utf-8"), path.name.removesuffix(".cases.md").replace("_", "-"))
    return out


CASES = _all_cases()


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library({})[0]


def _run(case: Case, library: Library) -> list[Finding]:
    programme, findings = read_programme(case.text, "case.md", library)
    assert [f for f in findings if f.level == "error"] == [], "a case must be readable"
    course = lay_out(programme, library, House())
    assert course.lines, "a case must have work in it"
    return sorted(BY_NAME[case.rule].run(course), key=lambda f: (f.span is None, f.span.line if f.span else 0, f.what))


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c.rule}: {c.title}")
def test_case(case: Case, library: Library) -> None:
    found = _run(case, library)
    told = [(f.span.line if f.span else 0, f.what) for f in found]
    assert [line for line, _ in told] == [line for line, _ in case.expected]
    for (_, what), (_, words) in zip(told, case.expected, strict=True):
        assert words in what
    for finding in found:
        assert (finding.code, finding.level) == (case.rule, BY_NAME[case.rule].level)
        assert finding.fix.endswith(".")
        assert finding.why.endswith(".")
        assert finding.source
        assert finding.what[0].isupper() or finding.what[0] == "`"


def test_every_rule_has_a_case_of_each_kind_and_no_file_is_left_over() -> None:
    both = {(c.rule, c.passes) for c in CASES}
    assert both == {(name, passes) for name in BY_NAME for passes in (True, False)}


def test_names_and_files_agree_and_sources_say_how_they_are_known() -> None:
    modules = {p.stem.replace("_", "-") for p in RULE_FILES.glob("*.py") if p.stem != "__init__"}
    assert modules == set(BY_NAME)
    assert len(RULES) == len(BY_NAME)
    for rule in RULES:
        assert any(word in rule.source for word in ("seen", "from memory", "no source")), rule.name
        if rule.source.startswith("common practice"):
            assert rule.strength == "common practice", rule.name


@pytest.mark.parametrize(
    "text",
    [
        "# r\n\n## passes: no fence\n\ntext\n",
        "# r\n\n## fails: nothing listed\n\n```\nx\n```\n",
        "# r\n\n## passes: something listed\n\n```\nx\n```\n\n- line 1: x\n",
    ],
)
def test_a_case_that_shows_nothing_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="r: "):
        read_cases(text, "r")
