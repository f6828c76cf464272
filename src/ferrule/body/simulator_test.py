"""The statics against a general rigid-body simulator: same body, its own kinematics, inverse dynamics at rest.

It proves the statics, not the poses: the friction pair, the solved angles and the table of segments are shared.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import atan2, degrees, pi
from typing import Any

import mujoco as simulator
import numpy as np
import pytest
from numpy.typing import NDArray

from ferrule.body.golden_test import POSES, movement
from ferrule.body.posture import Posture
from ferrule.body.segments import GRAVITY, Person
from ferrule.body.statics import Solved, forces_of, moments_of, solve
from ferrule.model.words import Place

mujoco: Any = simulator  # its names are made at run time
TINY = 1e-9  # kg, for parts that lie on the floor
SIDES = ("lead", "rear")
PART_OF = {
    "hand": "hand", "forearm": "forearm", "elbow": "forearm", "foot": "foot", "ball": "foot", "heel": "foot",
    "ankle": "shin", "midshin": "shin", "knee": "shin", "upper back": "chest",
}  # fmt: skip


def turn_of(p: Posture, part: str) -> float:
    """How far a part is turned about the axis into the picture's left, from hanging (limbs) or upright (trunk)."""
    name = part.split(".")[-1]
    if "." not in part:
        return p.angles["trunk"] or 0.0 if part != "head" else p.angles["head"] or 0.0
    side = part.split(".")[0]
    out = 0.0
    if p.movement.view == "front":
        out = 1.0 if (side == "lead") == (p.movement.down == "lead") else -1.0
    if name in ("upper_arm", "forearm", "hand"):
        ends = {"upper_arm": ("shoulder", "elbow")}.get(name, ("elbow", "wrist"))
        way = p.points[f"{side}.{ends[1]}"] - p.points[f"{side}.{ends[0]}"]
        return -atan2(way.real, -way.imag) if abs(way) > 1e-9 else 0.0
    spread = out * (p.angles[f"{side}.leg_spread"] or 0.0)
    if name == "thigh":
        return -((p.angles[f"{side}.thigh"] or 0.0) + spread)
    if name == "foot" and p.movement.view == "side":
        return p.angles[f"{side}.foot"] or 0.0
    return (p.angles[f"{side}.shin"] or 0.0) - spread


def flat(x: float, z: float) -> str:
    return f'pos="{x:.17g} 0 {z:.17g}"'


