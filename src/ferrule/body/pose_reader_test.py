from __future__ import annotations

import tomllib
from typing import Any

import pytest

from ferrule.body.pose_reader import read_movement
from ferrule.body.statics import solve
from ferrule.model.finding import Finding, Span
from ferrule.model.pose import Movement, Pose


def read(text: str, **rest: Any) -> tuple[Movement | None, tuple[Finding, ...]]:
    return read_movement(tomllib.loads(text), "Squat", **rest)


NESTED = """
demand = "hip+knee.lead"
hold = { trunk = "~35", legs = { thigh = 90, shin = 30 }, arms = { arm = 80 } }
other = { trunk = "~2", legs = { thigh = 0, shin = 2 } }
contact = [ { at = "foot", cop = 0.45 } ]
"""
FLAT = """
scale = "hip+knee.lead"
trunk = "~35"
legs = { thigh = 90, shin = 30 }
arms = { arm = 80 }
easy = { trunk = "~2", legs = { thigh = 0, shin = 2 } }
contact = [ { at = "foot", cop = 0.45 } ]
"""


def test_both_spellings_are_one_movement() -> None:
    nested, flat = read(NESTED), read(FLAT)
    assert nested == flat
    assert nested[1] == ()
    assert nested[0] is not None
    assert solve(nested[0]).demand == pytest.approx(1.616, abs=5e-4)


def test_other_names_only_what_differs() -> None:
    movement, _ = read(NESTED)
    assert movement is not None
    assert movement.other == Pose(trunk="~2", legs={"thigh": 0, "shin": 2}, arms={"arm": 80})


def test_legs_in_other_replace_single_legs_and_a_line_replaces_the_trunk() -> None:
    movement, _ = read("""
hold = { trunk = 20, lead = { thigh = 80 }, rear = { thigh = 0 }, lead_arm = { arm = 30 } }
other = { line = 0, legs = { thigh = 10 }, arms = { arm = 5 } }
contact = [ { at = "foot" } ]
""")
    assert movement is not None
    assert movement.other == Pose(line=0, legs={"thigh": 10}, arms={"arm": 5})


@pytest.mark.parametrize(
    ("text", "code", "key"),
    [
        (NESTED.replace("shin = 30", "shinn = 30"), "pose-unknown-key", "shinn"),
        (NESTED.replace('"~35"', '"35"'), "pose-bad-angle", "hold.trunk"),
        (NESTED.replace('"~35"', '"~x"'), "pose-bad-angle", "hold.trunk"),
        (NESTED.replace("thigh = 90", "thigh = true"), "pose-bad-angle", "hold.legs.thigh"),
        (NESTED.replace("arm = 80", 'arm = "out"'), "pose-bad-angle", "hold.arms.arm"),
        (NESTED.replace('"foot"', '"nose"'), "pose-bad-contact", "contact[1].at"),
        (NESTED.replace("cop = 0.45", "cop = 45"), "pose-bad-number", "contact[1].cop"),
        (NESTED.replace("cop = 0.45", "share = 0.7"), "pose-share-without-source", "contact[1].share"),
        (NESTED.replace("cop = 0.45", 'limb = "left"'), "pose-bad-word", "contact[1].limb"),
        (NESTED.replace("contact = [ { at = \"foot\", cop = 0.45 } ]", ""), "pose-no-contact", "contact"),
        (NESTED + 'view = "top"\n', "pose-bad-word", "view"),
        (NESTED + 'rests = [ "feet" ]\n', "pose-bad-word", "rests"),
        (NESTED + "reach = 1\n", "pose-bad-word", "reach"),
        (NESTED + 'props = [ { kind = "rocket" } ]\n', "pose-bad-word", "props[1].kind"),
        (NESTED + "colour = 1\n", "pose-unknown-key", "colour"),
        (NESTED.replace("{ trunk = \"~2\", legs = { thigh = 0, shin = 2 } }", "5"), "pose-not-a-table", "other"),
        (NESTED.replace("{ thigh = 90, shin = 30 }", "3"), "pose-not-a-table", "hold.legs"),
    ],
)  # fmt: skip
def test_a_fault_names_its_key(text: str, code: str, key: str) -> None:
    span = Span("squat.toml", 3)
    movement, findings = read(text, span=span)
    assert movement is None
    assert [f.code for f in findings] == [code]
    assert f"`{key}`" in findings[0].what
    assert findings[0].what.startswith("Squat: ")
    assert findings[0].span == span
    assert findings[0].fix


def test_every_fault_is_found_at_once() -> None:
    _, findings = read(NESTED.replace("shin = 30", 'shin = "x"').replace("cop = 0.45", "cop = 2"))
    assert [f.code for f in findings] == ["pose-bad-angle", "pose-bad-number"]


def test_keys_of_others_are_left_alone() -> None:
    movement, findings = read(NESTED + 'family = "squat"\n', also=("family",))
    assert movement is not None
    assert findings == ()


def test_a_share_keeps_its_source() -> None:
    movement, _ = read(NESTED.replace("cop = 0.45", 'limb = "lead", share = 0.75, source = "a review"'))
    assert movement is not None
    assert movement.contacts[0].share == 0.75
    assert movement.contacts[0].source == "a review"
