from __future__ import annotations

import pytest

from ferrule.library.reader import load_library
from ferrule.model.finding import Span
from ferrule.squad.cell import Cell
from ferrule.squad.reader import read_squad
from ferrule.squad.share_cells import read_shares

LIBRARY, _ = load_library({})
HEAD = "id,name,level,runs,anchor,shares kit with\n"


def row(runner: str, shares: str) -> str:
    return f'{runner},Name {runner},some,Tue key,from 2026-01-05,"{shares}"\n'


@pytest.mark.parametrize(
    ("text", "ids"),
    [("R07", ("R07",)), ("R07 and R08", ("R07", "R08")), ("R07; R08, R07", ("R07", "R08")), ("", ()), ("nobody", ("nobody",))],
)  # fmt: skip
def test_ids_as_people_write_them(text: str, ids: tuple[str, ...]) -> None:
    assert read_shares(Cell(text, Span("s", 1, 1))) == ids


def test_said_once_it_holds_for_both() -> None:
    squad, findings = read_squad((HEAD + row("R01", "") + row("R02", "r01") + row("R03", "")).encode(), "s", LIBRARY)
    assert findings == ()
    assert [r.shares for r in squad.runners] == [("R02",), ("R01",), ()]


def test_oneself_and_strangers_are_told_and_left_out() -> None:
    squad, findings = read_squad((HEAD + row("R01", "R01; R09; R02") + row("R02", "")).encode(), "s", LIBRARY)
    assert [f.code for f in findings] == ["unknown-runner", "unknown-runner"]
    assert "this runner" in findings[0].what
    assert "R09" in findings[1].what
    assert squad.runners[0].shares == ("R02",)
