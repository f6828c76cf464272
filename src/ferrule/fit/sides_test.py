from __future__ import annotations

from datetime import date, timedelta

import pytest

from ferrule.check.run import check
from ferrule.fit.candidates import candidates
from ferrule.fit.sides import each_side, on_exercise
from ferrule.fit.squad import fit_squad
from ferrule.fit.verify.lines import as_taken
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Dose, Item, Programme
from ferrule.model.quantity import Range
from ferrule.model.squad import Squad
from ferrule.programme.reader import read_programme


def line(library: Library, text: str) -> Item:
    programme, _ = read_programme(f"### Session 1: a\n\nStraight, 3 sets\n\n{text}\n", "p.md", library)
    return programme.cycles[0].sessions[0].blocks[0].items[0]


def doses(library: Library, text: str) -> dict[str, Dose]:
    found: dict[str, Dose] = {}
    for variant, _, dose, _, _ in candidates(line(library, text), library):
        assert variant is not None
        found.setdefault(variant.id, dose)
    return found


def test_no_sides_where_the_exercise_has_none(library: Library) -> None:
    found = doses(library, "- Split squat: 10-12/side, side rest 20 s, 2 RIR")
    assert found["split-squat"].sides == found["step-up"].sides == "each"
    two = found["squat-half"]
    assert (two.sides, two.side_rest_s, two.reps, two.rir) == (None, None, Range(10, 12), Range.of(2))
    assert not each_side(two, library.variants["squat-half"])


def test_each_side_where_the_exercise_has_sides_and_the_line_had_none(library: Library) -> None:
    found = doses(library, "- Squat: 10")
    assert each_side(found["split-squat"], library.variants["split-squat"])
    assert not each_side(found["squat"], library.variants["squat"])


def test_a_slot_gives_each_exercise_its_own_sides(library: Library) -> None:
    found = doses(library, "- any hinge: 8/side, 2 RIR")
    assert found["hinge-one-leg"].sides == "each"
    assert found["hinge-two-legs"].sides is None


def test_what_the_coach_wrote_for_an_exercise_stands(library: Library) -> None:
    found = doses(library, "- Squat: 8/side\n  - or Bridge, two legs: 12/side")
    assert found["squat"].sides == found["bridge-two-legs"].sides == "each"


def test_an_alternative_that_only_takes_over_the_amount_follows_its_exercise(library: Library) -> None:
    found = doses(library, "- Split squat: 8/side\n  - or Squat\n  - or Step-up")
    assert (found["squat"].sides, found["squat"].reps) == (None, Range.of(8))
    assert found["step-up"].sides == "each"


@pytest.mark.parametrize(("dose", "reps"), [
    (Dose(left=10, right=8), Range.of(10)),
    (Dose(reps=Range.of(20), sides="alternating"), Range.of(20)),
    (Dose(reps=Range.of(20), sides="total"), Range.of(20)),
])  # fmt: skip
def test_sides_written_apart_or_together(dose: Dose, reps: Range, library: Library) -> None:
    assert on_exercise(dose, library.variants["squat"]) == Dose(reps=reps)
    assert on_exercise(dose, library.variants["split-squat"]) == dose


@pytest.mark.parametrize("text", [
    "- Split squat: 10-12/side, side rest 20 s, 2 RIR\n  - or Squat\n  - or Hip thrust, two legs: 15",
    "- Squat: 8/side\n  - or Step-up: left 10, right 8",
    "- any hinge: 8/side, 2 RIR",
    "- Lunge, forward: 20 alternating, 2 RIR",
    "- Side plank: 20-30 s/side",
])  # fmt: skip
def test_the_second_reading_takes_the_same_doses(text: str, library: Library) -> None:
    written = line(library, text)
    lines = (written, *written.alternatives)
    found = list(candidates(written, library))
    assert len(found) > 2
    for variant, _, dose, _, _ in found:
        assert dose in [as_taken(own, written, variant) for own in lines]


def test_no_exercise_without_sides_is_printed_each_side(
    demo: Programme, squad: Squad, library: Library, house: House
) -> None:
    """In any week of the demo: neither the line nor a rest between the sides."""
    assert not [f for f in check(demo, library, house) if f.level == "error"]
    seen = moved = 0
    for monday in (date(2026, 1, 5) + timedelta(weeks=w) for w in (0, 2, 5, 8)):
        week = fit_squad(demo, squad, library, house, monday)
        weeks = [w for w in week.outcomes if isinstance(w, FittedWeek)]
        items = [i for w in weeks for s in w.sessions for b in s.blocks for i in b.items if i.variant_id]
        for item in items:
            variant = library.variants[item.variant_id]
            assert item.per_side == (variant.sided and not item.alternating), item.line
            if not variant.sided:
                assert (item.left_right, item.side_rest_s, item.alternating) == (None, None, False)
            seen += 1
            moved += not variant.sided and "/side" in item.line
    assert seen > 1000
    assert moved > 20
