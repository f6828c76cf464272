from __future__ import annotations

import pytest

from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.fit.runner import capacity_of
from ferrule.fit.screen import breaks_limit, breaks_wish, demands, screen_load, screen_variant
from ferrule.model.exercise import Library
from ferrule.model.fitted import LoadChoice, Reason
from ferrule.model.house import House
from ferrule.model.squad import Limit, Runner, Sore, Wish


def limit(region: str, ceiling: str | None) -> Limit:
    return Limit(region, "left", ceiling, None, "physiotherapist", "the limit", PLACE)  # type: ignore[arg-type]


def why(library: Library, variant: str, runner: Runner, load: LoadChoice | None = None) -> Reason | None:
    capacity = capacity_of(runner, MONDAY)
    return screen_load(library.variants[variant], load, runner, library.variants, House(), capacity, MONDAY, 60.0)


def test_missing_kit_is_named(library: Library, make_runner: MakeRunner) -> None:
    reason = screen_variant(library.variants["step-up"], make_runner(kit=()))
    assert reason is not None
    assert reason.code == "kit"
    assert "step" in reason.text
    assert screen_variant(library.variants["step-up"], make_runner()) is None


@pytest.mark.parametrize(
    ("variant", "barred"),
    [("heel-raise-two-legs", False), ("heel-raise-one-leg", True), ("press-up", False), ("front-plank", False)],
)
def test_a_limit_by_example(library: Library, variant: str, barred: bool) -> None:
    one = limit("calf", "heel-raise-two-legs")
    ceiling = library.variants["heel-raise-two-legs"]
    assert breaks_limit(library.variants[variant], None, one, ceiling, 60.0) is barred


def test_a_limit_sees_hidden_demand_and_load(library: Library) -> None:
    """A one-leg squat loads the calf on the way; a load turns an allowed exercise into one that is not."""
    one, ceiling = limit("calf", "heel-raise-two-legs"), library.variants["heel-raise-two-legs"]
    hidden = demands(library.variants["heel-raise-bent-one-leg"], None, 60.0)
    assert hidden["calf bent"] >= 1
    assert breaks_limit(library.variants["heel-raise-bent-one-leg"], None, one, ceiling, 60.0)
    carried = LoadChoice(30, "hands", ("two 15 kg dumbbells",))
    assert breaks_limit(ceiling, carried, one, ceiling, 60.0)


def test_a_limit_without_an_example_forbids_the_region(library: Library) -> None:
    nothing = limit("calf", None)
    assert breaks_limit(library.variants["heel-raise-two-legs"], None, nothing, None, 60.0)
    assert not breaks_limit(library.variants["press-up-wall"], None, limit("knee", None), None, 60.0)


def test_a_landing_breaks_any_limit_of_the_legs(library: Library) -> None:
    lands = next(v for v in library.variants.values() if v.impact > 0)
    assert breaks_limit(
        lands, None, limit("shin", "heel-raise-two-legs"), library.variants["heel-raise-two-legs"], 60.0
    )


def test_sore_places(library: Library, make_runner: MakeRunner) -> None:
    mild, bad = make_runner(sore=(Sore("calf", "left", 3, PLACE),)), make_runner(sore=(Sore("calf", "left", 6, PLACE),))
    assert why(library, "heel-raise-two-legs", mild) is None
    carried = why(library, "heel-raise-two-legs", mild, LoadChoice(8, "hands", ("8 kg dumbbell",)))
    assert carried is not None
    assert carried.text.endswith("no added weight")
    # Pain-monitoring models (seen, secondary): the lowest zone ends at 3 of 10; above the house's line nothing loads it.
    worst = why(library, "heel-raise-two-legs", bad)
    assert worst is not None
    assert "6 of 10" in worst.text
    assert why(library, "press-up", bad) is None


def test_wishes(library: Library) -> None:
    squat, plank = library.variants["squat"], library.variants["front-plank"]
    assert breaks_wish(squat, Wish("no pattern", "no squats", pattern="squat"))
    assert breaks_wish(squat, Wish("no variant", "no Squat", variant_id="squat"))
    assert not breaks_wish(squat, Wish("no floor", "nothing on the floor"))
    assert breaks_wish(plank, Wish("no floor", "nothing on the floor"))
    assert not breaks_wish(plank, Wish("no impact", "no hops"))
