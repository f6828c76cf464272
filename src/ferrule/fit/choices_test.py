from __future__ import annotations

from ferrule.fit.candidates import as_written
from ferrule.fit.choices import OPEN_LOAD, Choice, LineChoices, choices_of
from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.fit.runner import setting_of
from ferrule.model.exercise import Library
from ferrule.model.fitted import LoadChoice
from ferrule.model.house import House
from ferrule.model.programme import Block, Dose, Item, Named, Slot
from ferrule.model.quantity import Load, Range
from ferrule.model.squad import KitItem, Limit, Runner, Sore

EFFORT = Dose(reps=Range(6, 8), sides="each", rir=Range.of(2))


def lay(library: Library, runner: Runner, item: Item) -> LineChoices:
    block = Block("straight", "A", Range.of(3), None, None, (item,), PLACE)
    return choices_of(item, block, setting_of(runner, library, House(), MONDAY, False))


def line(name: str, variant: str, dose: Dose = EFFORT, *more: Item) -> Item:
    return Item("A", Named(name, variant), dose, PLACE, alternatives=more)


def ids(choices: tuple[Choice, ...]) -> set[str]:
    return {c.variant.id for c in choices if c.variant is not None}


def test_the_written_one_is_free_and_its_family_is_not(library: Library, make_runner: MakeRunner) -> None:
    laid = lay(library, make_runner(), line("Step-up", "step-up"))
    assert laid.written.distance <= OPEN_LOAD
    assert {c.distance for c in laid.choices if c.origin == "written" and c.load is None} == {0}
    assert all(c.distance >= 10 for c in laid.choices if c.origin in ("family", "pattern", "group"))


def test_an_open_load_is_tried_only_where_an_effort_is_stated(library: Library, make_runner: MakeRunner) -> None:
    stated = lay(library, make_runner(), line("Step-up", "step-up"))
    assert any(c.load is not None for c in stated.choices)
    unstated = lay(library, make_runner(), line("Step-up", "step-up", Dose(reps=Range.of(8), sides="each")))
    assert all(c.load is None for c in unstated.choices)


def test_a_written_load_is_free_and_others_cost(library: Library, make_runner: MakeRunner) -> None:
    dose = Dose(reps=Range.of(8), sides="each", load=Load(kg=Range.of(8)))
    choices = lay(library, make_runner(level="strong"), line("Step-up", "step-up", dose)).choices
    step_ups = [c for c in choices if c.variant is not None and c.variant.id == "step-up"]
    assert all((c.distance == 0) == (c.load is not None and c.load.kg == 8) for c in step_ups)
    assert any(c.load is not None and c.load.kg == 8 for c in step_ups)


def test_no_weight_means_none(library: Library, make_runner: MakeRunner) -> None:
    dose = Dose(reps=Range.of(8), sides="each", rir=Range.of(2), load=Load(none=True))
    assert all(c.load is None for c in lay(library, make_runner(), line("Step-up", "step-up", dose)).choices)


def test_nobody_is_sent_to_lift_a_weight_that_is_not_there(library: Library, make_runner: MakeRunner) -> None:
    dose = Dose(reps=Range.of(8), load=Load(none=True))
    moved = lay(library, make_runner(), line("Hinge", "hinge-two-legs", dose)).choices
    assert all(c.variant is None or not c.variant.lifts for c in moved)
    written = lay(library, make_runner(), line("Deadlift", "deadlift", dose)).written
    assert written.variant is not None
    assert written.variant.id == "deadlift"
    assert any(v.lifts for v in library.variants.values())


def test_what_is_lifted_is_not_done_without_a_weight_where_an_effort_is_written(
    library: Library, make_runner: MakeRunner
) -> None:
    dose = Dose(reps=Range.of(8), sides="each", rir=Range.of(2))
    row = line("One-arm row", "one-arm-row", dose)
    chair = KitItem("chair")
    empty = lay(library, make_runner(kit=(chair,)), row)
    assert empty.written.barred is not None
    assert "needs a weight" in empty.written.barred.text
    assert empty.choices
    assert all(c.variant is not None and not c.variant.lifts for c in empty.choices)
    some = lay(library, make_runner(kit=(chair, KitItem("dumbbell", kg=4))), row)
    assert [c.load.kg for c in some.choices if c.origin == "written" and c.load is not None] == [4]
    assert all(c.load is not None for c in some.choices if c.origin == "written")


def test_a_slot_offers_its_pattern_and_legs_at_no_price(library: Library, make_runner: MakeRunner) -> None:
    item = Item("A", Slot("hinge", 1), Dose(reps=Range.of(8), sides="each", rir=Range.of(2)), PLACE)
    choices = lay(library, make_runner(), item).choices
    assert choices
    assert all(c.variant is not None and c.variant.pattern == "hinge" and c.variant.one_leg for c in choices)
    assert {c.distance for c in choices} <= {0, 1}


def test_alternatives_come_before_the_family(library: Library, make_runner: MakeRunner) -> None:
    other = line("Press-up, knees", "press-up-knees", Dose(reps=Range.of(12)))
    item = line("Press-up", "press-up", Dose(reps=Range.of(10), rir=Range.of(3)), other)
    choices = lay(library, make_runner(), item).choices
    knees = next(c for c in choices if c.variant is not None and c.variant.id == "press-up-knees")
    assert knees.origin == "alternative"
    assert knees.dose.reps == Range.of(12)
    assert knees.distance < min(c.distance for c in choices if c.origin == "family")


def test_a_stand_in_never_lands_harder(library: Library, make_runner: MakeRunner) -> None:
    laid = lay(library, make_runner(), line("Squat", "squat", Dose(reps=Range.of(8))))
    assert all(c.variant is None or c.variant.impact == 0 for c in laid.choices)


def test_recourses_go_the_right_way(library: Library, make_runner: MakeRunner) -> None:
    for choice in lay(library, make_runner(), line("Step-up", "step-up")).choices:
        for step, harder in ((choice.easier, False), (choice.harder, True)):
            if step is not None and step.variant.main is not None:
                kg, place = (0.0, None) if step.load is None else (step.load.kg, step.load.place)
                assert (step.variant.main.demand(kg, place, 60.0) > choice.demand) is harder


def test_an_unknown_exercise_is_kept_as_written(library: Library, make_runner: MakeRunner) -> None:
    laid = lay(library, make_runner(), Item("A", Named("Fence vault", None), EFFORT, PLACE))
    assert [c.name for c in laid.choices] == ["Fence vault"]


def test_a_quarter_of_a_kilogram_is_as_written() -> None:
    asked = Load(kg=Range.of(6), each_hand=True, place="hands")
    assert as_written(LoadChoice(12, "hands", ()), asked)
    assert as_written(LoadChoice(12.25, "hands", ()), asked)
    assert not as_written(LoadChoice(12.5, "hands", ()), asked)
    assert not as_written(LoadChoice(12, "chest", ()), asked)


def test_an_unknown_exercise_is_not_given_to_a_runner_with_a_limit(library: Library, make_runner: MakeRunner) -> None:
    item = Item("A", Named("Fence vault", None), EFFORT, PLACE)
    limit = Limit("calf", "left", "heel-raise-two-legs", None, "physiotherapist", "left calf: ...", PLACE)
    for runner in (make_runner(limits=(limit,)), make_runner(sore=(Sore("knee", "left", 2, PLACE),))):
        laid = lay(library, runner, item)
        assert laid.choices == ()
        assert laid.written.barred is not None
        assert "not in the library" in laid.written.barred.text
