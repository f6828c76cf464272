from __future__ import annotations

import re
from dataclasses import replace
from math import dist
from xml.etree import ElementTree

import pytest

from ferrule.body.contact_sheet import contact_sheet
from ferrule.body.figure import both_ends, drawing, figure
from ferrule.body.golden_test import POSES, movement
from ferrule.body.limbs import drawn_points, outline
from ferrule.body.path import between
from ferrule.body.posture import End, Posture, posture, through_floor
from ferrule.body.segments import Person
from ferrule.body.shapes import xy
from ferrule.model.pose import Contact, Movement, Pose, Prop
from ferrule.model.words import Place

SVG = "{http://www.w3.org/2000/svg}"
ENDS: list[tuple[str, End]] = [
    *((name, "hold") for name in sorted(POSES)),
    *((name, "other") for name in sorted(POSES) if movement(name).other),
]
BONES = [
    (f"{side}.{a}", f"{side}.{b}")
    for side in ("lead", "rear")
    for a, b in (
        ("hip", "knee"), ("knee", "ankle"), ("heel", "ball"), ("shoulder", "elbow"), ("elbow", "wrist"),
    )
]  # fmt: skip


def length(p: Posture, bone: tuple[str, str]) -> float:
    a, b = (p.points[joint] for joint in bone)
    return dist((a.real, a.imag), (b.real, b.imag))


@pytest.mark.parametrize(("name", "at"), ENDS)
def test_nothing_is_below_the_floor(name: str, at: End) -> None:
    p = posture(movement(name), at=at)
    assert through_floor(p) == ()
    assert min(c.imag - r for c, r in outline(p).rounds) > -0.025


def test_a_limb_through_the_floor_is_noticed() -> None:
    pose = Pose(trunk=0, lead={"thigh": 20}, rear={"thigh": 0})
    deep = posture(Movement(pose, (Contact("foot", "lead"),), ""))
    assert through_floor(deep)[0].startswith("rear.")


@pytest.mark.parametrize("name", [n for n in sorted(POSES) if movement(n).other])
def test_limbs_keep_their_length_on_the_way(name: str) -> None:
    first = posture(movement(name))
    for t in (0.0, 0.25, 0.5, 0.75, 1.0):
        p = between(movement(name), t)
        for bone in BONES:
            if first.movement.view == "side":
                assert length(p, bone) == pytest.approx(length(first, bone), abs=1e-9), (t, bone)
        assert through_floor(p) == ()


@pytest.mark.parametrize("name", [n for n in sorted(POSES) if movement(n).other and not movement(n).other_contacts])
def test_supports_stay_on_the_way(name: str) -> None:
    supports = [between(movement(name), t).supports for t in (0.0, 0.3, 0.6, 1.0)]
    for support in supports:
        for contact, where in zip(movement(name).contacts, support, strict=True):
            assert where.imag == pytest.approx(contact.height_m, abs=1e-6)
        if movement(name).reach:
            assert support == pytest.approx(supports[0], abs=1e-6)


@pytest.mark.parametrize(("name", "at"), ENDS)
def test_the_mass_centre_is_over_the_base(name: str, at: End) -> None:
    p = posture(movement(name), at=at)
    standing = all(c.at in ("foot", "ball", "heel", "ankle") and c.on != "wall" for c in p.contacts)
    if not p.contacts or not standing or p.movement.view == "front":
        return
    feet = [
        p.points[f"{side}.{end}"].real
        for c in p.contacts
        for side in ("lead", "rear")
        if c.limb in (side, "both")
        for end in ("heel", "toe")
    ]
    assert min(feet) - 1e-6 <= p.centre.real <= max(feet) + 1e-6


@pytest.mark.parametrize(("name", "at"), ENDS)
def test_figures_are_small_whole_and_described(name: str, at: End) -> None:
    one = figure(movement(name), at=at, title="Squat & press")
    assert len(one.svg.encode()) < 5000
    root = ElementTree.fromstring(one.svg)
    assert root.get("role") == "img"
    title = root.find(f"{SVG}title")
    assert title is not None
    assert title.text == f"Squat & press: {one.alt}"
    assert one.alt
    assert not any("id" in element.attrib for element in root.iter())
    assert root.get("width") == f"{one.width:.0f}"


@pytest.mark.parametrize("name", sorted(POSES))
def test_both_ends_are_small(name: str) -> None:
    two = both_ends(movement(name))
    assert len(two.svg.encode()) < 5000
    assert two.alt.startswith("from ") == (movement(name).other is not None)


def test_the_order_of_the_ends() -> None:
    squat, heel = movement("squat"), movement("heel_rise_one")
    assert both_ends(squat).alt.startswith("from standing on both feet, to standing on both feet, knees bent")
    assert "from standing on the ball of one foot, heel low" in both_ends(heel).alt
    assert "from standing on both feet, knees bent" in both_ends(replace(squat, starts="hold")).alt
    assert "from standing on the ball of one foot, heel high" in both_ends(replace(heel, starts="other")).alt


