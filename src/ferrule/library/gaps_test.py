"""Steps between neighbours: which are too large, and what bridges them."""

from __future__ import annotations

from dataclasses import replace
from importlib import import_module

import pytest

from ferrule.library.gaps import BY_HOLD, BY_REPS, K_GENERAL, MOST, bridge, gap_findings, step
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library, Variant

LIBRARY = load_library()[0]
HIGH_ROW = LIBRARY.variants["towel-row"]
WALL, HIGH = LIBRARY.variants["press-up-wall"], LIBRARY.variants["press-up-hands-high"]


def asking(variant: Variant, base: float, **changes: object) -> Variant:
    main = variant.main
    assert main is not None
    return replace(variant, asks=(replace(main, base=base, per_kg=dict(main.per_kg)),), **changes)  # type: ignore[arg-type]


def pair(low: Variant, high: Variant) -> Library:
    variants = {"low": replace(low, id="low", easier=()), "high": replace(high, id="high", easier=("low",))}
    return replace(LIBRARY, variants=variants)


def test_a_step_up_to_a_third_is_small_enough() -> None:
    low, high = asking(WALL, 1.0, gap_note=""), asking(HIGH, MOST, gap_note="")
    assert step(low, high) == pytest.approx(MOST)
    assert gap_findings(pair(low, high), {}) == ()


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (asking(WALL, 1.0), asking(HIGH, 1.6, gap_note=""), ""),
        (asking(WALL, 1.0), asking(HIGH, 1.6, gap_note="a worktop lies between"), "note"),
        (asking(WALL, 1.0), asking(HIGH, BY_REPS - 0.01, gap_note=""), "reps"),
        (asking(WALL, 1.0, dose_kind="hold"), asking(HIGH, BY_HOLD - 0.01, dose_kind="hold", gap_note=""), "hold"),
        (asking(WALL, 1.0, dose_kind="hold"), asking(HIGH, 1.4, gap_note=""), ""),
        (LIBRARY.variants["band-row"], LIBRARY.variants["towel-row"], "band"),
        (LIBRARY.variants["heel-raise-two-legs"], LIBRARY.variants["heel-raise-two-up-one-down"], "load"),
    ],
)
def test_what_bridges_a_large_step(low: Variant, high: Variant, said: str) -> None:
    assert bridge(low, high) == said
    found = gap_findings(pair(low, high), {})
    assert [f.code for f in found] == ([] if said else ["library-gap"])


def test_a_step_that_only_the_easier_one_names_is_looked_at_too() -> None:
    low, high = asking(WALL, 1.0), asking(HIGH, 1.6, gap_note="")
    library = pair(low, high)
    named = {
        "low": replace(library.variants["low"], harder=("high",)),
        "high": replace(library.variants["high"], easier=()),
    }
    assert len(gap_findings(replace(library, variants=named), {})) == 1


def test_the_load_that_bridges_is_one_that_is_at_hand() -> None:
    """By hand: 1 + 1.0 * 24 / 70 = 1.343, and 1.343 * 1.35 = 1.813."""
    squat = LIBRARY.variants["squat"]
    low = replace(asking(squat, 1.0), loading=("hands",))
    main = low.main
    assert main is not None
    low = replace(low, asks=(replace(main, per_kg={"hands": 1.0}),))
    assert bridge(low, asking(squat, 1.81)) == "load"
    assert bridge(low, asking(squat, 1.82)) == ""


def test_a_band_bridges_no_more_than_the_thick_one_adds() -> None:
    """By hand: 0.5 + 5.7 (7 - 2) / 70 = 0.907, and 0.907 * 1.35 = 1.225."""
    row = LIBRARY.variants["band-row"]
    assert bridge(row, asking(HIGH_ROW, 1.22)) == "band"
    assert bridge(row, asking(HIGH_ROW, 1.23)) == ""


def test_other_groups_have_no_step() -> None:
    assert step(WALL, LIBRARY.variants["squat"]) is None
    assert step(LIBRARY.variants["ankle-rock"], WALL) is None


def test_the_repetition_curve_is_the_measured_one() -> None:
    assert K_GENERAL == import_module("ferrule.capacity.curves").K_GENERAL
