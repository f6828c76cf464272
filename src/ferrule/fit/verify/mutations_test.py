"""A fit broken on purpose is refused, with the right code; and no rule of the verifier is without its mutation.

The rules are read from the source of the verifier itself: every place that refuses, and every reason it yields.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Mapping
from dataclasses import fields, replace
from functools import cache
from importlib import resources
from pathlib import Path

import pytest

from ferrule.fit.conftest import KIT, MONDAY, TEXT, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.fit.verify.mutations import MUTATIONS, Case, Mutation
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedItem, FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import KitItem, Runner, Site
from ferrule.programme.reader import read_programme
from ferrule.squad.reader import read_squad

LOADS = """---
programme: Written loads
weeks: 6
sessions: 1 a week
---

## Cycle 1, weeks 1-6: Loads

### Session 1, 60 min

Warm-up, 1 round

- Ankle rock: 8/side

Straight, 2 sets, rest 60-90 s

- Split squat: 8/side, 3 RIR, 8 kg
- Side step, band: 10/side, thin band
- Towel row: sets 12, 10, 8, rest 2 min
- Squat: left 10, right 8
- Press-up: at least 8
- Carry, two hands: 20 m, 8 kg each hand
- Side plank: 20-30 s/side, side rest 10 s
- Hinge, one leg: 8/side, 2 RIR
- Heel raise, two legs: 12, tempo 2-0-1, pause 2 s
  note: Push through the big toe.
- Squat, deep: 8
- Ridge shuffle: 10

Straight, rest 90 s

- Bridge, two legs: 3 x 12
"""
TWICE = """---
programme: Two days, two sites
weeks: 6
sessions: 2 a week
---

## Cycle 1, weeks 1-6: One

### Session 1: legs, 40 min

Straight, 3 sets, rest 60 s

- Step-up: 6-8/side, 2 RIR
- Press-up: 8-10, 3 RIR
"""
BANDS = (KitItem("band", band="thin"), KitItem("band", band="thick"))
HERE = Path(__file__).parent
PASSED_ON = re.compile(r"^(why|w)$")
"""Messages that only hand on what another place yields."""


@cache
def library() -> Library:
    return load_library()[0]


@cache
def sound() -> Mapping[str, tuple[Case, Programme]]:
    """Real fitted weeks: the tests' own programme, one with written loads and bands, and five runners of the demo squad."""
    demo = resources.files("ferrule.demo")
    programme = read_programme(demo.joinpath("programme.md").read_bytes(), "programme.md", library())[0]
    squad = read_squad(demo.joinpath("squad.csv").read_bytes(), "squad.csv", library())[0]
    out: dict[str, tuple[Case, Programme]] = {}
    for runner in squad.runners:
        week = fit_runner(programme, runner, library(), House(), MONDAY)
        if isinstance(week, FittedWeek) and len(out) < 5:
            out[runner.id] = (Case(week, runner), programme)
    return out


@pytest.fixture(scope="module")
def cases(make_runner: MakeRunner) -> dict[str, tuple[Case, Programme]]:
    own = read_programme(TEXT, "programme.md", library())[0]
    loads = read_programme(LOADS, "loads.md", library())[0]
    runner = make_runner()
    banded = make_runner(kit=(*runner.kit, *BANDS))
    out = dict(sound())
    twice = read_programme(TWICE, "twice.md", library())[0]
    home = Site("home", KIT, (0, 2))
    club = Site("club", (*KIT[:2], *KIT[4:6], KitItem("dumbbell", 2, kg=30)), (4, 5))
    two_sites = make_runner(level="strong", days=(0, 4), kit=KIT, sites=(home, club))
    strong = make_runner(id="T02", level="strong", sex="male", mass_kg=70.0)
    every = (
        ("own", own, runner), ("strong", own, strong), ("loads", loads, banded), ("two sites", own, two_sites),
        ("twice", twice, two_sites),
    )  # fmt: skip
    for name, programme, who in every:
        week = fit_runner(programme, who, library(), House(), MONDAY)
        assert isinstance(week, FittedWeek)
        out[name] = (Case(week, who), programme)
    return out


def said(case: Case, programme: Programme, runner: Runner) -> tuple[Finding, ...]:
    """What the verifier says; the belief is that of the sound case, for a mutation does not change it."""
    return verify(
        case.week,
        programme,
        case.runner,
        library(),
        case.house,
        capacity_of(runner, MONDAY),
        case.last,
        case.given,
        case.bounds,
    )


def broken(mutation: Mutation, cases: Mapping[str, tuple[Case, Programme]]) -> list[tuple[str, tuple[Finding, ...]]]:
    """(name of the sound case, what the verifier says of it broken) for each case that can be broken so."""
    out = []
    for name, (case, programme) in cases.items():
        worse = mutation.break_it(case)
        if worse is not None and worse != case:
            out.append((name, said(worse, programme, case.runner)))
    return out


def test_the_sound_weeks_pass(cases: Mapping[str, tuple[Case, Programme]]) -> None:
    assert len(cases) == 10
    for name, (case, programme) in cases.items():
        assert said(case, programme, case.runner) == (), name


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda m: f"{m.code}: {m.name}")
def test_a_broken_fit_is_refused_with_its_code(mutation: Mutation, cases: Mapping[str, tuple[Case, Programme]]) -> None:
    found = broken(mutation, cases)
    assert found, "no sound week can be broken so"
    codes = [{f.code for f in findings} for _, findings in found]
    assert any(f"verify-{mutation.code}" in c for c in codes), codes
    assert all(f.level == "error" for _, findings in found for f in findings)


