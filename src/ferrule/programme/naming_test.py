"""Names are found however the trade writes them, and folding never takes one exercise for another."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.library.reader import load_library
from ferrule.programme.naming import fold, names_of
from ferrule.programme.sample_library import SAMPLE

LIBRARY, _ = load_library()
KEYS = sorted(LIBRARY.names)


@pytest.mark.parametrize(
    ("written", "variant_id"),
    [
        ("press-ups", "press-up"), ("Press ups", "press-up"), ("pressups", "press-up"), ("step ups", "step-up"),
        ("Step-Ups", "step-up"), ("Step‑ups", "step-up"), ("Heel raises", "heel-raise-two-legs"), ("heel raising", "heel-raise-two-legs"),
        ("calf raises", "heel-raise-two-legs"), ("Calf-raise", "heel-raise-two-legs"), ("Squatting", "squat"), ("squats", "squat"),
        ("Lunges", "lunge-forward"), ("lunging", "lunge-forward"), ("Split-squats", "split-squat"), ("side planks", "side-plank"),
        ("PLANKS", "front-plank"), ("bridges", "bridge-two-legs"), ("Bridging", "bridge-two-legs"),
    ],
)  # fmt: skip
def test_plurals_hyphens_and_ing_find_the_exercise(written: str, variant_id: str) -> None:
    found = names_of(LIBRARY).find(written)
    assert found is not None
    assert found[1] == variant_id


@pytest.mark.parametrize("library", [LIBRARY, SAMPLE], ids=["library", "sample"])
def test_no_two_exercises_fold_to_one_name(library: object) -> None:
    assert library in (LIBRARY, SAMPLE)
    names = LIBRARY.names if library is LIBRARY else SAMPLE.names
    found: dict[str, dict[str, str]] = {}
    for key, variant_id in names.items():
        found.setdefault(fold(key), {})[variant_id] = key
    assert {short: ids for short, ids in found.items() if len(ids) > 1} == {}


@pytest.mark.parametrize(
    "word", ["swing", "spring", "string", "press", "cross", "abs", "see-saw", "knee", "ankling", "standing"]
)
def test_a_word_that_only_looks_like_a_form_is_left(word: str) -> None:
    assert fold(word) == word.replace("-", "").replace(" ", "")


def test_the_nearer_spelling_of_one_exercise_is_kept() -> None:
    for key, variant_id in LIBRARY.names.items():
        found = names_of(LIBRARY).find(key)
        assert found is not None
        assert found[1] == variant_id, key


def _spread(name: str, hyphen: str, ending: str) -> str:
    return hyphen.join(name.split()) + ending


@settings(max_examples=400, derandomize=True, deadline=None)
@given(st.sampled_from(KEYS), st.sampled_from([" ", "-", "  ", "\u2011"]), st.sampled_from(["", "s", "S", "'s"]))
def test_another_spelling_of_a_name_is_never_another_exercise(name: str, hyphen: str, ending: str) -> None:
    found = names_of(LIBRARY).find(_spread(name, hyphen, ending).upper())
    assert found is None or found[1] == LIBRARY.names[name]


@settings(max_examples=400, derandomize=True, deadline=None)
@given(st.text(alphabet="abeghinrstuy' -,", max_size=24))
def test_folding_is_of_letters_only_and_blind_to_hyphens_and_case(text: str) -> None:
    assert fold(text).isalnum() or fold(text) == ""
    assert fold(text.upper()) == fold(text)
    assert fold(text.replace("-", " ")) == fold(text)
