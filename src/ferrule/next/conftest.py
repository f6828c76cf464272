"""One runner with a sent week, and entries made to order, for the tests of what the record says about next week."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from itertools import count

import pytest

from ferrule.fit.runner import fit_runner
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry, Fact, Source
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Anchor, KitItem, Run, Runner
from ferrule.programme.reader import read_programme

PLACE = Span("squad.csv", 2, 1)
FIRST = date(2026, 1, 5)
WEEK = timedelta(days=7)
TEXT = """---
programme: Six weeks
weeks: 6
sessions: 2 a week
---

## Cycle 1, weeks 1-6: Base

### Session 1: legs, 40 min

Warm-up, 1 round

- Ankle rock: 8/side

Pair A, 3 rounds, rest 75-90 s

- Step-up, low: 8/side, 2 RIR
  when all reps for 2 sessions: add 1 rep
- Heel raise, knee bent, two legs: 12-15
  if pain above 2: ask

| week          | 1 | 2 | 3 | 4 | 5 | 6 |
|---------------|---|---|---|---|---|---|
| rounds        | 3 | 3 | 4 | 2 | 4 | 4 |

### Session 2: trunk and arms, 40 min

Straight, 3 sets, rest 90 s

- Press-up, wall: 8-10
- Side plank: 20-30 s/side
- Hinge, two legs: 8, 8 kg
- Skip, low: 20 contacts
"""
KIT = (
    KitItem("mat"), KitItem("step", height_cm=20), KitItem("step", height_cm=30), KitItem("stair"), KitItem("chair"), KitItem("box", height_cm=45),
    KitItem("dumbbell", 2, kg=4), KitItem("dumbbell", 2, kg=8), KitItem("dumbbell", 2, kg=12),
)  # fmt: skip
_number = count(1)


@pytest.fixture(scope="session")
def library() -> Library:
    return load_library()[0]


@pytest.fixture(scope="session")
def house() -> House:
    return House()


@pytest.fixture(scope="session")
def programme(library: Library) -> Programme:
    programme, findings = read_programme(TEXT, "programme.md", library)
    assert not [f for f in findings if f.level == "error"], findings
    return programme


def made_runner(**changes: object) -> Runner:
    """A runner who begins on `FIRST`."""
    from dataclasses import replace

    runner = Runner(
        "R01", "Arla", "some", KIT, (0, 2, 4), (Run(5, "easy"),), Anchor("from", FIRST, PLACE), PLACE, birth_year=1990,
        sex="female", mass_kg=60.0,
    )  # fmt: skip
    return replace(runner, **changes)  # type: ignore[arg-type]


Sent = Callable[..., FittedWeek]


@pytest.fixture(scope="session")
def sent(programme: Programme, library: Library, house: House) -> Sent:
    """The week of a runner as it would have been sent, without a record: `sent(week=2)`; remembered."""
    known: dict[tuple[int, Runner], FittedWeek] = {}

    def make(week: int = 2, runner: Runner | None = None) -> FittedWeek:
        who = made_runner() if runner is None else runner
        if (week, who) not in known:
            found = fit_runner(programme, who, library, house, FIRST + (week - 1) * WEEK)
            assert isinstance(found, FittedWeek)
            known[week, who] = found
        return known[week, who]

    return make


def entry(fact: Fact, *, source: Source = "page", number: int | None = None, replaces: str = "") -> Entry:
    """The fact in an envelope of its own."""
    n = next(_number) if number is None else number
    return Entry(f"e{n:05}", "R01", datetime(2026, 2, 1, tzinfo=UTC) + timedelta(seconds=n), source, fact, replaces)


def told_sets(
    week: FittedWeek, *, done: float | None = None, left: int = 2, session: str = "", more: float = 0
) -> list[Entry]:
    """Every set of a sent week counted: the top of what was asked (or `done`), with `left` more possible."""
    out = []
    for s in week.sessions:
        for block in s.blocks:
            for item in block.items if block.kind != "warm-up" and session in ("", s.key) else ():
                amount = item.reps or item.hold_s or item.contacts
                assert amount is not None
                for n in range(1, item.sets + 1):
                    fact = LoggedSet(
                        "", "R01", s.day, s.key, item.item_key, item.variant_id, n, "counted",
                        unit="s" if item.hold_s is not None else "reps", asked=amount.low,
                        done=amount.high + more if done is None else done, reserve=Reserve(left, left), effort_asked=True,
                        load_kg=0.0 if item.load is None else item.load.kg, place=None if item.load is None else item.load.place,
                    )  # fmt: skip
                    out.append(entry(fact))
    return out
