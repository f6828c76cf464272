"""What is missing for a variant, and what stands in."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ferrule.library.reader import load_library
from ferrule.model.words import KitKind, Pattern
from ferrule.squad.loads import missing_kit, pieces_for
from ferrule.squad.loads_test import kit

LIBRARY, _ = load_library({})
ANY = next(iter(LIBRARY.variants.values()))


def missing(
    owned: str, needs: tuple[KitKind, ...], pattern: Pattern = "step", cm: tuple[float, float] | None = None
) -> tuple[str, ...]:
    return missing_kit(kit(owned), replace(ANY, kit=needs, pattern=pattern, step_cm=cm))


@pytest.mark.parametrize(
    ("owned", "needs", "pattern", "cm", "expected"),
    [
        ("no kit", (), "squat", None, ()),
        ("no kit", ("wall", "towel"), "squat", None, ()),
        ("no kit", ("mat", "chair"), "squat", None, ("chair",)),
        ("mat", ("mat", "band"), "squat", None, ("band",)),
        ("step 20 cm", ("step",), "step", (15, 25), ()),
        ("step 20 cm", ("step",), "step", (25, 40), ("step of 25-40 cm",)),
        ("step 20 cm; step 30 cm", ("step",), "step", (25, 40), ()),
        ("step", ("step",), "step", (15, 25), ()),
        ("stair", ("step",), "step", (15, 25), ()),
        ("stair", ("step",), "step", (20, 20), ("step of 20 cm",)),
        ("stair 21 cm", ("step",), "step", (20, 25), ()),
        ("box 40 cm", ("step",), "step", (35, 45), ()),
        ("chair", ("step",), "step", (40, 50), ("step of 40-50 cm",)),
        ("chair", ("box",), "step", (40, 50), ("box of 40-50 cm",)),
        ("chair", ("box",), "jump", (40, 50), ("box of 40-50 cm",)),
        ("chair", ("box",), "push", (40, 50), ()),
        ("chair", ("box",), "push", (50, 60), ("box of 50-60 cm",)),
        ("sofa", ("bench",), "bridge", None, ()),
        ("sofa", ("bench",), "step", None, ("bench",)),
        ("chair", ("bench",), "bridge", None, ("bench",)),
        ("no kit", (), "step", (15, 25), ("step of 15-25 cm",)),
        ("chair; step 20 cm", ("chair", "step"), "step", (15, 25), ()),
        ("chair", ("chair",), "squat", (40, 50), ()),
        ("chair 38 cm", ("chair",), "squat", (40, 50), ("chair of 40-50 cm",)),
    ],
)
def test_what_is_missing(
    owned: str, needs: tuple[KitKind, ...], pattern: Pattern, cm: tuple[float, float] | None, expected: tuple[str, ...]
) -> None:
    assert missing(owned, needs, pattern, cm) == expected


def test_what_to_fetch_is_what_serves() -> None:
    variant = replace(ANY, kit=("step", "wall", "mat"), pattern="step", step_cm=(25, 40))
    assert pieces_for(kit("step 20 cm; step 30 cm; band thin"), variant) == ("30 cm step", "towel")
    assert pieces_for(kit("box 40 cm; mat"), variant) == ("40 cm box", "mat")


def test_owning_everything_leaves_nothing_missing_in_the_library() -> None:
    everything = kit(
        "mat; chair; bench 45 cm; step 10 cm; step 15 cm; step 20 cm; step 30 cm; step 40 cm; stair; box 45 cm; box 50 cm;"
        "box 60 cm; band thin; dumbbell 8 kg; kettlebell 8 kg; barbell 20 kg; plates 5 kg x 2; rucksack; water bottle 1 kg;"
        "heavy book 1 kg; sofa; doorway bar; rope; ball"
    )
    assert {v.id: missing_kit(everything, v) for v in LIBRARY.variants.values() if missing_kit(everything, v)} == {}


def test_nobody_steps_jumps_or_hops_onto_a_chair_or_a_sofa() -> None:
    patterns: tuple[Pattern, ...] = ("step", "jump", "hop", "landing", "balance", "heel raise")
    raised: tuple[KitKind, ...] = ("step", "box", "bench", "stair")
    for pattern in patterns:
        for wanted in raised:
            assert missing("chair; sofa", (wanted,), pattern) == (wanted,)
