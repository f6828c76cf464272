from __future__ import annotations

from dataclasses import replace

from ferrule.fit.build import Laid
from ferrule.fit.conftest import KIT, MONDAY, TEXT, MakeRunner
from ferrule.fit.reasons import load_words, reasons_of
from ferrule.fit.runner import fit_runner, lay
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedWeek, LoadChoice, ReasonCode
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import FieldTest, KitItem, Runner, Wish
from ferrule.programme.reader import read_programme


def line(programme: Programme, library: Library, house: House, runner: Runner, written: str) -> FittedItem:
    week = fit_runner(programme, runner, library, house, MONDAY)
    assert isinstance(week, FittedWeek)
    return next(i for s in week.sessions for b in s.blocks for i in b.items if i.written == written)


def codes(item: FittedItem) -> set[ReasonCode]:
    return {r.code for r in item.reasons}


def test_loads_in_words() -> None:
    assert load_words(None) == "no weight"
    assert load_words(LoadChoice(7.5, "hands", ())) == "7.5 kg"


def test_kit_and_wishes_are_named(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    low = make_runner(kit=(KitItem("step", height_cm=15), KitItem("mat")))
    step = line(programme, library, house, low, "Step-up")
    assert any("needs step" in r.text for r in step.reasons)
    wish = make_runner(wishes=(Wish("no variant", "no Split squat", variant_id="split-squat"),))
    assert any("no Split squat" in r.text for r in line(programme, library, house, wish, "Split squat").reasons)


def test_a_weak_and_a_strong_runner_are_moved_for_opposite_reasons(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    weak = line(programme, library, house, make_runner(tests=(FieldTest("press-ups", 1),)), "Press-up")
    assert weak.variant_id != "press-up"
    assert any("too hard" in r.text for r in weak.reasons)
    sack = (*KIT, KitItem("rucksack", up_to_kg=12))
    strong = line(programme, library, house, make_runner(kit=sack, tests=(FieldTest("press-ups", 60),)), "Press-up")
    assert any("too easy" in r.text or r.code == "load chosen" for r in strong.reasons)


def test_the_effort_is_told_by_what_the_text_was_priced_from(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    laid = lay(programme, make_runner(tests=(FieldTest("press-ups", 1),)), library, house, MONDAY)
    assert isinstance(laid, Laid)
    line = next(ln for ln in laid.lines if ln.choices.written.name == "Press-up")
    made = line.choices
    other = next(c for c in made.choices if c.origin == "alternative")
    loss = made.written.expected_loss
    for band, codes in ((loss - 0.01, {"first that fits"}), (loss, {"first that fits"})):
        said = reasons_of(line.item, made.written, other, made.choices, band)
        assert {r.code for r in said} == codes
        assert ("too hard" in said[0].text) == (band < loss)


def test_what_no_rule_explains_is_put_down_to_the_other_lines(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    laid = lay(programme, make_runner(), library, house, MONDAY)
    assert isinstance(laid, Laid)
    line = next(ln for ln in laid.lines if any(c.origin == "family" for c in ln.choices.choices))
    made = line.choices
    slow = replace(next(c for c in made.choices if c.origin == "family"), setup_s=1e6)
    (said,) = reasons_of(line.item, made.written, slow, made.choices, made.written.expected_loss)
    assert said.code == "other lines"
    assert said.departs


def test_an_open_slot_says_what_was_chosen_and_is_no_departure(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    item = line(programme, library, house, make_runner(), "any hinge, one leg")
    assert codes(item) == {"open slot"}
    assert not item.departs


def test_a_form_the_fit_does_not_model_is_left_as_written_and_said(
    library: Library, house: House, make_runner: MakeRunner
) -> None:
    text = TEXT.replace("- Press-up: 8-10, 3 RIR\n", "- Press-up: 4+3+2\n")
    programme, _ = read_programme(text, "programme.md", library)
    item = line(programme, library, house, make_runner(tests=(FieldTest("press-ups", 1),)), "Press-up")
    assert item.variant_id == "press-up"
    assert item.prediction is None
    assert codes(item) == {"not fitted"}
    assert not item.departs
