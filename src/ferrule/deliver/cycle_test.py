from __future__ import annotations

from datetime import date

import pytest

from ferrule.deliver.cycle import cycle_table
from ferrule.fit.cycle import fit_cycle
from ferrule.library.reader import load_library
from ferrule.model.finding import Span
from ferrule.model.fitted import SquadWeek
from ferrule.model.house import House
from ferrule.model.squad import Anchor, Hold, KitItem, Runner, Squad
from ferrule.programme.reader import read_programme

PLACE = Span("s.csv", 2)
MONDAY = date(2026, 1, 5)
TEXT = """---
programme: Two cycles
weeks: 4
sessions: 1 a week
---

## Cycle 1, weeks 1-2: First

### Session 1, 30 min

Straight, 2 sets, rest 60 s

- Split squat: 8/side, 3 RIR
- Side plank: 20 s/side

| week       | 1 | 2 |
|------------|---|---|
| Side plank |   | - |

## Cycle 2, weeks 3-4: Second

### Session 1, 30 min

Straight, 2 sets, rest 60 s

- Split squat: 4/side, 2 kg
- Press-up: 5, 3 RIR
"""


@pytest.fixture(scope="module")
def weeks() -> tuple[SquadWeek, ...]:
    library, _ = load_library()
    programme, _ = read_programme(TEXT, "p.md", library)
    one = Runner(
        "R1",
        "Ash",
        "some",
        (KitItem("dumbbell", 2, kg=2), KitItem("mat")),
        (0, 2, 4),
        (),
        Anchor("from", MONDAY, PLACE),
        PLACE,
    )
    held = Runner(
        "R2",
        "Birch",
        "some",
        (),
        (0, 2),
        (),
        Anchor("from", MONDAY, PLACE),
        PLACE,
        holds=(Hold("pregnant", None, None, PLACE),),
    )
    stuck = Runner("R3", "Cedar", "some", (), (), (), Anchor("from", MONDAY, PLACE), PLACE)
    return fit_cycle(programme, Squad("s.csv", (one, held, stuck)), library, House(), MONDAY, 4)


def test_a_table_for_each_runner_with_change_overs(weeks: tuple[SquadWeek, ...]) -> None:
    text = cycle_table(weeks, 80)
    assert "Ash (R1)" in text
    assert "First, weeks 1-2" in text
    assert "Change-over at week 3: new: " in text
    assert "2 kg" in text
    row = next(x for x in text.splitlines() if "Side plank" in x)
    assert row.split()[-1] == "-"


def test_who_has_no_week_says_why(weeks: tuple[SquadWeek, ...]) -> None:
    text = " ".join(cycle_table(weeks, 80).split())
    assert "Weeks of 5 January to 26 January: pregnant." in text
    assert "becomes possible" in text


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_it_fits_the_terminal(width: int, weeks: tuple[SquadWeek, ...]) -> None:
    assert max(map(len, cycle_table(weeks, width).splitlines())) <= width
