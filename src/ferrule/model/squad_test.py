from __future__ import annotations

import math

import pytest

from ferrule.model.exercise import Ask, Variant
from ferrule.model.squad import Belief, Capacity
from ferrule.model.words import GROUPS, Trust


def variant(*, sided: bool = True, trust: Trust = "ratio", dosed: bool = True) -> Variant:
    return Variant(
        "step", "Step", "steps", 0, "step", "reps", True, sided, (), (), (), (), "",
        (Ask("knee and hip", 1.2, {}, trust, dosed),), (), "step",
    )  # fmt: skip


MEAN, SD = dict.fromkeys(GROUPS, 0.5), dict.fromkeys(GROUPS, 0.3)
PLAIN = Capacity("R01", MEAN, SD, {})


@pytest.mark.parametrize("trust", ["number", "ratio", "order"])
@pytest.mark.parametrize("side", ["left", "right", "both"])
def test_empty_fields_give_the_numbers_of_the_group(trust: Trust, side: str) -> None:
    assert PLAIN.of(variant(trust=trust), side) == (0.5, 0.3)  # type: ignore[arg-type]


def test_an_unseen_variant_is_believed_less_than_its_group_by_its_trust() -> None:
    capacity = Capacity("R01", MEAN, SD, {}, offset_sd={"ratio": 0.4})
    assert capacity.of(variant())[0] == 0.5
    assert math.isclose(capacity.of(variant())[1], 0.5)
    assert capacity.of(variant(trust="order")) == (0.5, 0.3)


def test_a_seen_variant_has_its_own_belief() -> None:
    capacity = Capacity("R01", MEAN, SD, {}, variants={"step": Belief(0.7, 0.1, 4)}, offset_sd={"ratio": 0.4})
    assert capacity.of(variant()) == (0.7, 0.1)


def test_a_sided_variant_is_dosed_on_the_weaker_side() -> None:
    capacity = Capacity("R01", MEAN, SD, {}, half_log={"knee and hip": -0.06})
    assert math.isclose(capacity.of(variant())[0], 0.44)
    assert math.isclose(capacity.of(variant(), "left")[0], 0.44)
    assert math.isclose(capacity.of(variant(), "right")[0], 0.56)
    assert capacity.of(variant(sided=False))[0] == 0.5


def test_what_is_never_dosed_has_no_capacity() -> None:
    with pytest.raises(ValueError, match="no main group"):
        PLAIN.of(variant(dosed=False))
