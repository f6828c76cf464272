"""Forms left as written, in words a runner follows."""

from dataclasses import replace

import pytest

from ferrule.deliver import sample
from ferrule.deliver.form_words import form_words, forms_words
from ferrule.deliver.wording import item_words
from ferrule.model.fitted import FittedBlock


@pytest.mark.parametrize(
    ("form", "said"),
    [
        ("lowering only", "lowering only"),
        ("rest-pause 20 s", "rest 20 s, then as many more as you can"),
        ("rest-pause 20 s x 3", "rest 20 s, then as many more as you can, 3 times"),
        ("part rest 15-20 s", "rest 15-20 s between the parts"),
        ("drop 8", "then 8 more with less load"),
        ("2+2+2", "in parts of 2 + 2 + 2"),
        ("loads 40, 45, 50 kg", "40 kg, then 45 kg, then 50 kg"),
        ("2 lead-in", "2 first that do not count"),
        ("RPE 8", "effort 8 of 10"),
        ("to failure", "go on until no further good one is possible"),
        ("load on 3 days a week", "with the load on 3 days of the week, without it on the others"),
        ("30 cm box", "30 cm box"),
        ("something new", "something new"),
    ],
)
def test_each_form(form: str, said: str) -> None:
    assert form_words(form) == said


def test_a_form_told_twice_is_said_once() -> None:
    extra = ("in parts of 2 + 2 + 2", "then 4 more with less load", "2+2+2", "drop 4")
    assert forms_words(extra) == "in parts of 2 + 2 + 2; then 4 more with less load"


def test_they_stand_with_the_dose_and_offers_do_not() -> None:
    line = replace(sample.heel_raise(), extra=("lowering only", "or, as you like: Step-up; Plank"), notes=("Slowly",))
    words = item_words(line, FittedBlock("pair", "A", 4, None, None, (line,)), None)
    assert words.forms == "Lowering only."
    assert words.notes == ("Slowly.", "Or, as you like: Step-up; Plank.")


def test_hostile_forms_stay_one_line() -> None:
    assert "\u202e" not in forms_words((sample.HOSTILE,))
    assert "\x07" not in forms_words((sample.HOSTILE,))
