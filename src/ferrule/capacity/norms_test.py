from __future__ import annotations

import math

from ferrule.capacity.norms import ANCHOR_NM_KG, BY_GROUP, NORMS
from ferrule.model.words import GROUPS


def test_every_group_has_one_norm_that_says_where_it_comes_from() -> None:
    assert [n.group for n in NORMS] == list(GROUPS)
    provenances = ("seen", "from memory", "no source")
    assert all(any(word in n.basis for word in provenances) for n in NORMS)


def test_the_torque_norms_are_the_published_ones() -> None:
    # Ramskov 2014 (seen): eccentric hip abduction of novice runners 1.62 men, 1.41 women, N·m per kg.
    norm = BY_GROUP["hip abduction"]
    assert math.isclose(math.exp(norm.male) * ANCHOR_NM_KG["hip abduction"], 1.62)
    assert math.isclose(math.exp(norm.female) * ANCHOR_NM_KG["hip abduction"], 1.41)


def test_nobody_is_believed_unable_to_do_an_anchor_once() -> None:
    assert all(n.female > 0 and n.male > 0 for n in NORMS)
