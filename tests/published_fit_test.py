"""Every published programme goes through the fit: laid out, verified, printed; what is not fitted says so."""

from __future__ import annotations

from datetime import date, time, timedelta
from pathlib import Path

import pytest

from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.library.reader import load_library
from ferrule.model.finding import Span
from ferrule.model.fitted import Away, FittedWeek, Impossible
from ferrule.model.house import House
from ferrule.model.programme import Item, Programme
from ferrule.model.squad import Anchor, KitItem, Run, Runner
from ferrule.programme.reader import read_programme

PUBLISHED = sorted((Path(__file__).parents[1] / "examples" / "published").glob("*.md"))
MONDAY = date(2026, 1, 5)
PLACE = Span("squad.csv", 2)
KIT = (
    KitItem("mat"), KitItem("chair"), KitItem("bench", height_cm=45), KitItem("box", height_cm=40), KitItem("stair"),
    KitItem("step", height_cm=20), KitItem("step", height_cm=30), KitItem("sofa"), KitItem("doorway bar"), KitItem("rope"),
    KitItem("ball"), KitItem("band", band="thin"), KitItem("barbell", kg=20), KitItem("plate", 4, kg=10),
    KitItem("plate", 2, kg=5), KitItem("plate", 2, kg=2.5), KitItem("rucksack", up_to_kg=15),
    KitItem("dumbbell", 2, kg=4, up_to_kg=24, step_kg=2), KitItem("kettlebell", kg=16),
)  # fmt: skip
RUNNER = Runner(
    "R01", "Ana T", "strong", KIT, tuple(range(7)), (Run(1, "easy", time(7)),), Anchor("from", MONDAY, PLACE), PLACE,
    birth_year=1992, sex="male", mass_kg=70.0,
)  # fmt: skip
LIBRARY = load_library()[0]
HOUSE = House(changed={"contacts-a-session": 200})


def read(path: Path) -> Programme:
    return read_programme(path.read_bytes(), path.name, LIBRARY)[0]


def weeks_of(programme: Programme) -> list[int]:
    """The first week of each cycle and the last week."""
    return sorted({min(c.first_week, programme.weeks) for c in programme.cycles} | {programme.weeks})


def items(programme: Programme) -> list[Item]:
    return [i for c in programme.cycles for s in c.sessions for b in s.blocks for i in b.items]


@pytest.mark.parametrize("path", PUBLISHED, ids=lambda p: p.stem)
def test_it_is_fitted_and_verified_or_the_reason_is_said(path: Path) -> None:
    programme = read(path)
    assert items(programme)
    for week in weeks_of(programme):
        monday = MONDAY + timedelta(weeks=week - 1)
        outcome = fit_runner(programme, RUNNER, LIBRARY, HOUSE, monday)
        if isinstance(outcome, FittedWeek):
            assert verify(outcome, programme, RUNNER, LIBRARY, HOUSE, capacity_of(RUNNER, monday)) == ()
            for item in (i for s in outcome.sessions for b in s.blocks for i in b.items):
                if any(r.code == "not fitted" for r in item.reasons):
                    assert item.extra, f"{item.name}: left as written, and what was written is not printed"
        elif isinstance(outcome, Impossible):
            assert outcome.reasons
            assert outcome.reasons[0].what
        else:
            assert isinstance(outcome, Away)
            assert outcome.reason


def test_most_of_them_are_fitted() -> None:
    """A programme of trials should seldom be impossible for a strong runner who owns nearly everything."""
    fitted = [isinstance(fit_runner(read(p), RUNNER, LIBRARY, HOUSE, MONDAY), FittedWeek) for p in PUBLISHED]
    assert PUBLISHED
    assert sum(fitted) >= 0.9 * len(fitted)