def test_a_standing_figure_has_the_asked_height() -> None:
    small, large = figure(movement("heel_rise_two"), height_px=60), figure(movement("heel_rise_two"), height_px=120)
    assert small.height == pytest.approx(60, abs=4)
    assert large.width / small.width == pytest.approx(2, abs=0.1)
    # Every figure keeps the scale: lying ones are low and wide.
    lying = figure(movement("push_up_floor"), height_px=120)
    assert lying.height < 40 < 110 < lying.width


@pytest.mark.parametrize("place", ["hands", "opposite hand", "same hand", "chest", "back", "hips", "ankle"])
def test_a_load_is_drawn_and_said(place: Place) -> None:
    bare, loaded = figure(movement("split_squat")), figure(movement("split_squat"), load_place=place)
    assert "#a8431a" not in bare.svg
    assert "#a8431a" in loaded.svg
    assert loaded.alt != bare.alt
    assert ("weight" in loaded.alt) or ("load" in loaded.alt)


def test_a_load_in_the_hands_lets_the_arms_hang() -> None:
    p = drawing(posture(movement("squat"), load_kg=10, place="hands"), "hands").posture
    assert p.points["lead.wrist"].real == pytest.approx(p.points["lead.shoulder"].real)


def test_props_stand_still_while_the_body_moves() -> None:
    box = movement("single_leg_squat_box")
    ends: tuple[End, End] = ("hold", "other")
    # The box is the first path after the floor line; its second corner is its top.
    tops = {figure(box, at=at).svg.split("M")[2].split("L")[1].split()[1] for at in ends}
    assert len(tops) == 1
    assert float(tops.pop()) < -20


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("squat", "standing on both feet, knees bent 120 degrees, trunk leaning forward 40 degrees"),
        ("single_leg_squat_leg_front", "the other leg stretched in front"),
        ("hinge_one", "standing on one leg, working knee bent 30 degrees, trunk leaning forward 70 degrees"),
        ("bridge_one", "lying on the back, one foot on the floor, hips raised"),
        ("push_up_floor", "hands and balls of the feet on the floor, arms bent"),
        ("push_up_hands_30", "hands on a 30 cm box, balls of the feet on the floor, arms straight"),
        ("split_squat_rear_raised", "other ankle on a 35 cm box behind"),
        ("side_lying_adduction", "lying on one side, the lower leg raised"),
        ("side_lying_abduction", "lying on one side, the upper leg raised"),
        ("side_plank_leg", "propped on the elbow, one ankle on the floor, hips raised, the other leg raised"),
        ("heel_rise_one", "standing on the ball of one foot, heel low"),
        ("nordic_45", "kneeling"),
        ("hinge_one", "the other leg stretched behind"),
        ("single_leg_squat_leg_front", "trunk leaning forward 30 degrees, the other leg stretched in front"),
    ],
)
def test_the_words(name: str, words: str) -> None:
    assert words in figure(movement(name)).alt


def test_words_of_other_stances() -> None:
    def said(pose: Pose, *contacts: Contact, props: tuple[Prop, ...] = ()) -> str:
        return figure(Movement(pose, contacts, "", props=props)).alt

    assert said(Pose(trunk=-90, legs={"thigh": 180, "shin": -90}), Contact("lying")).startswith("lying on the back")
    assert said(Pose(trunk=90, legs={"thigh": -90, "shin": 90}), Contact("lying")).startswith("lying on the front")
    assert said(Pose(trunk=0, legs={"foot": 40}), Contact("air", height_m=0.2)) == "in the air"
    assert said(Pose(trunk="~0", arms={"arm": 175}), Contact("hand", on="bar", height_m=2.2)).startswith("hanging")
    seat = Contact("seat", on="chair", height_m=0.42)
    assert said(Pose(trunk=0, legs={"thigh": "~88"}), seat, Contact("foot")).startswith("sitting on a chair")
    assert "a band round the knees" in said(Pose(trunk=0), Contact("foot"), props=(Prop("band", "knee"),))


def test_taller_people_have_longer_figures() -> None:
    short, tall = posture(movement("squat"), person=Person(70, 1.5)), posture(movement("squat"), person=Person(70, 2.0))
    assert tall.points["head_cm"].imag / short.points["head_cm"].imag == pytest.approx(2.0 / 1.5, rel=1e-3)


def test_the_contact_sheet_names_every_figure_and_says_what_it_cannot_draw() -> None:
    broken = Movement(Pose(trunk="~10", legs={"thigh": 90, "shin": -40}), (Contact("foot"),), "")
    sheet = contact_sheet([("squat", movement("squat"), "chest"), ("broken", broken, None)])
    root = ElementTree.fromstring(sheet)
    words = [t.text for t in root.iter(f"{SVG}text")]
    assert "squat" in words
    assert any("mass centre" in (w or "") for w in words)


