from ferrule.fit.settings import settings_of
from ferrule.model.fitted import LoadChoice
from ferrule.model.squad import KitItem
from ferrule.squad.loads import load_choices


def test_nothing_carried_and_fixed_weights_are_no_setting() -> None:
    assert settings_of(None) == ()
    assert settings_of(LoadChoice(8, "hands", ("8 kg dumbbell",))) == ()


def test_every_load_of_adjustable_kit_says_its_setting() -> None:
    """Whatever words `squad.loads` uses for adjustable pieces are understood here."""
    for item in (KitItem("dumbbell", 2, kg=2, up_to_kg=10, step_kg=2), KitItem("rucksack", up_to_kg=6)):
        for load in load_choices((item,), "back" if item.kind == "rucksack" else "hands"):
            assert len(settings_of(load)) == 1, load
    bar = (KitItem("barbell", kg=20), KitItem("plate", 2, kg=5))
    settings = [settings_of(load) for load in load_choices(bar, "back")]
    assert len(set(settings)) == 2


def test_one_or_two_of_a_pair_at_the_same_weight_is_the_same_setting() -> None:
    one = LoadChoice(6, "hands", ("adjustable dumbbell at 6 kg",))
    two = LoadChoice(12, "hands", ("two adjustable dumbbells at 6 kg",))
    assert settings_of(one) == settings_of(two)
