"""Drawings: once a process, none where none can be made."""

from dataclasses import replace

from ferrule.deliver.figures import drawing, moving
from ferrule.library.reader import load_library

LIBRARY, _ = load_library()


def test_a_variant_is_drawn_once_for_each_place_of_its_load() -> None:
    step = LIBRARY.variants["step-up"]
    bare, loaded = drawing(step, None), drawing(step, "chest")
    assert bare is not None
    assert loaded is not None
    assert bare.svg != loaded.svg
    assert bare.alt != loaded.alt
    assert drawing(step, None) is bare


def test_no_pose_no_drawing() -> None:
    step = LIBRARY.variants["step-up"]
    assert drawing(None, None) is None
    assert drawing(replace(step, movement=None), None) is None


def test_a_changed_pose_is_drawn_again() -> None:
    step, squat = LIBRARY.variants["step-up"], LIBRARY.variants["squat"]
    was, now = drawing(step, None), drawing(replace(step, movement=squat.movement), None)
    assert was is not None
    assert now is not None
    assert was.svg != now.svg


def test_every_variant_of_the_library_that_has_a_pose_is_drawn_with_words() -> None:
    for variant in LIBRARY.variants.values():
        drawn = drawing(variant, None)
        if variant.movement is not None:
            assert drawn is not None, variant.id
            assert drawn.alt.strip(), variant.id
            assert "style=" not in drawn.svg, "the page's policy allows no style attribute"
            assert "id=" not in drawn.svg, "many stand in one page"


def test_a_repetition_is_shown_moving_and_a_hold_is_not() -> None:
    step, plank = LIBRARY.variants["step-up"], LIBRARY.variants["front-plank"]
    way = moving(step, "chest")
    assert way is not None
    assert "@keyframes" in way.style
    assert "<style" not in way.svg, "the page's policy allows only its own style"
    assert moving(step, "chest") is way
    assert moving(plank, None) is None
    assert moving(None, None) is None
    assert moving(replace(step, movement=None), None) is None
