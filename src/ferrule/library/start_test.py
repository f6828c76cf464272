"""The start of an own exercise can be used as it is, whatever it is called and whatever it is like."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.library.reader import load_library
from ferrule.library.start import file_name, start_text

LIBRARY = load_library()[0]


@pytest.mark.parametrize("variant_id", LIBRARY.variants)
def test_the_start_like_any_exercise_reads_without_a_finding(variant_id: str) -> None:
    like = LIBRARY.variants[variant_id]
    text = start_text("Fence thing", like, LIBRARY)
    library, findings = load_library({"own.toml": text.encode()})
    assert findings == ()
    made = library.variants["fence-thing"]
    assert made.family == like.family
    ids = library.families[like.family].variant_ids
    assert ids.index(made.id) > ids.index(like.id)
    assert made.kit == like.kit
    assert (made.muscles, made.regions) == (like.muscles, like.regions)


@pytest.mark.parametrize("variant_id", ["step-up-low", "hop-side", "pull-up"])
def test_each_example_in_it_can_be_used(variant_id: str) -> None:
    text = start_text("Fence thing", LIBRARY.variants[variant_id], LIBRARY)
    lines = text.splitlines()
    used = [line.removeprefix("# ") if " = " in line else line for line in lines]
    assert sum(a != b for a, b in zip(lines, used, strict=True)) >= 8
    library, findings = load_library({"own.toml": "\n".join(used).encode()})
    assert findings == ()
    assert library.variants["fence-thing"].cues == LIBRARY.variants[variant_id].cues[:3]


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.text(min_size=1, max_size=20).filter(lambda s: s.isprintable() and s.strip()))
def test_any_name_is_written_as_valid_text(name: str) -> None:
    text = start_text(name, LIBRARY.variants["squat"], LIBRARY)
    assert tomllib.loads(text)["name"] == name
    assert file_name(name).endswith(".toml")
    assert "/" not in file_name(name)
