"""The demo's programme, library and house for the tests of the fit, and runners made to order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from importlib import resources

import pytest

from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Anchor, KitItem, Run, Runner, Squad
from ferrule.programme.reader import read_programme
from ferrule.squad.reader import read_squad

PLACE = Span("squad.csv", 2, 1)
MONDAY = date(2026, 1, 19)
KIT = (
    KitItem("mat"),
    KitItem("step", height_cm=30),
    KitItem("chair"),
    KitItem("stair"),
    KitItem("dumbbell", 2, kg=4),
    KitItem("dumbbell", 2, kg=8),
    KitItem("dumbbell", 2, kg=12),
    KitItem("dumbbell", 2, kg=20),
)
MakeRunner = Callable[..., Runner]


@pytest.fixture(scope="session")
def library() -> Library:
    return load_library()[0]


TEXT = """---
programme: Ridge legs
weeks: 6
sessions: 3 a week
---

## Cycle 1, weeks 1-6: Own the positions

### Session 1: step and calf, 35 min

Warm-up, 1 round

- Ankle rock: 8/side
- Dead bug: 6/side
- Squat, half: 8, no weight
- Skip, low: 20 contacts

Pair A, 3 rounds, rest 75-90 s

- Step-up: 6-8/side, 2 RIR, tempo 2-0-1
- Heel raise, knee bent, one leg: 8-10/side, 3 RIR, pause 2 s
  - or Heel raise, knee bent, two legs: 12-15, pause 2 s

Pair B, 3 rounds, rest 60 s

- Press-up: 8-10, 3 RIR
  - or Press-up, hands raised: 10-12
  - or Press-up, knees: 8-12
- Side plank: 20-30 s/side

### Session 2: hinge and calf, 30 min

Warm-up, 1 round

- Bird dog: 6/side
- Hinge, two legs: 8, no weight

Pair A, 3 rounds, rest 75-90 s

- any hinge, one leg: 8/side, 2-3 RIR, tempo 3-0-1
- Front plank: 30 s

Straight, 3 sets, rest 60-75 s

- Heel raise, one leg: 10-12/side, 3 RIR
  - or Heel raise, two legs: 15-20

### Session 3: circuit, 35 min

Warm-up, 1 round

- Ankle rock: 8/side
- Lateral lunge: 5/side, no weight

Circuit A, 3 rounds, between 10 s, rest 90 s

- Split squat: 8/side, 3 RIR
- Towel row: 10, 3 RIR
- Bridge, one leg: 8/side
- Side-lying leg lift: 12/side, optional
"""
"""A programme of the tests' own, so that the demo may change."""


@pytest.fixture(scope="session")
def programme(library: Library) -> Programme:
    programme, findings = read_programme(TEXT, "programme.md", library)
    assert not findings
    return programme


@pytest.fixture(scope="session")
def demo(library: Library) -> Programme:
    data = resources.files("ferrule.demo").joinpath("programme.md").read_bytes()
    return read_programme(data, "programme.md", library)[0]


@pytest.fixture(scope="session")
def squad(library: Library) -> Squad:
    data = resources.files("ferrule.demo").joinpath("squad.csv").read_bytes()
    return read_squad(data, "squad.csv", library)[0]


@pytest.fixture(scope="session")
def house() -> House:
    return House()


@pytest.fixture(scope="session")
def make_runner() -> MakeRunner:
    """A runner with a usual week and kit; any field may be given."""
    base = Runner(
        "T01", "Tess U", "some", KIT, (0, 2, 3, 4, 5),
        (Run(1, "key", time(18, 30)), Run(3, "easy", time(7)), Run(6, "long", time(10))),
        Anchor("from", date(2026, 1, 5), PLACE), PLACE, birth_year=1990, sex="female", mass_kg=60.0, minutes=45,
    )  # fmt: skip

    def make(**fields: object) -> Runner:
        return replace(base, **fields)  # type: ignore[arg-type]

    return make
