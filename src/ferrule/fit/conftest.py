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


@pytest.fixture(scope="session")
def programme(library: Library) -> Programme:
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
