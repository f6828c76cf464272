"""Every constraint is one file, is used, has a name the coach can be told, and a tiny week that it alone refuses."""

from __future__ import annotations

import re
from dataclasses import replace
from importlib import import_module
from pathlib import Path

import pytest

from ferrule.fit.constraints import ALL
from ferrule.fit.days import DAYS_RULE, GAP_RULE, KEY_RULE, RACE_RULE, RECOVERY_RULE, RUN_RULE
from ferrule.fit.infeasible import WORDS, rule_words
from ferrule.fit.problem import Option, Problem, SessionOfWeek
from ferrule.fit.solve import solve
from ferrule.fit.tiny_weeks import block, brute_force, line, option, problem, session, slots
from ferrule.model.finding import Span
from ferrule.model.squad import Runner

HERE = Path(__file__).parent
FILES = sorted(p.stem for p in HERE.glob("*.py") if p.stem != "__init__" and not p.stem.endswith("_test"))
PRICES = {"a day with neither run nor session", "groups worked twice stay at twice"}
"""Rules that have a price and are therefore never the reason that no week exists."""


def test_every_file_is_used_and_has_a_test_beside_it() -> None:
    assert [f.__module__.rsplit(".", 1)[1] for f in ALL] != []
    assert sorted(f.__module__.rsplit(".", 1)[1] for f in ALL) == FILES
    assert all((HERE / f"{name}_test.py").exists() for name in FILES)


@pytest.mark.parametrize("name", [f for f in FILES if f not in ("one_choice", "possible_times")])
def test_each_has_a_literal_of_its_own_name_and_words_for_the_coach(name: str) -> None:
    """`one_choice` is structure and has none; `possible_times` has one for each rule of the runner's week."""
    module = import_module(f"ferrule.fit.constraints.{name}")
    source = (HERE / f"{name}.py").read_text(encoding="utf-8")
    assert re.search(r"rule\(NAME\)", source)
    assert module.NAME in WORDS or module.NAME in PRICES


def test_the_rules_of_a_time_have_words() -> None:
    rules = (DAYS_RULE, KEY_RULE, RACE_RULE, RECOVERY_RULE, RUN_RULE, GAP_RULE)
    runner = Runner("R", "Ash", "some", (), (0,), (), None, Span("s", 1))
    assert all(rule in WORDS for rule in rules)
    assert rule_words(rules, runner).count(";") == len(rules) - 1


TWELVE, EIGHT = ((("adjustable dumbbell", "12"),), (("adjustable dumbbell", "8"),))
PAIR = [block(0, "pair")]


def _at(site: int) -> Option:
    return replace(option(), sites=(site,))


def _on(site: int) -> SessionOfWeek:
    one = session()
    return replace(one, slots=tuple(replace(t, site=site) for t in one.slots))


CASES: dict[str, tuple[Problem, Problem]] = {
    "contacts": (problem([line(option(contacts=9))], contacts=9), problem([line(option(contacts=10))], contacts=9)),
    "load_growth": (problem([line(option())]), problem([line(option(grown=True))])),
    "minutes": (
        problem([line(option(seconds=60))], [session(limit_s=60, promised_s=60)]),
        problem([line(option(seconds=61))], [session(limit_s=60, promised_s=60)]),
    ),
    "new_exercises": (problem([line(option(new=True))], new_cap=1), problem([line(option(new=True))], new_cap=0)),
    "pair_clash": (
        problem([line(option(group="push")), line(option(group="hinge"))], blocks=PAIR),
        problem([line(option(group="push")), line(option(group="push"))], blocks=PAIR),
    ),
    "pair_kit": (
        problem([line(option(settings=EIGHT)), line(option(settings=EIGHT))], blocks=PAIR),
        problem([line(option(settings=EIGHT)), line(option(settings=TWELVE))], blocks=PAIR),
    ),
    "site_kit": (problem([line(_at(0))], [_on(0)]), problem([line(_at(1))], [_on(0)])),
    "session_gap": (problem(sessions=[session([0]), session([2])]), problem(sessions=[session([0]), session([1])])),
}
"""For each hard rule a week that holds, and the same week broken by this rule alone."""


@pytest.mark.parametrize("name", CASES)
def test_a_week_that_holds_and_the_same_week_broken(name: str) -> None:
    holds, breaks = CASES[name]
    whole, less = solve(holds), solve(breaks)
    assert None not in whole.option + whole.slot
    assert None in less.option + less.slot
    assert whole.levels == brute_force(holds)[0].levels
    assert less.levels == brute_force(breaks)[0].levels


def test_every_hard_rule_has_its_case() -> None:
    structure_or_price = {"one_choice", "possible_times", "coverage", "rest_day"}
    assert set(CASES) == set(FILES) - structure_or_price
    assert slots([0], blocked=(DAYS_RULE,))[0].blocked == (DAYS_RULE,)
