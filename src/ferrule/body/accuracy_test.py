"""Computed against published, and the table of docs/body.md that says so."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from ferrule.body.demand import held_demand
from ferrule.body.demand_test import squat
from ferrule.body.golden_test import movement
from ferrule.body.segments import GRAVITY, Person, Table
from ferrule.body.statics import solve
from ferrule.model.pose import Contact, Movement, Pose

DOC = Path(__file__).parents[3] / "docs" / "body.md"


def demand(name: str, table: Table = "men") -> float:
    found = solve(movement(name), person=Person(table=table)).demand
    assert found is not None
    return found


def percent(name: str) -> float:
    return 100 * demand(name)


@dataclass(frozen=True, slots=True)
class Published:
    """A measured value: several studies are averaged. `seen` says whether the source itself was read."""

    what: str
    pose: str
    values: tuple[float, ...]
    unit: str
    source: str
    seen: str
    computed: Callable[[str], float] = percent
    note: str = ""

    @property
    def mean(self) -> float:
        return sum(self.values) / len(self.values)

    @property
    def error(self) -> float:
        return self.computed(self.pose) / self.mean - 1


MEN = "Mier 2014, Suprak 2011 (secondary source), Gouvali & Boudolos 2005"
SHARES = (
    Published("press-up, floor, top: hands, men", "push_up_floor_top", (67.0, 69.16, 66.4), "% weight", MEN, "seen"),
    Published("press-up, floor, top: hands, women", "push_up_floor_top", (65.1,), "% weight", "Mier 2014", "seen"),
    Published("press-up, floor, bottom: hands, men", "push_up_floor", (74.6, 75.04), "% weight",
              "Mier 2014, Suprak 2011 (secondary source)", "seen"),
    Published("press-up, floor, bottom: hands, women", "push_up_floor", (70.3,), "% weight", "Mier 2014", "seen",
              note="their bottom was shallower"),
    Published("press-up, knees, top: hands, men", "push_up_knees_top", (52.5, 53.56, 52.9), "% weight", MEN, "seen"),
    Published("press-up, knees, top: hands, women", "push_up_knees_top", (51.5,), "% weight", "Mier 2014", "seen"),
    Published("press-up, knees, bottom: hands, men", "push_up_knees", (60.1, 61.8), "% weight",
              "Mier 2014, Suprak 2011 (secondary source)", "seen"),
    Published("press-up, knees, bottom: hands, women", "push_up_knees", (56.6,), "% weight", "Mier 2014", "seen"),
)  # fmt: skip
RAISED = tuple(
    Published(
        f"press-up, {what}: hands", pose, (value,), "% weight", "Ebben 2011", "from memory", note="peak of the rep"
    )
    for what, pose, value in (
        ("hands 30 cm up", "push_up_hands_30", 55.0),
        ("hands 61 cm up", "push_up_hands_61", 41.0),
        ("feet 30 cm up", "push_up_feet_30", 70.0),
        ("feet 61 cm up", "push_up_feet_61", 74.0),
    )
)
CHAIR = Published(
    "squat, thigh level: hip + knee, one leg", "squat", (1.53,), "N·m/kg", "Yoshioka 2007 (rise from a chair)", "seen",
    demand, "how tall they were is not known here; the moment rises with height",
)  # fmt: skip
ADDUCTOR = tuple(
    Published(f"adductor plank, {at}: hip", pose, (value,), "N·m/kg", "3D loading in the adductor plank (abstract)",
              "seen", demand, "ordered only")
    for at, pose, value in (("knee", "adductor_plank_knee", 0.93), ("ankle", "adductor_plank_ankle", 1.54))
)  # fmt: skip
LEVER_M = 0.05
"""Between the ankle and the tendon behind it, as the measured study takes it."""
SEATED = Movement(
    Pose(trunk=0, legs={"thigh": "~88", "shin": 5}), (Contact("seat", on="chair", height_m=0.45), Contact("ball")),
    "ankle.lead",
)  # fmt: skip


def tendon(name: str) -> float:
    """Pull of the tendon behind the ankle, in body weights."""
    found = solve(SEATED).demand if name == "seated" else demand(name)
    assert found is not None
    return found / LEVER_M / GRAVITY


TENDON = tuple(
    Published(
        f"heel rise, {what}: tendon", pose, (value,), "body weights", "Baxter 2021", seen, tendon, "peak of the rep"
    )
    for what, pose, value, seen in (
        ("seated", "seated", 0.5, "seen"),
        ("two legs", "heel_rise_two", 1.6, "from memory"),
        ("one leg", "heel_rise_one", 3.0, "from memory"),
    )
)


def free_share(name: str) -> float:
    """Share of the front foot, %, when it is not imposed: trunk 20 and shin 20 degrees forward."""
    base = movement(name)
    hold = replace(base.hold, trunk=20, lead={**base.hold.lead, "shin": 20})
    contacts = tuple(replace(c, share=None) for c in base.contacts)
    return 100 * solve(replace(base, hold=hold, contacts=contacts, other=None)).shares["foot.lead"]


FRONT = (
    Published("split squat: front foot, were it computed", "split_squat", (75.0,), "% weight", "McCurdy 2017, review",
              "seen", free_share, "so the measured share is imposed"),
    Published("split squat, rear foot raised: front foot, were it computed", "split_squat_rear_raised", (84.36,),
              "% weight", "Helme 2020", "seen", free_share, "heavy sets; so the measured share is imposed"),
)  # fmt: skip


def added(name: str) -> float:
    """What 20 % of the body mass at the hips adds."""
    loaded = solve(movement(name), load_kg=14.0, place="hips").demand
    assert loaded is not None
    return loaded - demand(name)


ADDED = Published(
    "adductor plank, ankle, 20 % of the body mass more: hip", "adductor_plank_ankle", (0.8,), "N·m/kg",
    "O'Connor 2025 (abstract)", "seen", added, "where the weight lay is not known here; their unloaded value is twice ours",
)  # fmt: skip
ROWS = (*SHARES, *RAISED, CHAIR, *FRONT, *TENDON, *ADDUCTOR, ADDED)
FAILS = 0.15
"""From this difference on the table says that the model fails."""


def ratio_of_heel_rises() -> float:
    return demand("heel_rise_one") / demand("heel_rise_two")


def accuracy_table() -> str:
    lines = ["| what | computed | published | difference | | source |", "|---|---|---|---|---|---|"]
    for row in ROWS:
        digits = 1 if row.unit.startswith("%") else 2
        source = f"{row.source}; {row.seen}" + (f"; {row.note}" if row.note else "")
        lines.append(
            f"| {row.what} | {row.computed(row.pose):.{digits}f} {row.unit} | {row.mean:.{digits}f} | "
            f"{100 * row.error:+.0f} % | {'**fails**' if abs(row.error) > FAILS else ''} | {source} |"
        )
    ratio = ratio_of_heel_rises()
    lines.append(
        f"| heel rise, one leg : two legs | {ratio:.2f} | {3.0 / 1.6:.2f} | {100 * (ratio / (3.0 / 1.6) - 1):+.0f} % | | "
        "Baxter 2021 (3.0 and 1.6 body weights in the tendon); from memory; peaks of the rep |"
    )
    return "\n".join(lines)


def section(name: str, written: str, *, update: bool) -> None:
    """The part of docs/body.md between its two marks must be what was worked out; `make golden` rewrites it."""
    start, end = f"<!-- {name}: written by a test -->\n\n", f"\n\n<!-- end of {name} -->"
    text = DOC.read_text(encoding="utf-8")
    before, found, rest = text.partition(start)
    assert found, f"docs/body.md has no section {name}"
    old, found, after = rest.partition(end)
    assert found, f"the section {name} of docs/body.md has no end"
    if update:
        DOC.write_text(before + start + written + end + after, encoding="utf-8")
    else:
        assert old == written, f"the section {name} of docs/body.md is stale: run `make golden` and read the difference"


def test_the_table_in_the_docs_is_what_is_computed(request: pytest.FixtureRequest) -> None:
    section("accuracy", accuracy_table(), update=bool(request.config.getoption("--golden-update")))


@pytest.mark.parametrize("row", SHARES, ids=lambda r: r.what)
def test_press_up_shares_agree_with_measured_ones(row: Published) -> None:
    """Within 6 %, to the whole per cent (the floor's bottom, men, is off by 6.0)."""
    assert round(100 * abs(row.error)) <= 6


def test_where_it_fails() -> None:
    """Kept as it is: these sizes are not used, the families are ordered or dosed by a ratio (0002)."""
    failing = {row.what for row in ROWS if abs(row.error) > FAILS}
    assert failing == {*(row.what for row in TENDON), ADDUCTOR[0].what, ADDED.what}
    assert ADDED.error < -0.3


def test_a_share_left_to_balance_is_too_even() -> None:
    """Why the front foot's share is imposed: balance puts 5 to 12 % less on it than was measured."""
    assert all(-0.15 < row.error < -0.04 for row in FRONT)
    for name, row in (("split_squat", FRONT[0]), ("split_squat_rear_raised", FRONT[1])):
        assert 100 * solve(movement(name)).shares["foot.lead"] == pytest.approx(row.mean, abs=0.5)


def test_the_mean_error_of_the_press_ups() -> None:
    errors = [row.error for row in SHARES]
    assert abs(sum(errors) / len(errors)) < 0.02
    assert sum(map(abs, errors)) / len(errors) < 0.04


def test_squat_sum_agrees_with_the_rise_from_a_chair() -> None:
    """Yoshioka 2007: 1.53 N·m/kg a leg. The men's table alone is 6 % off, the mean of both tables 4 %."""
    both = (demand("squat", "men") + demand("squat", "women")) / 2
    assert both == pytest.approx(1.53, rel=0.05)
    assert round(100 * abs(CHAIR.error)) <= 6


def test_the_hardest_place_of_the_rise_is_the_level_thigh() -> None:
    """Yoshioka 2014: the peak of hip + knee is where the thigh is level, for seats from 10 to 40 cm."""
    found = {thigh: held_demand(squat(thigh)) for thigh in (50, 70, 90, 110)}
    assert max(found, key=lambda thigh: found[thigh]) == 90


def test_orders_that_were_measured() -> None:
    """Ebben 2011 (abstract): feet raised > floor > hands raised and knees. Adductor plank: knee < shin < ankle."""
    order: Sequence[str] = (
        "push_up_feet_61", "push_up_feet_30", "push_up_floor_top", "push_up_knees_top", "push_up_hands_61",
    )  # fmt: skip
    values = [demand(name) for name in order]
    assert values == sorted(values, reverse=True)
    assert demand("push_up_floor_top") > demand("push_up_hands_30")
    planks = [demand(f"adductor_plank_{at}") for at in ("knee", "shin", "ankle")]
    assert planks == sorted(planks)
    # Sarabon 2019: more hip bend, more knee moment in the lowering.
    assert demand("nordic_45_hips_bent") > demand("nordic_45")


def test_orders_of_heel_rises_and_hinges() -> None:
    """Revak 2017 (abstract): seated < two legs < one leg in the tendon. Schellenberg 2013 (abstract), a quarter of the
    body weight on the bar: the hip asks more in the good morning than in the deadlift, the lower back about the same.
    """
    rises = [tendon(name) for name in ("seated", "heel_rise_two", "heel_rise_one")]
    assert rises == sorted(rises)
    back = solve(movement("hinge_two"), load_kg=17.5, place="back").moments
    hands = solve(movement("deadlift_hands"), load_kg=17.5, place="hands").moments
    assert back["hip.lead"] > 1.05 * hands["hip.lead"]
    assert back["lumbar"] == pytest.approx(hands["lumbar"], rel=0.06)


def test_an_order_the_model_gets_wrong() -> None:
    """Song 2023: a longer split squat asks more of the front hip. The model says less: no dose may use the hip alone."""
    short, long = solve(movement("split_squat")), solve(movement("split_squat_long"))
    assert long.moments["hip.lead"] < short.moments["hip.lead"]


def test_a_difference_the_model_cannot_see() -> None:
    """Free leg behind or in front (16 women, 2016): less hip, more knee behind. The model gives the same values."""
    back, front = solve(movement("single_leg_squat_leg_back")), solve(movement("single_leg_squat_leg_front"))
    for joint in ("hip.lead", "knee.lead"):
        assert back.moments[joint] == pytest.approx(front.moments[joint], abs=1e-6)
