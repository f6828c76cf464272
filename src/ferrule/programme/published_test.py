"""The published programmes in examples/published say the same as the facts kept in golden/published, field by field.

The facts and where each was seen are described in golden/published/README.md; every example names its source.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from ferrule.library.reader import load_library
from ferrule.model.programme import Block, Dose, Item, Programme, ProgrammeWeek, Session
from ferrule.model.quantity import Range
from ferrule.programme.naming import fold
from ferrule.programme.occurrences import occurrences
from ferrule.programme.reader import read_programme
from ferrule.programme.text import name_text
from ferrule.programme.tidy import tidy
from ferrule.programme.weeks import week_of

ROOT = Path(__file__).parents[3]
EXAMPLES = sorted((ROOT / "examples" / "published").glob("*.md"))
FACTS = {p.stem: yaml.safe_load(p.read_text(encoding="utf-8")) for p in (ROOT / "golden" / "published").glob("*.yaml")}
LIBRARY, _ = load_library()

RENAMED = {
    "Romanian deadlift": "Stiff-leg deadlift", "Bulgarian split squat": "Rear-foot-elevated split squat",
    "Copenhagen adduction (partner)": "Adductor plank with a partner", "Nordic hamstring lower": "Kneeling body lower",
    "Single-leg heel raise with a rolled towel under the toes": "Single-leg heel raise, toes up on a towel",
    "each exercise": "Each exercise", "Cable row (name cut off)": "Cable row",
}  # fmt: skip
"""Trade names of the facts that are a person's, a place's or longer than a line needs."""
OTHERS = {  # examples that are an arm, a plan or a variant of a source of another name
    "eriksen-2016-heavy": "eriksen-2016-retirement-age", "eriksen-2016-moderate": "eriksen-2016-retirement-age",
    "festa-2022-flywheel-squat": "festa-2019-flywheel", "festa-2022-barbell": "festa-2019-flywheel",
    "ishoi-2016-adductor": "ishoi-2016-copenhagen", "moro-2020-traditional": "moro-2020-rest-pause",
    "li-2019-heavy": "li-2019-complex", "li-2019-control": "li-2019-complex",
    "nhs-older-adults-steady": "nhs-older-adults-home", "nhs-older-adults-strength": "nhs-older-adults-home",
    "riel-2015-variant": "riel-2019-plantar-amrap",
}  # fmt: skip
OWN_SHAPE = ("bmjosem-2024-rpe-rir", "heiskanen-2021-timed-circuits", "moro-2020-rest-pause", "moro-2020-traditional",
             "festa-2022-flywheel-squat", "festa-2022-barbell", "riel-2015-variant")  # fmt: skip
"""Facts that are not kept as weeks, sessions, blocks and exercises; each has a test of its own in published_shapes_test.py."""


@cache
def programme(name: str) -> Programme:
    text = (ROOT / "examples" / "published" / f"{name}.md").read_text(encoding="utf-8")
    return read_programme(text, f"{name}.md", LIBRARY)[0]


def week(name: str, number: int) -> ProgrammeWeek:
    found = week_of(programme(name), number)
    assert found is not None, (name, number)
    return found


def test_every_source_has_its_example() -> None:
    assert {OTHERS.get(p.stem, p.stem) for p in EXAMPLES} == set(FACTS)
    assert len(FACTS) == 29


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_an_example_is_canonical_reads_without_a_fault_and_names_its_source(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    read, findings = read_programme(text, path.name, LIBRARY)
    told = {f.code for f in findings if f.level != "note"}
    assert told <= (
        {"exercise-unknown", "effort-differs"} if path.stem == "bmjosem-2024-rpe-rir" else {"exercise-unknown"}
    )
    assert tidy(text, path.name, LIBRARY)[0] == text
    front = {e.key: e.value for e in read.front}
    source = FACTS[OTHERS.get(path.stem, path.stem)]["source"]
    if path.stem not in ("festa-2022-flywheel-squat", "festa-2022-barbell", "riel-2015-variant"):
        assert str(source["year"]) in front["source"]
        assert source["authors"].split()[0] in front["source"]
        assert front.get("doi", "") == (source["doi"] or "")
    assert {"seen", "from memory", "from restatements"} & set(front)


# -- facts as weeks of sessions


def sessions_by_weeks(name: str) -> list[tuple[tuple[int, int], list[dict[str, Any]], Any]]:
    """((first week, last week), sessions with every override applied, sessions a week) of one example."""
    facts = FACTS[OTHERS.get(name, name)]
    stated = facts.get("sessions_per_week")
    if name.startswith("eriksen"):
        return _eriksen(facts["arms"][name.rsplit("-", 1)[1]], stated)
    if name.startswith("nhs"):
        plan = facts["plans"]["A_steady" if name.endswith("steady") else "B_strength"]
        return [((1, 3), [{"blocks": plan["blocks"]}], plan["sessions_per_week"])]
    arm = name.rsplit("-", 1)[1]
    entries = facts["arms"][arm]["weeks"] if "arms" in facts else facts["weeks"]
    if "after" in facts:
        entries = [*entries, {**facts["after"], "weeks": [facts["duration_weeks"] + 1] * 2}]
    found = []
    base: list[dict[str, Any]] = []
    for entry in entries:
        if any("blocks" in s or "levels" in s for s in entry.get("sessions", ())):
            base = [_own(s, entry["sessions"]) for s in entry["sessions"]]
        now = copy.deepcopy(base)
        for session in now:
            change = entry.get("override") or entry.get("all_exercises_override") or {}
            change = change or entry.get("sessions_override", {}).get(session.get("name"), {})
            for block in session["blocks"]:
                for exercise in block["exercises"]:
                    exercise |= change
                if "rest_s" in change:
                    block["rest_s"] = change["rest_s"]
        hint = re.match(r"\d-\d days a week", str(entry.get("sessions", [{}])[0].get("day_hint")))
        found.append((tuple(entry["weeks"]), now, entry.get("sessions_per_week", hint.group() if hint else stated)))
    return found


def _own(session: dict[str, Any], every: list[dict[str, Any]]) -> dict[str, Any]:
    """A session with its blocks: its own, those of another one, or those of its first level."""
    session = copy.deepcopy(session)
    if "levels" in session:
        session["blocks"] = next(iter(session["levels"].values()))["blocks"]
    if "same_exercises_as" in session:
        other = next(s for s in every if s["name"] == session["same_exercises_as"])
        session["blocks"] = copy.deepcopy(other["blocks"])
        session["warm_up"] = other.get("warm_up", [])
        for block in session["blocks"]:
            for exercise in block["exercises"]:
                exercise |= session["override"]
    return session


def _eriksen(arm: dict[str, Any], stated: Any) -> list[tuple[tuple[int, int], list[dict[str, Any]], Any]]:
    def session(more: dict[str, Any]) -> list[dict[str, Any]]:
        exercises = [
            {"name": n, "tempo": {**arm["tempo"], **arm.get("tempo_exceptions", {}).get(n, {})}, **more}
            for n in arm["exercises"]
        ]
        return [{"blocks": [{"kind": arm.get("kind", "straight"), "rest_s": arm["rest_s"], "exercises": exercises}]}]

    found = []
    for entry in arm["weeks"]:
        more = dict(entry.get("all_exercises") or {"sets": entry.get("rounds"), "reps": entry["reps"]})
        more["reps"] = str(more["reps"]).replace(" rising to ", "-")
        found.append(((entry["weeks"][0], entry["weeks"][1]), session(more), stated))
    first = 9
    for step in arm.get("cycle", {}).get("steps", ()):
        last = first + step["weeks"] - 1
        if not step.get("restitution"):
            found += [((first + n, last + n), session({**step}), stated) for n in (0, 9)]
        first = last + 1
    return found


ORDINARY = [p.stem for p in EXAMPLES if p.stem not in OWN_SHAPE]


@pytest.mark.parametrize("name", ORDINARY)
def test_every_week_says_what_its_source_says(name: str) -> None:
    done = 0
    lines = 0
    for (first, last), sessions, often in sessions_by_weeks(name):
        for number in range(max(first, min(done + 1, last)), last + 1):
            read = week(name, number)
            for expected, session in zip(sessions, read.sessions, strict=False):
                lines += same_session(expected, session, f"{name}, week {number}")
            count = sum(not o.optional for o in occurrences(programme(name), read))
            if name == "alfredson-1998-heel-drop":
                count = sum(not o.optional for o in occurrences(programme(name), read) if o.session.key.startswith("1"))
            assert count == _least(often), (name, number, count, often)
            if often_range := re.fullmatch(r"(\d)-(\d)\b.*", str(often)):
                asked = next(s.times_a_week for s in read.sessions if s.times_a_week)
                assert asked == Range(int(often_range[1]), int(often_range[2])), (name, number)
        done = max(done, last)
    assert lines


def _least(often: Any) -> int:
    """Sessions of a week as the facts say in numbers or words; every second day from Monday is four."""
    text = str(often)
    return 4 if text.startswith("every second day") else int(re.findall(r"\d+", text)[0])


def same_session(expected: dict[str, Any], session: Session, where: str) -> int:
    exercises = [(b, x) for b in expected["blocks"] for x in b["exercises"]]
    work = [(b, i) for b in session.blocks if b.kind not in ("warm-up", "cool-down") for i in b.items]
    number = int(where.rsplit(" ", 1)[1])
    exercises = [(b, x) for b, x in exercises if x.get("from_week", 0) <= number]
    assert len(exercises) == len(work), where
    for (facts, exercise), (block, item) in zip(exercises, work, strict=True):
        same_line(facts, exercise, block, item, f"{where}, {exercise['name']}")
    if expected.get("warm_up"):
        warm = [(b, i) for b in session.blocks if b.kind == "warm-up" for i in b.items]
        assert [name_of(x).lower() for x in expected["warm_up"]] == [said(i) for _, i in warm], where
        for exercise, (block, item) in zip(expected["warm_up"], warm, strict=True):
            if "work_s" in exercise:
                assert item.dose.hold_s == Range.of(exercise["work_s"]), where
            else:
                _same_sets({"kind": "warm-up"}, exercise, block, item.dose, where)
                same_amount(exercise, item.dose, where)
                same_load(exercise.get("load", {"type": "none"}), item.dose, where)
    if "session_length_min" in expected:
        length = range_of(expected["session_length_min"])
        assert (session.minutes_from or session.minutes, session.minutes) == (length.low, length.high), where
    return len(work)


def name_of(exercise: dict[str, Any]) -> str:
    return RENAMED.get(exercise["name"], str(exercise["name"]))


def said(item: Item) -> str:
    """The name of a line with those the runner may take instead."""
    return " or ".join(name_text(i.exercise) for i in (item, *(item.alternatives if item.runner_picks else ()))).lower()


def range_of(value: Any) -> Range:
    if isinstance(value, list):
        return Range(value[0], value[1])
    numbers = [float(n) for n in re.findall(r"\d+(?:\.\d+)?", str(value))]
    return Range(numbers[0], numbers[-1])


def same_line(facts: dict[str, Any], exercise: dict[str, Any], block: Block, item: Item, where: str) -> None:
    dose = item.dose
    assert fold(said(item)) == fold(name_of(exercise)), where
    _same_sets(facts, exercise, block, dose, where)
    same_amount(exercise, dose, where)
    if exercise.get("per_side"):
        assert dose.sides == "each", where
    if exercise.get("affected_side_only"):
        assert dose.sore_side_only, where
    _same_rests(facts, exercise, block, dose, where)
    if isinstance(exercise.get("tempo"), dict):
        _same_tempo(exercise["tempo"], dose, where)
    elif exercise.get("tempo"):
        assert {"slow", "as slow as possible"} & set(dose.unfitted), where
    if exercise.get("load"):
        same_load(exercise["load"], dose, where)


def _same_sets(facts: dict[str, Any], exercise: dict[str, Any], block: Block, dose: Dose, where: str) -> None:
    wanted = exercise.get("sets", facts.get("rounds"))
    if wanted == "max":
        assert block.max_sets, where
    elif wanted is not None:
        sets = dose.sets or (Range.of(len(dose.per_set)) if dose.per_set else block.sets) or Range.of(1)
        assert sets == range_of(wanted), (where, sets)
    kind = {"paired": "pair", "timed_circuit": "circuit"}.get(facts["kind"], facts["kind"])
    assert block.kind == kind or (kind == "circuit" and exercise.get("sets")), where


def same_amount(exercise: dict[str, Any], dose: Dose, where: str) -> None:
    reps, hold = exercise.get("reps"), exercise.get("hold_s")
    if hold is not None and reps in (None, 1):
        assert dose.hold_s == Range.of(hold), where
    elif isinstance(reps, list):
        assert dose.per_set == tuple(reps), where
    elif reps is not None and not (reps == 1 and "hold_s" in exercise):
        assert dose.reps == range_of(reps), (where, dose.reps, reps)
        words = str(reps)
        assert dose.reps_open == ("up to" if "up to" in words else "at least" if "more" in words else None), where
        assert dose.pause_s == (None if hold is None else Range.of(hold)), where
    elif "reps" in exercise and "hold_s" not in exercise and "work_s" not in exercise:
        assert dose.reps is None, where
    assert dose.to_failure == bool(exercise.get("to_failure") or "to failure" in str(reps)), where
    if "work_s" in exercise:
        assert dose.work_s == Range.of(exercise["work_s"]), where
    if "distance_m" in exercise:
        assert dose.distance_m == range_of(exercise["distance_m"]), where


def _same_rests(facts: dict[str, Any], exercise: dict[str, Any], block: Block, dose: Dose, where: str) -> None:
    rest = exercise.get("rest_s", facts.get("rest_s"))
    assert (dose.rest_s or block.rest_s) == (None if rest is None else range_of(rest)), (where, block.rest_s)
    between = facts.get("rest_between_pair_s", facts.get("rest_between_exercises_s"))
    if between is not None:
        assert block.between_s == Range.of(between), where


def _same_tempo(tempo: dict[str, Any], dose: Dose, where: str) -> None:
    words = set(dose.unfitted)
    down: Any = tempo["ecc"]
    up: Any = tempo["con"]
    if isinstance(down, int) and isinstance(up, int):
        assert dose.tempo is not None, where
        read = (dose.tempo.up, dose.tempo.top or 0, dose.tempo.down, dose.tempo.pause)
        assert read == (up, tempo["top"], down, tempo["bottom"]), where
    elif up == "x":
        assert "fast up" in words or (dose.tempo is not None and dose.tempo.up == "x"), where
    elif "leg" in str(up):
        assert {"lowering only", "other leg lifts"} <= words, where
    elif "hands" in str(up):
        assert {"lowering only", "hands help"} <= words, where
    if down == "controlled":
        assert "controlled lowering" in words, where
    elif re.fullmatch(r"\d-\d", str(down)):
        assert dose.down_s == range_of(down), where
    elif "slow" in str(down):
        assert {"slow", "as slow as possible"} & words, where


def same_load(load: dict[str, Any], dose: Dose, where: str) -> None:
    kind, value, words = load["type"], load.get("value"), set(dose.unfitted)
    if kind == "bodyweight":
        assert dose.load is not None, where
        assert dose.load.none, where
    elif kind == "rm" and "then 8" in str(value):
        assert dose.rm in (Range.of(15), Range.of(8)), where
    elif kind == "rm" and value is not None and re.match(r"\d", str(value)):
        assert dose.rm == range_of(value), where
    elif kind == "rm" and value is not None:
        assert "technique weight" in words, where
    elif kind in ("pct_1rm", "pct_mvc"):
        assert dose.percent is not None, where
        assert dose.percent.percent == range_of(value), where
        assert dose.percent.of == ("1RM" if kind == "pct_1rm" else "max force"), where
        assert (dose.percent.at_least, dose.percent.about) == (">" in str(value), bool(load.get("approx"))), where
    elif kind == "rir":
        assert dose.rir == range_of(value), where
    elif kind == "max_effort":
        assert ("nearly all-out" if value else "all-out") in words, where
    elif kind == "effort" or value == "light":
        assert "technique weight" in words, where
    elif kind == "kg" and value == "added":
        assert dose.load_days == Range(2, 3), where
    elif kind == "inertia":
        assert dose.kit == "flywheel", where
    elif kind == "band":
        assert dose.load is not None, where
        assert dose.load.band == "thin", where
    else:
        assert value is None, (where, load)


@pytest.mark.parametrize("name", [p.stem for p in EXAMPLES])
def test_it_lasts_as_long_as_its_source_says(name: str) -> None:
    facts = FACTS[OTHERS.get(name, name)]
    if name in ("festa-2022-flywheel-squat", "festa-2022-barbell", "riel-2015-variant"):
        facts = facts["variants"][0]
    numbers = [int(n) for n in re.findall(r"\d+", str(facts.get("duration_weeks")))]
    if not numbers:
        return
    read = programme(name)
    wanted = set(numbers) if name.startswith("moro") else {numbers[-1]}  # moro: two lengths are stated
    assert read.weeks in wanted
    assert min(c.first_week for c in read.cycles) == 1
    last = max(c.repeat_to or c.last_week for c in read.cycles)
    assert last == read.weeks or any(c.open_end for c in read.cycles), (last, read.weeks)


@pytest.mark.parametrize("name", ORDINARY)
def test_hours_apart_and_contacts_of_a_session(name: str) -> None:
    for (first, _), sessions, often in sessions_by_weeks(name):
        for expected, session in zip(sessions, week(name, first).sessions, strict=False):
            hint = f"{often} {expected.get('day_hint')}".replace("non-consecutive", "48 h apart")
            if hours := re.search(r"(\d+) h apart", hint):
                assert session.hours_apart == int(hours[1]), (name, session.key)
            if target := expected.get("contacts_target"):
                assert session.contacts is not None, (name, session.key)
                assert session.contacts == Range.of(target.get("first", target.get("last"))), (name, session.key)


# -- facts of a shape of their own


def blocks_of(name: str, number: int) -> Iterator[tuple[Session, Block]]:
    for session in week(name, number).sessions:
        for block in session.blocks:
            yield session, block
