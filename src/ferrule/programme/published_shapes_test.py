"""What single published programmes say beyond weeks, sessions, blocks and exercises: one test for each shape of its own.

The facts are those of published_test.py, which compares the rest field by field.
"""

from __future__ import annotations

from ferrule.model.programme import Named
from ferrule.model.quantity import Range
from ferrule.programme.occurrences import occurrences
from ferrule.programme.published_test import (
    EXAMPLES,
    FACTS,
    blocks_of,
    name_of,
    programme,
    range_of,
    said,
    same_amount,
    same_line,
    same_load,
    same_session,
    week,
)
from ferrule.programme.text import name_text


def test_progress_counted_in_sessions() -> None:
    name = "bmjosem-2024-rpe-rir"
    facts = FACTS[name]
    assert (
        sum(int(s.times_a_week.low) for w in range(1, 7) for s in week(name, w).sessions if s.times_a_week)
        == facts["sessions_total"]
    )
    for cycle, part in zip(programme(name).cycles, facts["sessions_by_number"], strict=True):
        assert cycle.sessions_span == tuple(part["sessions"])
        (session,) = cycle.sessions
        warm, main, cool = session.blocks
        assert (warm.minutes, main.minutes, cool.minutes) == (10, part["main_min"], 5)
        assert (session.minutes or 0) == part["warm_up_min"] + part["main_min"] + part["cool_down_min"]
        assert (main.exercises, main.sets) == (Range.of(part["exercises"]), range_of(part["sets"]))
        for item in main.items:
            assert item.dose.reps == range_of(part["reps"])
            assert item.dose.rir == range_of(part["load"]["same_as"]["value"])
            rpe = item.dose.rpe or Range(10 - item.dose.rir.high, 10 - item.dose.rir.low)
            assert rpe == range_of(part["load"]["value"])


def test_one_of_three_sessions_stations_by_the_clock_and_exercises_by_block() -> None:
    name = "heiskanen-2021-timed-circuits"
    steady, choice, resistance = FACTS[name]["weeks"][0]["sessions"]
    read = {s.key: s for s in programme(name).cycles[0].sessions}
    assert [read[k].times_a_week for k in "123"] == [
        Range.of(s["count_per_week"]) for s in (steady, choice, resistance)
    ]
    assert read["2"].choose == ("2A", "2B", "2C")
    circuit, mixed, hard = choice["choose_one"]
    (block,) = read["2A"].blocks
    assert (block.sets, block.on_s, block.off_s, block.rest_s) == tuple(
        Range.of(circuit[k]) for k in ("rounds", "work_s", "off_s", "rest_between_rounds_s")
    )
    assert block.on_s is not None
    assert block.off_s is not None
    assert block.on_s.low + block.off_s.low == circuit["station_s"]
    assert [said(i) for i in block.items] == [x.lower() for x in circuit["exercises"]]
    assert all(i.dose.reps_open == "max" for i in block.items)
    assert all(b.intensity is not None and b.intensity.at_least and str(b.intensity) for b in read["2B"].blocks)
    assert [b.minutes for b in read["2B"].blocks] == [p["minutes"] for p in mixed["parts"]]
    for block, part in zip(read["2B"].blocks, mixed["parts"], strict=True):
        for item, exercise in zip(block.items, part["alternate"], strict=True):
            assert said(item) == exercise["name"].lower()
            same_amount(exercise, item.dose, name)
    (block,) = read["2C"].blocks
    assert (block.sets, block.items[0].dose.unfitted) == (range_of(hard["rounds"]), ("walk back",))
    assert block.intensity is not None
    assert block.intensity.percent == Range.of(90)
    dose = resistance["all_exercises"]
    for part in resistance["by_block"]:
        for number in part["weeks"]:
            ((_, block),) = [(s, b) for s, b in blocks_of(name, number) if s.key == "3"]
            assert [said(i) for i in block.items] == [name_of({"name": n}).lower() for n in part["exercises"]]
            for item in block.items:
                same_line({"kind": "straight"}, {"name": said(item), **dose}, block, item, name)


def test_short_rests_inside_a_set() -> None:
    arms = FACTS["moro-2020-rest-pause"]["arms"]
    ((_, block),) = blocks_of("moro-2020-rest-pause", 1)
    facts, dose = arms["rest_pause"]["blocks"][0], block.items[0].dose
    inside = facts["within_set"]
    assert (block.sets, block.rest_s) == (Range.of(facts["sets"]), Range.of(facts["rest_s"]))
    assert (dose.reps, dose.rm) == (Range.of(inside[0]["reps"]), Range.of(inside[0]["load"]["value"]))
    assert dose.rest_pause_s == Range.of(inside[1]["rest_s"])
    assert dose.rest_pause_times == sum(x.get("reps") == "failure" for x in inside)
    ((_, block),) = blocks_of("moro-2020-traditional", 1)
    facts = arms["traditional"]["blocks"][0]
    read = (block.sets, block.rest_s, block.items[0].dose.reps)
    assert read == tuple(Range.of(facts[k]) for k in ("sets", "rest_s", "reps"))


