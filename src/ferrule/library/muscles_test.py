"""The list of muscles, and what the library trains of it."""

from __future__ import annotations

from ferrule.library.muscles import MUSCLES, PLAIN, REGION_OF, worked
from ferrule.library.proof import kit_free
from ferrule.library.reader import load_library
from ferrule.model.words import REGIONS

LIBRARY = load_library()[0]


def test_each_muscle_stands_once_with_a_plain_word_and_a_part() -> None:
    assert len(set(MUSCLES)) == len(MUSCLES)
    assert set(PLAIN) == set(REGION_OF) == set(MUSCLES)
    assert set(REGION_OF.values()) <= set(REGIONS)


def test_every_muscle_of_the_list_is_worked_by_some_exercise() -> None:
    counts = worked(LIBRARY.variants.values())
    assert [m for m, (main, helps) in counts.items() if main + helps == 0] == []


def test_the_muscles_a_runner_needs_do_most_of_the_work_somewhere_without_kit() -> None:
    counts = worked(v for v in LIBRARY.variants.values() if kit_free(v))
    for muscle in (
        "soleus", "gastrocnemius", "tibialis anterior", "abductor hallucis", "quadriceps femoris", "biceps femoris",
        "gluteus maximus", "gluteus medius", "adductor longus", "iliopsoas", "rectus abdominis", "external oblique",
        "erector spinae", "pectoralis major", "latissimus dorsi", "trapezius", "deltoid",
    ):  # fmt: skip
        assert counts[muscle][0] > 0, muscle


def test_an_unknown_muscle_is_told_with_the_nearest() -> None:
    own = b'name = "A"\nharder_than = "Squat"\nmuscles = ["gluteus maximum"]\n'
    findings = load_library({"own.toml": own})[1]
    assert [f.code for f in findings] == ["library-bad-value"]
    assert "gluteus maximus" in findings[0].fix
