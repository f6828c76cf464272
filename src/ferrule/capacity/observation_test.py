from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from ferrule.capacity.observation import FAILED_SD, Kind, mass_of, observe, one_bound_a_day, wrong_unit
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.finding import Span
from ferrule.model.squad import Runner

LIBRARY, _ = load_library()
PLAIN = LoggedSet("a", "R01", date(2026, 1, 5), "s1", "i1", "press-up", 1, "counted", asked=8, done=8)
HOLD = replace(PLAIN, variant_id="front-plank", unit="s", asked=40, done=40)
R = Reserve


@pytest.mark.parametrize(
    ("entry", "kind", "amount", "weight"),
    [
        (replace(PLAIN, reserve=R(2, 2)), "exact", 10.5, 1.0),
        (replace(PLAIN, reserve=R(0, 0)), "exact", 8.5, 0.4),
        (replace(PLAIN, reserve=R(1, 3)), "interval", 10.5, 1.0),
        (replace(PLAIN, reserve=R(4, None)), "at least", 12, 1.0),
        (replace(PLAIN, reserve=R(9, 9)), "at least", 12, 1.0),
        (replace(PLAIN, effort_asked=True), "at least", 8, 0.0),
        (PLAIN, "at least", 8, 0.0),
        (replace(PLAIN, outcome="tapped", done=None), "at least", 8, 0.0),
        (replace(PLAIN, stopped="time", reserve=R(1, 1)), "at least", 8, 0.0),
        (replace(PLAIN, stopped="kit"), "at least", 8, 0.0),
        (replace(PLAIN, outcome="failed", done=6), "exact", 6.5, 0.0),
        (replace(PLAIN, stopped="pain", outcome="failed", done=6), "nothing", None, 0.0),
        (replace(PLAIN, outcome="not said", done=None), "nothing", None, 0.0),
        (replace(PLAIN, outcome="tapped", done=None, asked=None), "nothing", None, 0.0),
        (replace(PLAIN, done=0), "nothing", None, 0.0),
        (HOLD, "at least", 40, 0.0),
        (replace(HOLD, outcome="failed", done=33), "exact", 33, 0.0),
        (replace(HOLD, reserve=R(2, 2)), "exact", 48, 0.0),
        (replace(HOLD, unit="reps"), "nothing", None, 0.0),
        (replace(PLAIN, variant_id="never-heard-of"), "nothing", None, 0.0),
    ],
)
def test_what_a_set_says(entry: LoggedSet, kind: Kind, amount: float | None, weight: float) -> None:
    o = observe(entry, LIBRARY, 60.0)
    assert (o.kind, o.bias_weight) == (kind, weight)
    assert o.amount == (None if amount is None else pytest.approx(amount))
    assert o.why


def test_a_failed_set_is_an_exact_count_and_a_report_is_blurred_the_more_was_left() -> None:
    failed = observe(replace(PLAIN, outcome="failed", done=6), LIBRARY, 60.0)
    spreads = [observe(replace(PLAIN, reserve=R(r, r)), LIBRARY, 60.0).amount_sd for r in range(5)]
    assert failed.amount_sd == FAILED_SD
    assert spreads[0] > FAILED_SD
    assert spreads == sorted(spreads)
    # Hackett 2017 (abstract seen): errors of about one repetition up to five left.
    assert 0.6 < spreads[2] < 1.5


def test_a_range_is_less_sure_than_its_middle() -> None:
    exact, told = (observe(replace(PLAIN, reserve=r), LIBRARY, 60.0) for r in (R(2, 2), R(1, 3)))
    assert told.amount == exact.amount
    assert told.amount_sd > exact.amount_sd


def test_loads_count_by_body_mass_and_at_the_place_they_were_held() -> None:
    entry = replace(PLAIN, variant_id="split-squat", load_kg=12, place="hands", reserve=R(2, 2))
    light, heavy = (observe(entry, LIBRARY, kg).log_demand for kg in (50.0, 80.0))
    bare = observe(replace(entry, load_kg=0, place=None), LIBRARY, 60.0).log_demand
    assert bare < heavy < light
    assert observe(entry, LIBRARY, 60.0, 3.0).log_demand_sd > 0
    assert observe(replace(entry, load_kg=0), LIBRARY, 60.0, 3.0).log_demand_sd == 0


def test_a_band_asks_more_the_thicker_it_is() -> None:
    row = replace(PLAIN, variant_id="band-row", reserve=R(2, 2))
    told = [observe(replace(row, band=b), LIBRARY, 60.0).log_demand for b in ("thin", "medium", "thick")]
    assert told == sorted(told)
    assert told[0] < told[2]


def test_a_side_counts_only_where_an_exercise_has_sides() -> None:
    assert observe(replace(PLAIN, side="left"), LIBRARY, 60.0).side == "both"
    assert observe(replace(PLAIN, variant_id="split-squat", side="left"), LIBRARY, 60.0).side == "left"


def test_many_repetitions_say_little() -> None:
    assert observe(replace(PLAIN, done=20, reserve=R(1, 1)), LIBRARY, 60.0).says_little
    assert not observe(replace(PLAIN, reserve=R(1, 1)), LIBRARY, 60.0).says_little


def test_one_bound_an_item_and_day_and_none_beside_a_count() -> None:
    sets = [replace(PLAIN, entry_id=f"{i}", number=i + 1, done=done) for i, done in enumerate((8, 10, 9))]
    read = [observe(s, LIBRARY, 60.0) for s in sets]
    assert [o.kind for o in one_bound_a_day(read)] == ["nothing", "at least", "nothing"]
    counted = observe(replace(PLAIN, entry_id="x", number=4, reserve=R(1, 1)), LIBRARY, 60.0)
    assert [o.kind for o in one_bound_a_day([*read, counted])] == ["nothing", "nothing", "nothing", "exact"]
    other = replace(read[0], item_key="i2")
    assert [o.kind for o in one_bound_a_day([read[1], other])] == ["at least", "at least"]


def test_seconds_of_repetitions_are_a_wrong_unit() -> None:
    assert wrong_unit(replace(PLAIN, unit="s"), LIBRARY)
    assert wrong_unit(replace(HOLD, unit="reps"), LIBRARY)
    assert not wrong_unit(PLAIN, LIBRARY)


def test_a_body_mass_that_is_not_told_is_the_middle_for_the_sex() -> None:
    runner = Runner("R01", "Ana", "some", (), (), (), None, Span("squad.csv", 2, 1))
    assert [mass_of(replace(runner, sex=s)) for s in ("female", "male", None)] == [60.0, 70.0, 65.0]
    assert mass_of(replace(runner, mass_kg=58.5)) == 58.5
