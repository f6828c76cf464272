"""An invented week for tests, benches and for looking at pages. Nobody in it exists."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta

from ferrule.model.exercise import Ask, Family, Library, Variant
from ferrule.model.finding import Finding
from ferrule.model.fitted import (
    Away,
    FittedBlock,
    FittedItem,
    FittedSession,
    FittedWeek,
    Held,
    Impossible,
    LineSpread,
    LoadChoice,
    Outcome,
    Prediction,
    Reason,
    Recourse,
    SquadWeek,
    WayOut,
)
from ferrule.model.house import House
from ferrule.model.pose import Movement
from ferrule.model.quantity import Range, Tempo
from ferrule.model.words import Group, Pattern, Place

MONDAY = date(2026, 1, 19)
HOUSE = House(coach="The coach", contact="coach@example.org")


def _variant(
    key: str,
    name: str,
    family: str,
    rank: int,
    pattern: Pattern,
    group: Group | None,
    base: float = 1.0,
    *,
    loading: tuple[Place, ...] = (),
    cues: tuple[str, ...],
    movement: Movement | None = None,
) -> Variant:
    ask = () if group is None else (Ask(group, base, dict.fromkeys(loading, 0.9), "ratio", main=True),)
    return Variant(
        id=key,
        name=name,
        family=family,
        rank=rank,
        pattern=pattern,
        dose_kind="hold" if "front-plank" in key else "reps",
        one_leg="step" in key,
        sided="step" in key,
        kit=("step",) if "step" in key else (),
        loading=loading,
        cues=cues,
        faults=(),
        setup="",
        asks=ask,
        regions=(),
        spoken=name.lower(),
        movement=movement,
        balance_help="one hand on a wall" if "step" in key else "",
    )


def library(movement: Movement | None = None) -> Library:
    """A few variants; every one is drawn by `movement` when given."""
    step = ("Push through the whole foot.", "Knee over the toes, hip level.", "Come down slowly, no drop.")
    heel = ("Rise as high as you can.", "Keep the knee bent all the way.", "Weight over the big toe.")
    press = ("One straight line from head to heels.", "Elbows back, not out.", "Chest first, not chin.")
    plank = ("Ribs down, buttocks tight.", "Breathe.")
    rock = ("Heel stays down.", "Knee travels over the second toe.")
    hinge = ("Hips go back, back stays long.", "Soft knee, hips square.", "Stop where the back would round.")
    made = [
        _variant("step-up-low", "Low step-up", "step", 0, "step", "knee and hip", 0.72, loading=("chest",), cues=step),
        _variant("step-up", "Step-up", "step", 1, "step", "knee and hip", 1.0, loading=("chest", "hands"), cues=step),
        _variant(
            "step-up-high", "High step-up", "step", 2, "step", "knee and hip", 1.24, loading=("chest",), cues=step
        ),
        _variant("heel-raise-bent-one-leg", "Heel raise, knee bent", "heel", 0, "heel raise", "calf bent", cues=heel),
        _variant(
            "heel-raise-bent-two-legs",
            "Heel raise, two legs, knee bent",
            "heel",
            1,
            "heel raise",
            "calf bent",
            cues=heel,
        ),
        _variant("press-up-hands-raised", "Press-up, hands raised", "press", 0, "push", "push", 0.64, cues=press),
        _variant("press-up", "Press-up", "press", 1, "push", "push", cues=press),
        _variant("front-plank", "Plank", "plank", 0, "trunk front", "trunk front", cues=plank),
        _variant("dead-bug", "Dead bug", "bug", 0, "trunk front", None, cues=plank),
        _variant("ankle-rock", "Ankle rock", "rock", 0, "mobility", None, cues=rock),
        _variant("lunge-lateral", "Lateral lunge", "lunge", 0, "lunge", None, loading=("chest",), cues=step),
        _variant(
            "hinge-one-leg", "Hinge, one leg", "hinge", 0, "hinge", "hinge", loading=("opposite hand",), cues=hinge
        ),
    ]
    made = [replace(v, movement=movement) for v in made]
    families: dict[str, Family] = {}
    for v in made:
        old = families.get(v.family, Family(v.family, v.family, ()))
        families[v.family] = replace(old, variant_ids=(*old.variant_ids, v.id))
    return Library(
        variants={v.id: v for v in made},
        families=families,
        anchors={"knee and hip": "step-up", "calf bent": "heel-raise-bent-one-leg", "push": "press-up"},
        names={v.name.lower(): v.id for v in made},
    )


def item(
    key: str, variant_id: str, name: str, *, sets: int = 1, reps: Range | None = None, written: str = ""
) -> FittedItem:
    """A line with nothing said but its count; `replace` the rest."""
    return FittedItem(
        item_key=key,
        written=written or name,
        variant_id=variant_id,
        name=name,
        sets=sets,
        reps=reps,
        hold_s=None,
        distance_m=None,
        contacts=None,
        per_side=False,
        alternating=False,
        rir=None,
        load=None,
        tempo=None,
        pause_s=None,
        rest_s=None,
        side_rest_s=None,
        notes=(),
        optional=False,
    )


TWELVE = LoadChoice(12, "chest", ("12 kg dumbbell",))


def step_up() -> FittedItem:
    """Effort rules inside a range; loaded, with tempo, both ways out and a departure."""
    return replace(
        item("A1", "step-up", "Step-up", sets=4, reps=Range(5, 7)),
        per_side=True,
        rir=Range(2, 2),
        load=TWELVE,
        tempo=Tempo(2, 0, 1),
        notes=("Push through the whole foot; no bounce off the floor.",),
        reasons=(Reason("load chosen", "12 kg is the nearest of their loads to two reps in reserve"),),
        prediction=Prediction(0.76, 0.66, 0.87, 2.1, 1.4, 0.93, Range(2, 2), "right"),
        too_hard=Recourse("step-up-low", "Low step-up", TWELVE, "low step-up, 12 kg at the chest"),
        too_easy=Recourse("step-up-high", "High step-up", TWELVE, "high step-up, 12 kg at the chest"),
        ask_effort=True,
    )


def heel_raise() -> FittedItem:
    """The written number rules; a pause in every rep."""
    return replace(
        item("A2", "heel-raise-bent-one-leg", "Heel raise, knee bent", sets=4, reps=Range.of(12)),
        per_side=True,
        pause_s=2,
    )


def press_up() -> FittedItem:
    """A departure: hands raised instead of on the floor."""
    return replace(
        item("C", "press-up-hands-raised", "Press-up, hands raised", sets=3, reps=Range.of(12), written="Press-up"),
        reasons=(
            Reason("too hard", "Press-up for 10 leaves 3 less in reserve than you meant; this is the first that fits"),
        ),
        prediction=Prediction(0.58, 0.47, 0.7, 3.2, 2.4, 0.95, Range.of(3), "right"),
        too_easy=Recourse("press-up", "Press-up", None, "press-up on the floor, 8"),
        ask_effort=True,
    )


def _warm_up() -> FittedBlock:
    return FittedBlock(
        "warm-up",
        "",
        1,
        None,
        None,
        (
            replace(item("W1", "ankle-rock", "Ankle rock", reps=Range.of(8)), per_side=True),
            replace(item("W2", "dead-bug", "Dead bug", reps=Range.of(6)), per_side=True, alternating=True),
            replace(item("W3", "lunge-lateral", "Lateral lunge", reps=Range.of(5)), per_side=True),
            replace(item("W4", "front-plank", "Plank"), hold_s=Range.of(30)),
        ),
    )


def first_session() -> FittedSession:
    """Warm-up, a pair, a straight block; a part that may go."""
    hinge = replace(
        item("B", "hinge-one-leg", "Hinge, one leg", sets=3, reps=Range.of(8), written="any hinge, one leg"),
        per_side=True,
        rir=Range(2, 2),
        load=LoadChoice(12, "opposite hand", ("12 kg dumbbell",)),
        side_rest_s=20,
        rest_s=Range.of(120),
        reasons=(Reason("open slot", "first hinge that fits the kit"),),
    )
    return FittedSession(
        uid="r07-w2-s1@example.org",
        key="1",
        name="calf and hip",
        day=MONDAY,
        start=time(18, 30),
        minutes=34.4,
        blocks=(
            _warm_up(),
            FittedBlock("pair", "A", 4, Range(75, 90), Range.of(15), (step_up(), heel_raise())),
            FittedBlock("straight", "", 3, Range.of(120), None, (hinge, replace(press_up(), optional=True))),
        ),
        fetch=("12 kg dumbbell", "30 cm step", "mat"),
        leave_out=("C",),
        hours_to_key=24,
        notes=("Leave at least six hours to a run on the same day.",),
    )


def second_session() -> FittedSession:
    """Shorter, on a day without a time."""
    plank = replace(
        item("B1", "front-plank", "Plank", sets=3),
        hold_s=Range(30, 40),
        rir=Range.of(1),
        too_easy=Recourse("front-plank", "Plank", None, "lift one foot, then the other"),
    )
    return FittedSession(
        uid="r07-w2-s2@example.org",
        key="2",
        name="steps and trunk",
        day=MONDAY + timedelta(days=3),
        start=None,
        minutes=28,
        blocks=(
            _warm_up(),
            FittedBlock("straight", "", 3, Range.of(120), None, (replace(step_up(), item_key="A", sets=3),)),
            FittedBlock(
                "circuit", "B", 3, Range.of(60), Range.of(0), (plank, replace(heel_raise(), item_key="B2", sets=3))
            ),
        ),
        fetch=("12 kg dumbbell", "30 cm step", "mat"),
        leave_out=("B2", "B1"),
        hours_to_key=62,
        reasons=(Reason("days", "moved from Wednesday: intervals the next morning"),),
    )


def week(runner_id: str = "R07", runner_name: str = "Runner 07") -> FittedWeek:
    """One runner's week of two sessions."""
    return FittedWeek(
        runner_id=runner_id,
        runner_name=runner_name,
        programme="Fell-ready, first block",
        programme_week=2,
        cycle_name="Foundations",
        monday=MONDAY,
        sessions=(first_session(), second_session()),
        prices=(),
        finding_week=True,
        cautions=("Left calf: nothing above the two-leg heel raise until 12 March.",),
        aim="Own the single-leg positions before loading them.",
    )


