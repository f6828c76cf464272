"""Nearest names: the slips people make find the exercise they mean."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.library.names import nearest, words
from ferrule.library.reader import load_library

LIBRARY, _ = load_library()

MEANT = {
    "stepup": "step-up",
    "step ups": "step-up",
    "Step-Ups": "step-up",
    "high stepup": "step-up-high",
    "calf raise": "heel-raise-two-legs",
    "calf raises": "heel-raise-two-legs",
    "Single-leg calf raises": "heel-raise-one-leg",
    "sl calf raise": "heel-raise-one-leg",
    "1 leg heel raise": "heel-raise-one-leg",
    "single leg RDL": "hinge-one-leg",
    "one legged rdl": "hinge-one-leg",
    "goblet squats": "squat",
    "squatt": "squat",
    "pushups": "press-up",
    "push ups": "press-up",
    "pressup, hands raised": "press-up-hands-raised",
    "incline pushup": "press-up-hands-raised",
    "planck": "front-plank",
    "side planks": "side-plank",
    "deadbugs": "dead-bug",
    "clam shells": "clam",
    "glute bridges": "bridge-two-legs",
    "single leg glute bridge": "bridge-one-leg",
    "hip thrusts": "hip-thrust",
    "reverse lunges": "lunge-backward",
    "side lunge": "lunge-lateral",
    "rear foot elevated split squats": "split-squat-rear-raised",
    "farmers walk": "carry-two-hands",
    "pogos": "ankle-bounce",
    "knee 2 wall": "ankle-rock",
    "birddog": "bird-dog",
    "split squats": "split-squat",
    "a skips": "skip-high-knees",
    "soleus raises": "heel-raise-bent-one-leg",
    "tib raise": "shin-raise-wall",
}


@pytest.mark.parametrize(("slip", "variant_id"), MEANT.items())
def test_common_slips_find_what_was_meant_first(slip: str, variant_id: str) -> None:
    assert nearest(LIBRARY, slip)[0].id == variant_id


@pytest.mark.parametrize("variant_id", LIBRARY.variants)
def test_every_name_and_alias_finds_itself(variant_id: str) -> None:
    variant = LIBRARY.variants[variant_id]
    for name in (variant.name, *variant.aliases):
        assert LIBRARY.find(name) == variant
        assert LIBRARY.find(name.upper().replace(" ", "  ")) == variant
        assert variant in nearest(LIBRARY, name)


def test_words_have_one_spelling() -> None:
    assert words("Single-leg calf raises") == words("one leg heel raise")
    assert words("Push-ups") == words("press-up")
    assert words("") == ()


def test_nothing_like_it_gives_nothing() -> None:
    assert nearest(LIBRARY, "") == ()
    assert nearest(LIBRARY, "zzzz") == ()
    assert nearest(LIBRARY, "squat", 0) == ()


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.text(max_size=40), st.integers(0, 6))
def test_any_text_gives_at_most_n_different_variants_and_always_the_same(text: str, n: int) -> None:
    found = nearest(LIBRARY, text, n)
    assert len(found) <= n
    assert len({v.id for v in found}) == len(found)
    assert found == nearest(LIBRARY, text, n)