class Model:
    """The body of one posture as a tree of hinges, and its state."""

    def __init__(self, p: Posture, heavier: Mapping[str, float]) -> None:
        self.p = p
        self.heavier = heavier
        b = p.body
        front = p.movement.view == "front"
        limbs = []
        for side in SIDES:
            out = 0.0
            if front:
                out = 1.0 if (side == "lead") == (p.movement.down == "lead") else -1.0
            shin_out = p.angles[f"{side}.shin"] is None
            fore_out = p.angles[f"{side}.forearm"] is None
            shin, shin_cm = (0.0, 0.0) if shin_out else (b.shin, b.shin_cm)
            fore, fore_cm, hand_cm = (0.0, 0.0, 0.0) if fore_out else (b.forearm, b.forearm_cm, b.hand_cm)
            foot_at = (0.0, 0.0 if shin_out else -b.ankle / 2) if front else (b.foot_cm, -b.ankle / 2)
            leg = self.part(
                f"{side}.thigh", (out * b.hip_half, 0), (0, -b.thigh_cm),
                self.part(f"{side}.shin", (0, -b.thigh), (0, -shin_cm), self.part(f"{side}.foot", (0, -shin), foot_at)),
            )  # fmt: skip
            arm = self.part(
                f"{side}.upper_arm", (out * b.shoulder_half, b.shoulder - b.lumbar), (0, -b.upper_arm_cm),
                self.part(
                    f"{side}.forearm", (0, -b.upper_arm), (0, -fore_cm),
                    self.part(f"{side}.hand", (0, -fore), (0, -hand_cm)),
                ),
            )  # fmt: skip
            limbs.append((leg, arm))
        head = self.part("head", (0, b.neck - b.lumbar), (0, b.head_cm))
        chest = self.part("chest", (0, b.lumbar), (0, b.chest_cm - b.lumbar), head + limbs[0][1] + limbs[1][1])
        root = (
            '<joint name="x" type="slide" axis="1 0 0"/><joint name="z" type="slide" axis="0 0 1"/>'
            '<joint name="pelvis" type="hinge" axis="0 1 0"/>'
        )
        pelvis = (
            f'<body name="pelvis" pos="0 0 0">{root}{self.inertia("pelvis", (0, b.pelvis_cm))}'
            f"{chest}{limbs[0][0]}{limbs[1][0]}</body>"
        )
        xml = f'<mujoco><option gravity="0 0 -{GRAVITY}"/><worldbody>{pelvis}</worldbody></mujoco>'
        self.model: Any = mujoco.MjModel.from_xml_string(xml)
        self.data: Any = mujoco.MjData(self.model)
        self.pose()

    def inertia(self, part: str, at: tuple[float, float]) -> str:
        name = part.split(".")[-1]
        mass = TINY if part in self.p.resting else self.p.body.mass[name] * self.heavier.get(name, 1.0)
        found = f'<inertial {flat(*at)} mass="{mass:.17g}" diaginertia="1e-6 1e-6 1e-6"/>'
        for carrier, where, share in self.p.loads:
            if carrier == part and part not in self.p.resting:
                local = self.local(part, where)
                found += (
                    f'<body {flat(local.real, local.imag)}><inertial pos="0 0 0" mass="{share:.17g}" '
                    'diaginertia="1e-6 1e-6 1e-6"/></body>'
                )
        return found

    def origin(self, part: str) -> complex:
        names = {"thigh": "hip", "shin": "knee", "foot": "ankle", "upper_arm": "shoulder", "forearm": "elbow"}
        names |= {"hand": "wrist", "chest": "lumbar", "pelvis": "hip", "head": "neck"}
        side, _, name = part.rpartition(".")
        return self.p.points[f"{side}.{names[name]}" if side else names[name]]

    def local(self, part: str, where: complex) -> complex:
        """A place in the picture as the part's own frame has it."""
        turn = turn_of(self.p, part)
        # turned by +turn about the axis: (x, z) -> (x cos + z sin, -x sin + z cos), a clockwise turn of the picture
        return (where - self.origin(part)) * complex(np.cos(turn), np.sin(turn))

    def part(self, name: str, at: tuple[float, float], centre: tuple[float, float], inner: str = "") -> str:
        return (
            f'<body name="{name}" {flat(*at)}><joint name="{name}" type="hinge" axis="0 1 0"/>'
            f"{self.inertia(name, centre)}{inner}</body>"
        )

    def pose(self) -> None:
        parents = {"head": "chest", "chest": "pelvis"}
        for side in SIDES:
            parents |= {f"{side}.thigh": "pelvis", f"{side}.shin": f"{side}.thigh", f"{side}.foot": f"{side}.shin"}
            parents |= {f"{side}.upper_arm": "chest", f"{side}.forearm": f"{side}.upper_arm"}
            parents |= {f"{side}.hand": f"{side}.forearm"}
        hip = self.p.points["hip"]
        self.data.joint("x").qpos[0] = hip.real
        self.data.joint("z").qpos[0] = hip.imag
        self.data.joint("pelvis").qpos[0] = turn_of(self.p, "pelvis")
        for name, parent in parents.items():
            self.data.joint(name).qpos[0] = turn_of(self.p, name) - turn_of(self.p, parent)
        mujoco.mj_forward(self.model, self.data)
        self.data.qvel[:] = 0
        self.data.qacc[:] = 0
        mujoco.mj_inverse(self.model, self.data)

    def column(self, part: str, where: complex, way: complex) -> NDArray[np.float64]:
        """The joint torques one newton along `way` at a place on a part makes."""
        jacobian = np.zeros((3, self.model.nv))
        mujoco.mj_jac(self.model, self.data, jacobian, None, [where.real, 0, where.imag], self.model.body(part).id)
        return np.array(jacobian.T @ [way.real, 0.0, way.imag], dtype=np.float64)

    def support(self, contact: Any, where: complex, way: complex) -> NDArray[np.float64]:
        name = PART_OF[contact.at]
        if name == "chest":
            return self.column(name, where, way)
        sides = SIDES if contact.limb == "both" else (contact.limb,)
        total = np.zeros(self.model.nv)
        for side in sides:
            total += self.column(f"{side}.{name}", where, way) / len(sides)
        return total

    def moments(self, friction: float) -> dict[str, float]:
        """Solve the supports from the three free equations of the root, then read the joints."""
        free = [self.model.joint(name).dofadr[0] for name in ("x", "z", "pelvis")]
        torque = np.array(self.data.qfrc_inverse, dtype=np.float64)
        contacts, at = self.p.contacts, [w for _, w, _ in forces_of(self.p, friction)]
        known = np.zeros_like(torque)
        columns = []
        if len(contacts) == 1:
            columns = [self.support(contacts[0], at[0], way) for way in (1, 1j)]
        elif len(contacts) == 2:
            a, b = contacts
            if a.on == "wall":
                columns = [self.support(a, at[0], 1), self.support(b, at[1], 1), self.support(b, at[1], 1j)]
            else:
                known = self.support(a, at[0], 1) * friction * GRAVITY
                columns = [self.support(a, at[0], 1j), self.support(b, at[1], 1), self.support(b, at[1], 1j)]
        if columns:
            matrix = np.array(columns).T
            force, *_ = np.linalg.lstsq(matrix[free], (torque - known)[free], rcond=None)
            torque = torque - known - matrix @ force
            assert np.abs(torque[free]).max() < 0.02  # held: hardly anything is left over at the root
        found = {}
        for side in SIDES:
            out = 1.0 if (side == "lead") == (self.p.movement.down == "lead") else -1.0
            hip = -out if self.p.movement.view == "front" else 1.0
            for joint, part, sign in (
                ("hip", "thigh", hip), ("knee", "shin", -1), ("ankle", "foot", 1), ("shoulder", "upper_arm", -1),
                ("elbow", "forearm", 1),
            ):  # fmt: skip
                found[f"{joint}.{side}"] = sign * float(torque[self.model.joint(f"{side}.{part}").dofadr[0]])
        found["lumbar"] = -float(torque[self.model.joint("chest").dofadr[0]])
        return found