HOSTILE = "<b>Zoë</b> #eval(1) @ref \\n $x$ `code` *s* _u_ \"q\" 'a' & ]]> {{ 7*7 }} ; , : \u202egnirts\u202c 🏃 日本 \x07 مرحبا"
"""A text that would break out of HTML, typst, a calendar or a terminal if it were not escaped."""


def hostile_week() -> FittedWeek:
    """The week with HOSTILE in every free text."""
    base = week(runner_name=HOSTILE)
    session = base.sessions[0]
    bad = replace(
        step_up(),
        name=HOSTILE,
        written=HOSTILE,
        notes=(HOSTILE,),
        extra=(HOSTILE,),
        load=LoadChoice(12, "chest", (HOSTILE,)),
        too_hard=Recourse("step-up-low", HOSTILE, None, HOSTILE),
        too_easy=Recourse("step-up-high", HOSTILE, None, HOSTILE),
        reasons=(Reason("too hard", HOSTILE),),
    )
    block = FittedBlock("pair", HOSTILE, 4, Range(75, 90), None, (bad, heel_raise()), (HOSTILE,))
    session = replace(
        session, name=HOSTILE, blocks=(block,), fetch=(HOSTILE,), notes=(HOSTILE,), reasons=(Reason("days", HOSTILE),)
    )
    return replace(base, sessions=(session,), programme=HOSTILE, cycle_name=HOSTILE, cautions=(HOSTILE,), aim=HOSTILE)


