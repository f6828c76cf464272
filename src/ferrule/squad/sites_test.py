from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.finding import Span
from ferrule.model.squad import KitItem, Runner, Site
from ferrule.squad.sites import at_site, common_kit, site_on, sites_of, with_pieces

MAT, STEP, BENCH = KitItem("mat"), KitItem("step", height_cm=20), KitItem("bench")
EIGHT = KitItem("dumbbell", 2, kg=8)
PLAIN = Runner("R01", "Ash", "some", (MAT,), (0, 2), (), None, Span("s", 1))
TWO = replace(PLAIN, sites=(Site("home", (MAT,), (0,)), Site("club", (BENCH,), (2,))))


def test_a_runner_without_sites_has_one_on_every_possible_day() -> None:
    assert sites_of(PLAIN) == (Site("", (MAT,), (0, 2)),)
    assert site_on(PLAIN, 5).kit == (MAT,)


def test_a_day_of_no_site_is_trained_at_the_first() -> None:
    assert [site_on(TWO, d).name for d in (0, 2, 6)] == ["home", "club", "home"]
    assert at_site(TWO, TWO.sites[1]).kit == (BENCH,)
    assert at_site(TWO, TWO.sites[1]).sites == ()


def test_more_kit_goes_to_one_site() -> None:
    assert with_pieces(PLAIN, (STEP,)).kit == (MAT, STEP)
    home = with_pieces(TWO, (STEP,))
    assert home.kit == home.sites[0].kit == (MAT, STEP)
    assert home.sites[1] == TWO.sites[1]
    club = with_pieces(TWO, (STEP,), "Club")
    assert (club.kit, club.sites[1].kit) == ((MAT,), (BENCH, STEP))
    with pytest.raises(ValueError, match="hall"):
        with_pieces(TWO, (STEP,), "hall")


def test_what_two_kits_have_in_common_is_counted_by_piece() -> None:
    assert common_kit([(MAT, EIGHT, STEP), (replace(EIGHT, count=1), BENCH, MAT)]) == (MAT, replace(EIGHT, count=1))
    assert common_kit([(EIGHT,), (replace(EIGHT, count=1), replace(EIGHT, count=1))]) == (EIGHT,)


@settings(max_examples=100, derandomize=True, deadline=None)
@given(
    kits=st.lists(st.lists(st.sampled_from((MAT, STEP, BENCH, EIGHT)), max_size=5).map(tuple), min_size=1, max_size=3)
)
def test_the_common_kit_is_in_each_of_them(kits: list[tuple[KitItem, ...]]) -> None:
    shared = common_kit(kits)
    for kit in kits:
        for item in shared:
            assert sum(i.count for i in kit if replace(i, count=1) == replace(item, count=1)) >= item.count
    assert {replace(i, count=1) for i in common_kit([kits[0], kits[0]])} == {replace(i, count=1) for i in kits[0]}
