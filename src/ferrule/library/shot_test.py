"""How an exercise is filmed: written, shared, inherited or worked out."""

from __future__ import annotations

import pytest

from ferrule.library.reader import load_library
from ferrule.library.shot import shot_of

FENCE = 'name = "Fence step"\nharder_than = "Step-up, low"\neasier_than = "Step-up"\n'


def fence(more: str) -> tuple[object, list[str]]:
    library, findings = load_library({"own.toml": (FENCE + more).encode()})
    return shot_of(library.variants["fence-step"]), [f.what for f in findings]


def test_each_family_says_what_must_be_seen() -> None:
    library, _ = load_library()
    assert all(v.shot and v.shot.see and not v.shot.see.startswith("no sign of") for v in library.variants.values())
    drop = library.variants["pelvic-drop"].shot
    assert drop is not None
    assert drop.view == "behind"
    assert drop.say == library.variants["pelvic-drop"].cues[0]


def test_a_part_written_in_a_variant_wins_over_the_family() -> None:
    press_out = load_library()[0].variants["band-press-out"].shot
    assert press_out is not None
    assert press_out.view == "front"
    assert press_out.see == "belt at one height while arms and legs move"


def test_a_placed_exercise_is_filmed_like_its_neighbour_with_its_own_cue() -> None:
    shot, findings = fence('cues = ["Step over the fence."]\n')
    assert findings == []
    assert (shot.view, shot.say) == ("side", "Step over the fence.")  # type: ignore[attr-defined]
    assert shot.see == "whole foot on the step, no bounce from the low foot"  # type: ignore[attr-defined]


def test_its_own_fault_is_what_must_not_be_seen() -> None:
    shot, _ = fence('faults = [{ seen = "The hand pulls.", mend = "One finger." }]\n')
    assert shot.see == "no sign of this: the hand pulls"  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ('shot = "side"', "not a table"),
        ('shot = { angle = "side" }', "`angle`"),
        ('shot = { view = "top" }', "`top`"),
        ("shot = { see = 3 }", "`shot.see`"),
    ],
)
def test_a_fault_in_it_is_told_and_the_rest_is_used(written: str, told: str) -> None:
    shot, findings = fence(written + "\n")
    assert [told in what for what in findings] == [True]
    assert shot.view == "side"  # type: ignore[attr-defined]