def squad_week(runners: int = 12) -> SquadWeek:
    """A squad: fitted weeks, one impossible, one held, one away, and the read-back of three lines."""
    ids = [f"R{n:02d}" for n in range(1, runners + 1)]
    fitted = tuple(week(i, f"Runner {i[1:]}") for i in ids[3:])
    why = Finding(
        "no-day",
        "error",
        "No day is left for session 2.",
        "Tuesday and Thursday are key runs; Saturday is within 48 h of the race.",
        "Allow Friday, or move the race.",
    )
    outcomes: tuple[Outcome, ...] = (
        Impossible(
            ids[0],
            "Runner 01",
            (why,),
            (WayOut("Allow Friday for strength", True), WayOut("Leave out session 2", True)),
        ),
        Held(ids[1], "Runner 02", "answered yes to a health question; the coach writes first"),
        Away(ids[2], "Runner 03", "begins on Monday 2 February"),
        *fitted,
    )
    rest = tuple(ids[3:])
    third = len(rest) // 3
    return SquadWeek(
        programme="Fell-ready, first block",
        monday=MONDAY,
        outcomes=outcomes,
        spread=(
            LineSpread("1", "A1", "Step-up: 5-7/side, 2 RIR", rest[:1], rest[1:-2], rest[-2:-1], rest[-1:], ()),
            LineSpread(
                "1",
                "C",
                "Press-up: 10, 3 RIR",
                (),
                rest[:third],
                rest[third:],
                (),
                tuple(
                    (r, "Press-up, hands raised", "too hard: 3 reps less in reserve than meant") for r in rest[third:]
                ),
            ),
            LineSpread("2", "B1", "Plank: 30-40 s", rest[:third], rest[third:], (), (), ()),
        ),
        departures=len(rest) * 2,
        change_budget=60,
        findings=(),
    )
