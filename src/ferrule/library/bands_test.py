"""The pull of a band, and what exercises ask with each."""

from __future__ import annotations

from itertools import pairwise

import pytest

from ferrule.library.bands import PULL_KG, band_words, beyond_thin_kg, demand_with
from ferrule.library.reader import load_library
from ferrule.model.words import BANDS

LIBRARY = load_library()[0]
WITH_BAND = [v for v in LIBRARY.variants.values() if "band" in v.kit and v.main]


def test_a_thicker_band_pulls_more_and_the_thin_one_is_the_base() -> None:
    assert list(PULL_KG) == list(BANDS)
    assert all(a < b for a, b in pairwise(PULL_KG.values()))
    assert [beyond_thin_kg(b) for b in BANDS] == [0.0, 2.0, 5.0]


def test_the_demand_of_the_band_row_by_hand() -> None:
    """0.5 + 5.7 * 2 / 70 = 0.663 and 0.5 + 5.7 * 5 / 70 = 0.907; a lighter body is asked for more."""
    ask = LIBRARY.variants["band-row"].main
    assert ask is not None
    assert [demand_with(ask, b) for b in BANDS] == pytest.approx([0.5, 0.6629, 0.9071], abs=1e-4)
    assert demand_with(ask, "thick", 50.0) == pytest.approx(1.07)
    assert band_words(ask).startswith("thin 0.5, medium 0.66, thick 0.91 at 70 kg of body mass")


def test_every_dosed_exercise_with_a_band_is_harder_with_a_thicker_one() -> None:
    assert len(WITH_BAND) >= 6
    for variant in WITH_BAND:
        if variant.id == "squat-hold-band":  # its band only holds the shins
            assert variant.main is not None
            assert variant.main.per_kg["band"] == 0
            continue
        assert variant.main is not None
        demands = [demand_with(variant.main, b) for b in BANDS]
        assert demands[0] == variant.main.base
        assert None not in demands
        assert sorted(set(demands), key=str) == sorted(demands, key=str)


def test_no_band_no_words() -> None:
    squat = LIBRARY.variants["squat"].main
    assert squat is not None
    assert demand_with(squat, "thick") is None
    assert band_words(squat) == ""
