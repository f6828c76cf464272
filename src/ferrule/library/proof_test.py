"""`ferrule library --check`: the built-in library is clean, and each rule bites on a library that is not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from time import process_time

import pytest

from ferrule.library.proof import NEEDS_KIT, kit_free, prove
from ferrule.library.reader import built_in_places, load_library, load_with_places
from ferrule.model.exercise import Family, Library, Variant
from ferrule.model.pose import Contact
from ferrule.model.words import PATTERNS

LIBRARY = load_library()[0]


def changed(variant_id: str, change: Callable[[Variant], Variant]) -> Library:
    variants = dict(LIBRARY.variants)
    variants[variant_id] = change(variants[variant_id])
    return replace(LIBRARY, variants=variants)


def without(keep: Callable[[Variant], bool]) -> Library:
    """The library without some variants, families shortened, neighbours as they come."""
    families: dict[str, Family] = {}
    variants: dict[str, Variant] = {}
    for family in LIBRARY.families.values():
        ids = tuple(i for i in family.variant_ids if keep(LIBRARY.variants[i]))
        families[family.id] = replace(family, variant_ids=ids)
        for rank, i in enumerate(ids):
            variants[i] = replace(
                LIBRARY.variants[i], easier=ids[max(rank - 1, 0) : rank], harder=ids[rank + 1 : rank + 2]
            )
    return replace(LIBRARY, variants=variants, families=families)


def codes(library: Library) -> list[tuple[str, str]]:
    return [(f.code, f.what) for f in prove(library, built_in_places())]


def test_the_built_in_library_has_nothing_to_mend() -> None:
    assert prove(LIBRARY, {}) == ()


def test_a_variant_nobody_is_moved_to_is_told_with_its_place() -> None:
    library = changed("squat-half", lambda v: replace(v, harder=("squat",)))
    found = [f for f in prove(library, built_in_places()) if f.code == "library-unreached"]
    assert [f.what for f in found] == ["Chair rise is not reached from the easiest of its family, Squat, half"]
    assert found[0].span is not None
    assert found[0].span.file == "families/squat.toml"
    library = changed("squat-deep", lambda v: replace(v, easier=()))
    assert sum(code == "library-unreached" for code, _ in codes(library)) == 3


def test_a_step_left_open_is_told() -> None:
    library = without(lambda v: v.id not in ("heel-raise-bent-two-legs", "heel-raise-bent-two-up-one-down"))
    found = [what for code, what in codes(library) if code == "library-gap"]
    assert any(what.startswith("Heel raise, knee bent, one leg asks 488 % more") for what in found)


def test_an_order_without_its_reason_is_told() -> None:
    library = changed("heel-raise-hold-one-leg", lambda v: replace(v, order_note=""))
    assert [c for c, _ in codes(library)] == ["library-order"]


def test_a_group_or_pattern_that_needs_kit_is_told() -> None:
    found = codes(without(lambda v: v.pattern != "hip rotation" or not kit_free(v)))
    assert ("library-uncovered", "no exercise of the pattern hip rotation can be done without kit") in found
    assert any("family Hip turns" in what for _, what in found)
    found = codes(without(lambda v: v.main is None or v.main.group != "pull" or not kit_free(v)))
    assert ("library-uncovered", "no exercise for the group pull can be done without kit") in found


def test_a_family_may_say_why_it_needs_kit() -> None:
    step = LIBRARY.families["step"]
    library = replace(LIBRARY, families={**LIBRARY.families, "step": replace(step, kit_note="")})
    assert codes(library) == [
        ("library-uncovered", "no exercise of the family Step-up and step-down can be done without kit")
    ]


def test_every_pattern_but_the_step_is_there_without_kit() -> None:
    assert {v.pattern for v in LIBRARY.variants.values() if kit_free(v)} == set(PATTERNS) - set(NEEDS_KIT)


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (lambda v: replace(v, cues=()), "`cues`"),
        (lambda v: replace(v, faults=()), "`faults`"),
        (lambda v: replace(v, muscles=()), "`muscles`"),
        (lambda v: replace(v, balance_help=""), "`balance_help`"),
        (lambda v: replace(v, impact=2, cautions=()), "`cautions`"),
    ],
)
def test_an_incomplete_exercise_is_told(change: Callable[[Variant], Variant], key: str) -> None:
    found = [what for code, what in codes(changed("one-leg-squat-leg-back", change)) if code == "library-incomplete"]
    assert len(found) == 1
    assert key in found[0]


def test_a_figure_that_cannot_be_drawn_is_told() -> None:
    squat = LIBRARY.variants["squat"].movement
    assert squat is not None
    far = replace(squat, contacts=(*squat.contacts, Contact("hand", on="box", height_m=2.9)))
    for movement, level, told in (
        (None, "note", "has no figure"),
        (far, "error", "cannot be drawn: the supports cannot be reached"),
    ):
        library = changed("squat", lambda v, m=movement: replace(v, movement=m))  # type: ignore[misc]
        found = [f for f in prove(library, {}) if f.code == "library-no-figure"]
        assert [(f.level, told in f.what) for f in found] == [(level, True)]


def test_a_foot_through_the_floor_is_told() -> None:
    stand = LIBRARY.variants["one-leg-stand"].movement
    assert stand is not None
    deep = replace(
        stand, hold=replace(stand.hold, trunk=0, lead={"thigh": 60, "shin": 40}, rear={"thigh": 0, "shin": 0})
    )
    library = changed("one-leg-stand", lambda v: replace(v, movement=deep))
    assert any("reaches through the floor: rear." in what for _, what in codes(library))


def test_the_place_of_own_and_of_built_in_exercises() -> None:
    library, findings, places = load_with_places({"own.toml": b'name = "Fence step"\nharder_than = "Step-up, low"\n'})
    assert findings == ()
    assert set(places) == set(library.variants)
    assert (places["fence-step"].file, places["fence-step"].line) == ("own.toml", 1)
    assert places["step-up"].file == "families/step.toml"
    assert {f.span.file for f in prove(library, places) if f.span} == {"own.toml"}


def test_the_whole_check_is_quick() -> None:
    """0.4 s on an idle core for 189 exercises; 2 s is what the issue allows for all figures and demands."""
    start = process_time()
    prove(LIBRARY, {})
    assert process_time() - start < 2