def simulated(solved: Solved, **heavier: float) -> dict[str, float]:
    """Net moments from the simulator, at the same friction pair."""
    return Model(solved.posture, heavier).moments(solved.friction)


def largest_difference(solved: Solved, **heavier: float) -> float:
    """Largest difference of a joint, as a share of the largest moment of the pose."""
    ours, theirs = solved.moments, simulated(solved, **heavier)
    lying = not solved.posture.contacts  # what the ground gives a lying trunk is not known
    joints = [j for j in theirs if not (lying and j == "lumbar")]
    largest = max(abs(ours[joint]) for joint in joints)
    return max(abs(ours[joint] - theirs[joint]) for joint in joints) / largest


@pytest.mark.parametrize("table", ["men", "women"])
@pytest.mark.parametrize("name", sorted(POSES))
def test_agrees_with_the_simulator(name: str, table: Any) -> None:
    assert largest_difference(solve(movement(name), person=Person(table=table))) < 1e-3


@pytest.mark.parametrize(
    ("name", "place"),
    [("squat", "hands"), ("split_squat", "chest"), ("hinge_one", "opposite hand"), ("push_up_floor", "back"),
     ("bridge_one", "hips"), ("single_leg_stance", "opposite hand"), ("side_lying_abduction", "ankle")],
)  # fmt: skip
def test_agrees_with_a_load(name: str, place: Place) -> None:
    assert largest_difference(solve(movement(name), load_kg=20, place=place)) < 1e-3


def test_points_agree() -> None:
    for name in ("squat", "push_up_floor", "side_plank_leg"):
        solved = solve(movement(name))
        model = Model(solved.posture, {})
        for part in ("lead.shin", "rear.foot", "lead.hand", "head"):
            x, _, z = model.data.body(part).xpos
            assert complex(x, z) == pytest.approx(model.origin(part), abs=1e-9)


@pytest.mark.parametrize("name", ["squat", "split_squat", "hinge_one", "bridge_one", "push_up_floor"])
def test_the_check_can_fail(name: str) -> None:
    """A thigh 2 % heavier in one of the two programs is noticed."""
    solved = solve(movement(name))
    assert largest_difference(solved, thigh=1.02) > 1e-3
    assert largest_difference(solved, thigh=1.0) < 1e-6


def test_a_wrong_posture_is_noticed() -> None:
    solved = solve(movement("squat"))
    moved = {k: (v + 0.01 if k == "lead.knee" else v) for k, v in solved.posture.points.items()}
    other = replace(solved.posture, points=moved)
    ours = moments_of(other, forces_of(other))
    assert abs(ours["knee.lead"] - simulated(solved)["knee.lead"]) > 0.01


def test_half_a_turn() -> None:
    """The turn of a raised arm is read right from its points."""
    solved = solve(movement("side_lying_abduction"))
    assert degrees(turn_of(solved.posture, "rear.upper_arm")) == pytest.approx(-90)
    assert abs(turn_of(solved.posture, "rear.forearm")) < pi