def test_flywheel_and_barbell_arms_of_the_variant() -> None:
    variant = FACTS["festa-2019-flywheel"]["variants"][0]
    for name, facts in zip(("festa-2022-flywheel-squat", "festa-2022-barbell"), variant["sessions"], strict=True):
        ((session, block),) = blocks_of(name, variant["duration_weeks"])
        (exercise,), (item,) = facts["exercises"], block.items
        assert session.times_a_week == Range.of(variant["sessions_per_week"])
        assert (name_text(item.exercise), item.dose.sets, item.dose.reps) == (
            exercise["name"], Range.of(exercise["sets"]), Range.of(exercise["reps"]),
        )  # fmt: skip
        if exercise["load"]["type"] == "inertia":
            assert item.dose.inertia_kg_m2 == Range.of(exercise["load"]["value"])
            assert (session.beside_run, session.part_of_day) == ("after", "afternoon")
        else:
            same_load(exercise["load"], item.dose, name)


def test_sets_rise_while_the_repetition_maximum_falls() -> None:
    (variant,) = FACTS["riel-2019-plantar-amrap"]["variants"]
    for entry in variant["weeks"]:
        first, last = entry["weeks"]
        for number in range(first, last + 1):
            ((session, block),) = blocks_of("riel-2015-variant", number)
            dose = block.items[0].dose
            assert (session.every_days, block.sets) == (2, Range.of(entry["sets"]))
            assert (dose.reps, dose.rm) == (Range.of(entry["reps"]), Range.of(entry["load"]["value"]))


def test_the_second_track_of_runs() -> None:
    track = FACTS["alfredson-1998-heel-drop"]["second_track"]
    sessions = {s.key: s for s in week("alfredson-1998-heel-drop", 4).sessions}
    first, then = track["steps"]
    block = sessions["2"].blocks[-1]
    dose = block.items[0].dose
    read = (block.sets, dose.reps, dose.distance_m)
    assert read == tuple(Range.of(first[k]) for k in ("sets", "reps", "distance_m"))
    assert (sessions["2"].times_a_week, sessions["2"].weeks) == (Range.of(2), (4, 6))
    for number, text in zip((5, 6), first["then_across_three_weeks"], strict=True):
        later = {s.key: s for s in week("alfredson-1998-heel-drop", number).sessions}
        block = later["2"].blocks[-1]
        assert f"{block.sets} x {block.items[0].dose.reps}" == text
    later = {s.key: s for s in week("alfredson-1998-heel-drop", 7).sessions}
    block = later["3"].blocks[-1]
    assert (block.sets, block.items[0].dose.reps) == (Range.of(then["sets"]), Range.of(then["reps"]))
    assert later["3"].every_days == 2
    kinds = {c.when: c for c in sessions["2"].conditions}
    assert kinds["pain at most"].number == Range.of(2)
    assert kinds["limit"].number == Range.of(20)


def test_both_levels_of_a_session() -> None:
    name = "toresdahl-2020-first-marathon"
    (facts,) = FACTS[name]["weeks"][0]["sessions"]
    written = {s.level: s for s in programme(name).cycles[0].sessions}
    for level, part in facts["levels"].items():
        session = written[level]
        same_session({**part, "session_length_min": facts["session_length_min"]}, session, f"{name}, week 1")


def test_a_step_of_the_load_when_five_are_possible() -> None:
    (step,) = FACTS["storen-2008-half-squat"]["progression"]
    assert (step["when"].split()[0], step["then"]) == ("five", "add 2.5 kg")
    (condition,) = [
        c for _, b in blocks_of("storen-2008-half-squat", 1) if b.kind == "straight" for i in b.items for c in i.conditions
    ]  # fmt: skip
    assert condition.text == "when 5 reps: add 2.5 kg"


def test_known_totals_of_the_sources() -> None:
    """Totals the papers state: 27 sessions, 180 repetitions a day, 75 repetitions each side, 15 sessions."""

    def sessions(name: str, last: int) -> int:
        weeks = [week(name, w) for w in range(1, last + 1)]
        return sum(not o.optional for w in weeks for o in occurrences(programme(name), w))

    assert sessions("nordic-10-week", 10) == 27
    assert sessions("spurrs-2003-plyometric", 6) == 15
    items = [i for s, b in blocks_of("alfredson-1998-heel-drop", 1) if s.key == "1" for i in b.items]
    assert sum(3 * int(i.dose.reps.low) * 2 for i in items if i.dose.reps) == 180
    assert [sum(i.dose.per_set) for _, b in blocks_of("nct05241197-bfr-calf", 1) for i in b.items] == [75, 75]


def test_lines_that_the_library_knows_are_found() -> None:
    known = [
        i.exercise for p in EXAMPLES for c in programme(p.stem).cycles for s in c.sessions for b in s.blocks for i in b.items
        if isinstance(i.exercise, Named) and i.exercise.variant_id
    ]  # fmt: skip
    assert len(known) > 60
