"""What an allow covers, and what is told about the allow itself."""

from __future__ import annotations

import pytest

from ferrule.check.allow import scopes
from ferrule.check.run import check
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, has_errors
from ferrule.model.house import House
from ferrule.programme.reader import read_programme

TEXT = """\
{top}
## Cycle 1, weeks 1-2: Try

{session}
### Session 1: legs, 60 min

{first}
Pair A, 3 rounds, rest 90 s

- Squat: 8, 2 RIR
- Step-up: 8/side, 2 RIR

Pair B, 3 rounds, rest 90 s

- Squat: 8, 2 RIR
- Step-up: 8/side, 2 RIR

### Session 2: legs, 60 min

Pair A, 3 rounds, rest 90 s

- Squat: 8, 2 RIR
- Step-up: 8/side, 2 RIR
"""
ALLOW = "<!-- allow pair-clash: they asked for it -->\n"


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library({})[0]


def _check(library: Library, top: str = "", session: str = "", first: str = "", off: str = "") -> list[Finding]:
    text = TEXT.format(top=top, session=session, first=first)
    programme, findings = read_programme(text, "p.md", library)
    assert not has_errors(findings)
    house = House(switched_off=frozenset({off} - {""}))
    return [f for f in check(programme, library, house) if f.code.startswith(("pair-clash", "allow"))]


def test_it_covers_the_block_that_follows_and_keeps_its_reason(library: Library) -> None:
    found = _check(library, first=ALLOW)
    assert [f.level for f in found] == ["note", "advice", "advice"]
    assert "allowed: they asked for it" in found[0].what
    assert found[0].source


def test_before_a_session_it_covers_the_session(library: Library) -> None:
    assert [f.level for f in _check(library, session=ALLOW)] == ["note", "note", "advice"]


def test_at_the_top_it_covers_the_file(library: Library) -> None:
    assert [f.level for f in _check(library, top=ALLOW)] == ["note", "note", "note"]


def test_an_unknown_rule_is_told_with_the_nearest_name(library: Library) -> None:
    found = _check(library, top="<!-- allow pair-clsh: x -->\n")
    assert [f.code for f in found] == ["allow-unknown", "pair-clash", "pair-clash", "pair-clash"]
    assert "pair-clash" in found[0].fix


def test_an_error_cannot_be_set_aside_and_the_allow_is_told(library: Library) -> None:
    assert _check(library, top="<!-- allow pain-line: x -->\n")[0].code == "allow-error"


def test_an_allow_with_nothing_to_set_aside_is_told_unless_the_rule_is_off(library: Library) -> None:
    assert _check(library, top="<!-- allow contacts-a-session: x -->\n")[0].code == "allow-unused"
    assert _check(library, top=ALLOW, off="pair-clash") == []


def test_scopes_end_where_the_next_part_begins(library: Library) -> None:
    programme, _ = read_programme(TEXT.format(top="", session="", first=ALLOW), "p.md", library)
    lines = [b.span.line for s in programme.cycles[0].sessions for b in s.blocks]
    (scope,) = scopes(programme)
    assert (scope.first, scope.last, scope.whole) == (lines[0], lines[1] - 1, False)


def test_an_allow_beside_what_it_means_says_where_to_stand(library: Library) -> None:
    text = """### Session 1: legs, 10 min

<!-- allow session-minutes: the hall closes late -->

Straight, 5 sets, rest 2 min

- Squat: 8, 2 RIR
- Split squat: 8/side, 2 RIR
"""
    programme, _ = read_programme(text, "p.md", library)
    (told,) = [f for f in check(programme, library, House()) if f.code == "allow-unused"]
    assert told.fix == "session-minutes is found on line 1: write this line before it."