def rules() -> dict[str, re.Pattern[str]]:
    """`file: message` -> a pattern for its words, for each refusal and each reason in the verifier's source."""
    out = {}
    for path in sorted(HERE.glob("*.py")):
        if path.stem.endswith("_test") or path.stem in ("mutations", "refused", "__init__"):
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            text: ast.expr | None = None
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "refused":
                text = node.args[2]
            elif isinstance(node, ast.Yield):
                text = node.value
            pattern = words_of(text)
            if pattern is not None:
                out[f"{path.name}: {ast.unparse(text)}" if text is not None else ""] = pattern
    return out


def words_of(text: ast.expr | None) -> re.Pattern[str] | None:
    if isinstance(text, ast.Constant) and isinstance(text.value, str):
        return re.compile(re.escape(text.value))
    if not isinstance(text, ast.JoinedStr):
        return None
    parts = []
    for part in text.values:
        if isinstance(part, ast.Constant):
            parts.append(re.escape(str(part.value)))
        elif isinstance(part, ast.FormattedValue):
            if isinstance(part.value, ast.Name) and PASSED_ON.match(part.value.id):
                return None
            parts.append(".*")
    return re.compile("".join(parts))


def test_no_rule_is_without_its_mutation(cases: Mapping[str, tuple[Case, Programme]]) -> None:
    words = {f.what for m in MUTATIONS for _, findings in broken(m, cases) for f in findings}
    known = rules()
    assert len(known) >= 50
    silent = sorted(name for name, pattern in known.items() if not any(pattern.search(w) for w in words))
    assert not silent, "\n".join(silent)


def test_every_code_of_the_verifier_has_a_mutation() -> None:
    source = "\n".join(p.read_text(encoding="utf-8") for p in HERE.glob("*.py") if not p.stem.endswith("_test"))
    assert set(re.findall(r'refused\(\s*"([a-z-]+)"', source)) == {m.code for m in MUTATIONS}


# ---- every field that a runner reads

UNSEEN_ITEM = {"extra", "work", "reasons"}
"""extra and work follow from the dose (it is compared whole); reasons are looked for where one is due."""
UNSEEN_SESSION = {"reasons"}


def other(value: object, field: str) -> object:
    """Another value of the same kind."""
    if field == "per_set":
        return () if value else (3,)
    if field == "left_right":
        return (9, 9)
    match value:
        case bool():
            return not value
        case int() | float():
            return value + 17
        case str():
            return value + "x"
        case tuple():
            return () if value else ("x",)
        case _:
            return None


@pytest.mark.parametrize("field", [f.name for f in fields(FittedItem) if f.name not in UNSEEN_ITEM])
def test_each_field_of_a_line_is_checked(field: str, cases: Mapping[str, tuple[Case, Programme]]) -> None:
    """Changed in every line of every sound week, one at a time, until one is refused; all that can change must be tried."""
    refused = tried = 0
    for case, programme in cases.values():
        for s, session in enumerate(case.week.sessions):
            for b, block in enumerate(session.blocks):
                for i, item in enumerate(block.items):
                    new = other(getattr(item, field), field)
                    if new == getattr(item, field) or (field == "reasons" and not item.departs):
                        continue
                    changed = replace(item, **{field: new})  # type: ignore[arg-type]
                    items = (*block.items[:i], changed, *block.items[i + 1 :])
                    blocks = (*session.blocks[:b], replace(block, items=items), *session.blocks[b + 1 :])
                    sessions = list(case.week.sessions)
                    sessions[s] = replace(session, blocks=blocks)
                    worse = replace(case, week=replace(case.week, sessions=tuple(sessions)))
                    tried += 1
                    refused += bool(said(worse, programme, case.runner))
            if tried > 25:
                break
    assert tried, "no line has this field"
    assert refused == tried or field in SOMETIMES, f"{tried - refused} of {tried} changes of {field} were let pass"
    assert refused or field in SOMETIMES


@pytest.mark.parametrize("field", [f.name for f in fields(FittedSession) if f.name not in UNSEEN_SESSION])
def test_each_field_of_a_session_is_checked(field: str, cases: Mapping[str, tuple[Case, Programme]]) -> None:
    refused = tried = 0
    for case, programme in cases.values():
        for s, session in enumerate(case.week.sessions):
            new = other(getattr(session, field), field)
            if new is None and field == "day":
                new = case.week.monday.replace(year=2031)
            if new == getattr(session, field) or (new is None and field not in ("hours_to_key",)):
                continue
            changed = replace(session, **{field: new})  # type: ignore[arg-type]
            sessions = (*case.week.sessions[:s], changed, *case.week.sessions[s + 1 :])
            tried += 1
            refused += bool(said(replace(case, week=replace(case.week, sessions=sessions)), programme, case.runner))
    if field == "start":
        assert tried == 0  # None or a time: moved in the table above
        return
    assert tried
    assert refused == tried, f"{tried - refused} of {tried} changes of {field} were let pass"


SOMETIMES = {"too_hard", "too_easy", "prediction", "ask_effort"}
"""May be absent: a line may have no way out, and is asked for its effort only where one was meant. What is there is checked."""
