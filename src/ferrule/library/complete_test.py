"""Every field of every exercise is there, or one stated reason says why it is not; and no reason is left over."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

import pytest

from ferrule.library.muscles import MUSCLES
from ferrule.library.reader import load_library
from ferrule.library.stance import stands_on_one_leg
from ferrule.model.exercise import Variant
from ferrule.model.words import KIT_KINDS, PLACES, REGIONS, TAGS

LIBRARY = load_library()[0]
VARIANTS = tuple(LIBRARY.variants.values())
Holds = Callable[[Variant], object]
SLIDES_OR_TEARS = {"band", "bench", "box", "step", "stair", "doorway bar"}
INSIDE = re.compile(r"\b(contract|tighten|engage|brace|flex|activate|tense|clench|muscle|glute|core|abs|quad)", re.I)
"""Words that turn attention to the inside of the body. A cue is about the effect: external focus, Wulf 2013 (from memory)."""


def _first(v: Variant) -> bool:
    return LIBRARY.families[v.family].variant_ids[0] == v.id


def _last(v: Variant) -> bool:
    return LIBRARY.families[v.family].variant_ids[-1] == v.id


def _sentence(text: str) -> bool:
    return text[:1].isupper() and text.endswith(".")


FIELDS: Mapping[str, Holds] = {
    "name": lambda v: v.name,
    "spoken name": lambda v: v.spoken and not re.search(r"[;:()/]", v.spoken),
    "other trade names": lambda v: v.aliases,
    "cues": lambda v: 3 <= len(v.cues) <= 5 and len(set(v.cues)) == len(v.cues) and all(map(_sentence, v.cues)),
    "cues are short, one idea each": lambda v: all(
        len(re.findall(r"[A-Za-z']+", c)) <= 12 and c.count(".") == 1 for c in v.cues
    ),
    "cues look outward": lambda v: not any(INSIDE.search(c) for c in v.cues),
    "faults with their mending": lambda v: v.faults and all(_sentence(t) for f in v.faults for t in (f.seen, f.mend)),
    "set-up": lambda v: _sentence(v.setup),
    "support when balance fails": lambda v: v.balance_help,
    "easier neighbour": lambda v: v.easier,
    "harder neighbour": lambda v: v.harder,
    "hardest point": lambda v: v.movement and v.movement.hold,
    "far end of the way": lambda v: v.movement and v.movement.other,
    "regions": lambda v: v.regions and set(v.regions) <= set(REGIONS),
    "muscles": lambda v: v.muscles and v.helping and {*v.muscles, *v.helping} <= set(MUSCLES),
    "how it is filmed": lambda v: v.shot and v.shot.see and v.shot.say in v.cues,
    "demand": lambda v: v.main,
    "contacts": lambda v: v.contacts_per_rep > 0,
    "tags are known": lambda v: set(v.tags) <= set(TAGS) and 0 <= v.impact <= 4,
    "kit is known": lambda v: set(v.kit) <= set(KIT_KINDS),
    "height of what is stood on": lambda v: v.step_cm,
    "loading places": lambda v: v.loading and set(v.loading) <= set(PLACES),
    "seconds a repetition": lambda v: v.rep_s > 0,
    "seconds to get ready": lambda v: v.setup_s > 0,
    "cautions": lambda v: v.cautions and all(map(_sentence, v.cautions)),
    "source": lambda v: v.source,
}

RULES: Mapping[str, tuple[tuple[str, Holds], ...]] = {
    "support when balance fails": (
        ("both feet, or more of the body, are on the ground", lambda v: not stands_on_one_leg(v) and not v.impact),
        ("a landing that is held on to is none: the easier neighbour is the way", lambda v: v.impact),
    ),
    "easier neighbour": (("the easiest of its family", _first),),
    "harder neighbour": (("the hardest of its family", _last),),
    "far end of the way": (
        ("it is held still", lambda v: v.dose_kind == "hold"),
        ("walked with a load: the body does not change its shape", lambda v: v.pattern == "carry"),
        ("each stride mirrors the one before: one picture shows both", lambda v: v.dose_kind == "contacts"),
    ),
    "demand": (
        ("impact is counted, never dosed", lambda v: v.impact or v.dose_kind == "contacts"),
        ("mobility, balance and running form are done as written", lambda v: v.pattern in ("mobility", "balance", "skip", "easy movement")),
        ("no group has it; it limits and counts by its tag", lambda v: {"foot", "shin", "hip rotation", "hip flexion"} & {*v.tags}),
        ("walked with what there is: counted by its metres", lambda v: v.pattern == "carry"),
    ),
    "contacts": (("no foot lands", lambda v: not v.impact and v.dose_kind != "contacts"),),
    "height of what is stood on": (
        ("nothing is stood on, leaned on or sat down to", lambda v: not {"step", "stair", "box", "bench"} & {*v.kit}),
    ),
    "loading places": (
        ("never a dose: a weight would change what is counted", lambda v: v.main is None),
        ("a band is the load", lambda v: "band" in v.kit),
        ("it is made harder by lever, support or way, not by a weight", lambda v: v.main and v.main.trust != "ratio"),
    ),
    "cautions": (
        (
            "on the floor or standing, inside the middle of the range, nothing that slides, tears or lands",
            lambda v: not (v.impact or v.end_range or v.below_level or SLIDES_OR_TEARS & {*v.kit}),
        ),
    ),
}  # fmt: skip
"""Reasons that hold for many, in order: the first that fits is the reason."""

IN_THE_FOOT = "the way is a few centimetres inside the foot: too small to draw"
ABOUT_THE_LEG = "it turns about the long axis of the leg, which a picture from one side cannot show"
MIRRORED = "each stride mirrors the one before: one picture shows both"
ALONE: Mapping[tuple[str, str], str] = {
    ("far end of the way", "big-toe-lift"): IN_THE_FOOT,
    ("far end of the way", "foot-dome"): IN_THE_FOOT,
    ("far end of the way", "towel-scrunch"): IN_THE_FOOT,
    ("far end of the way", "pelvic-drop"): "the belt drops a few centimetres: the figure has one piece for the pelvis",
    ("far end of the way", "hip-turn-lying"): ABOUT_THE_LEG,
    ("far end of the way", "hip-turn-one-leg"): ABOUT_THE_LEG,
    ("far end of the way", "march-walking"): MIRRORED,
    ("far end of the way", "heel-walk"): MIRRORED,
    ("far end of the way", "toe-walk"): MIRRORED,
    ("far end of the way", "strides"): MIRRORED,
}
"""Reasons for one exercise."""


def reason(field: str, variant: Variant) -> str:
    """Why a field may be empty; "" when nothing says so."""
    alone = ALONE.get((field, variant.id), "")
    return alone or next((why for why, fits in RULES.get(field, ()) if fits(variant)), "")


@pytest.mark.parametrize("field", FIELDS)
def test_each_field_is_there_or_its_absence_has_a_reason(field: str) -> None:
    open_ = [v.id for v in VARIANTS if not FIELDS[field](v) and not reason(field, v)]
    assert open_ == []


def test_no_reason_is_left_over() -> None:
    lacking = {(field, v.id) for field, there in FIELDS.items() for v in VARIANTS if not there(v)}
    assert {key for key in ALONE if key not in lacking} == set()
    used = {(f, reason(f, LIBRARY.variants[i])) for f, i in lacking}
    assert {(f, why) for f, rules in RULES.items() for why, _ in rules} <= used
    assert set(RULES) <= set(FIELDS)


def test_the_words_that_look_inward_are_found() -> None:
    assert INSIDE.search("Tighten your core.")
    assert not INSIDE.search("Push the floor away.")