def test_words_tell_apart_what_looks_different() -> None:
    standing = Movement(Pose(trunk=0), (Contact("foot"),), "")
    assert figure(standing).alt == "standing on both feet"
    overhead = replace(standing, hold=Pose(trunk=0, arms={"arm": 175}))
    assert figure(overhead).alt == "standing on both feet, arms overhead"
    swing = replace(standing, hold=Pose(trunk=0, lead_arm={"arm": 60}, rear_arm={"arm": -40}))
    assert figure(swing).alt == "standing on both feet, one arm forward, the other back"
    wide = Movement(
        Pose(trunk=0, lead={"spread": 20}, rear={"spread": 20}), (Contact("foot", "lead"), Contact("foot", "rear")), "",
        view="front",
    )  # fmt: skip
    assert figure(wide).alt == "standing with the feet apart"
    crossed = replace(wide, hold=Pose(trunk=0, lead={"spread": -12}, rear={"spread": -12}))
    assert figure(crossed).alt == "standing with the working leg across the other"
    hinge = replace(standing, hold=Pose(trunk=80, legs={"thigh": 30}))
    assert "arms" not in figure(hinge).alt, "they hang"


def test_the_line_of_load_is_drawn_when_asked() -> None:
    squat = movement("squat")
    assert "stroke-dasharray" not in figure(squat).svg
    shown = figure(squat, load_place="chest", load_line=True)
    p = posture(squat, load_kg=10, place="chest")
    assert f'd="M{xy(p.centre)}V0"' in shown.svg
    assert "stroke-dasharray" not in figure(movement("bridge_one"), load_line=True).svg, "the head and arms lie"
    assert both_ends(squat, load_line=True).svg.count("stroke-dasharray") == 2


FEET = (Contact("foot", "lead"), Contact("ball", "rear"))
LUNGE = replace(
    movement("split_squat"),
    other=Pose(trunk=0, legs={"thigh": 0, "shin": 0}),
    other_contacts=(Contact("foot"),),
    demand="",
)


def arrows(svg: str) -> list[list[float]]:
    """The numbers of each arrow's shaft: x and y of both ends as they are drawn."""
    found = re.findall(r'<path d="M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)M', svg)
    return [[float(v) for v in one] for one in found]


def test_a_step_has_its_own_arrow_under_the_floor() -> None:
    ahead, back = ([a for a in arrows(both_ends(replace(LUNGE, steps=s)).svg) if a[1] > 0] for s in ("lead", ""))
    assert len(ahead) == len(back) == 1
    assert ahead[0][2] > ahead[0][0] + 30, "the foot that works steps ahead"
    assert back[0][2] < back[0][0] - 30, "or the other one back"
    assert not [a for a in arrows(both_ends(movement("squat")).svg) if a[1] > 0]


@pytest.mark.parametrize("name", [n for n in sorted(POSES) if movement(n).other])
def test_arrows_stay_within_the_picture(name: str) -> None:
    svg = both_ends(movement(name)).svg
    _, top, _, height = (float(v) for v in svg.split('viewBox="')[1].split('"')[0].split())
    for shaft in arrows(svg):
        assert all(top <= y <= top + height for y in shaft[1::2])


def test_a_leg_that_points_out_of_the_picture_is_seen_shorter() -> None:
    flat = Movement(
        Pose(line=90, legs={"thigh": -88, "shin": 88, "out": 45}), (Contact("lying"),), "", view="front", down="rear"
    )
    p = posture(flat)
    assert length(p, ("lead.hip", "lead.knee")) == pytest.approx(p.body.thigh * 0.7071, rel=1e-3)
    assert figure(flat).alt.startswith("lying on one side, knees bent")


def test_a_rounded_back_rises_and_a_hollow_one_sinks() -> None:
    fours = Movement(
        Pose(trunk="~86", legs={"thigh": 0, "shin": 95, "foot": 150}, arms={"arm": 0}),
        (Contact("hand"), Contact("knee")), "",
    )  # fmt: skip

    def middle(back: float) -> float:
        trunk = outline(posture(replace(fours, hold=replace(fours.hold, back=back)))).layers["trunk"][0]
        return trunk.rounds[2][0].imag

    assert middle(60) > middle(0) + 0.05
    assert middle(-40) < middle(0) - 0.03
    assert "back rounded" in figure(replace(fours, hold=replace(fours.hold, back=60))).alt


def test_a_band_fixed_beside_reaches_there_and_is_said() -> None:
    fixed = Movement(
        Pose(trunk=0, lead={"spread": 16}, rear={"spread": -5}), (Contact("foot", "rear"),), "", view="front",
        props=(Prop("band", "lead.ankle", 0.12),),
    )  # fmt: skip
    one = figure(fixed)
    assert "a band from the ankle to the side" in one.alt
    assert "M" in one.svg.split("#a8431a")[0][-60:]
    assert one.width > figure(replace(fixed, props=())).width + 10


def test_forearms_of_a_press_up_do_not_lie_on_what_carries_the_hands() -> None:
    for name in ("push_up_floor", "push_up_hands_30"):
        p = posture(movement(name))
        drawn = drawn_points(p, None)
        assert drawn["lead.elbow"].imag > p.points["lead.wrist"].imag + 0.05
        assert drawn["lead.wrist"] == p.points["lead.wrist"]
