"""Each safety rule is silent on a week as it is fitted, and speaks when the week is changed into one that breaks it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from importlib.resources import files

import numpy as np
import pytest

from ferrule.fit.squad import fit_squad
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.fact import PainTold
from ferrule.model.fitted import FittedItem, FittedWeek, LoadChoice
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.quantity import Range
from ferrule.model.squad import Runner
from ferrule.programme.reader import read_programme
from ferrule.simulate.doing import enveloped
from ferrule.simulate.dry_run_rules import Broken, bad_pain, broken_rules, max_step
from ferrule.squad.reader import read_squad

MONDAY = date(2026, 1, 5)
HOUSE = House()
Given = tuple[Programme, Runner, Library, FittedWeek]


@pytest.fixture(scope="module")
def given() -> Given:
    library, _ = load_library()
    demo = files("ferrule.demo")
    programme, _ = read_programme((demo / "programme.md").read_bytes(), "programme.md", library)
    head, *rows = (demo / "squad.csv").read_text(encoding="utf-8").splitlines(keepends=True)
    squad, _ = read_squad((head + rows[0]).encode(), "squad.csv", library)
    week = fit_squad(programme, squad, library, HOUSE, MONDAY).outcomes[0]
    assert isinstance(week, FittedWeek)
    return programme, squad.runners[0], library, week


def changed(week: FittedWeek, edit: Callable[[FittedItem], FittedItem], weeks: int = 1) -> FittedWeek:
    """The week so many weeks later with every line edited."""
    sessions = tuple(
        replace(
            s,
            day=s.day + timedelta(weeks=weeks),
            blocks=tuple(replace(b, items=tuple(map(edit, b.items))) for b in s.blocks),
        )
        for s in week.sessions
    )
    return replace(
        week, monday=week.monday + timedelta(weeks=weeks), programme_week=week.programme_week + weeks, sessions=sessions
    )


def found(given: Given, now: FittedWeek, *pains: PainTold, house: House = HOUSE) -> tuple[Broken, ...]:
    programme, runner, library, last = given
    entries = enveloped(list(pains), runner.id, MONDAY, "page", np.random.default_rng(1))
    return broken_rules(programme, runner, library, house, now, last, entries, 2)


def heavier(kg: float) -> Callable[[FittedItem], FittedItem]:
    def edit(item: FittedItem) -> FittedItem:
        was = 0.0 if item.load is None else item.load.kg
        place = "hands" if item.load is None else item.load.place
        return replace(item, load=LoadChoice(was + kg, place, ("a piece",)))

    return edit


def calf(worst: int, day: int, morning: int | None = 0) -> PainTold:
    return PainTold(MONDAY + timedelta(days=day), "calf", "left", worst, morning)


def test_the_same_week_again_breaks_nothing(given: Given) -> None:
    assert found(given, changed(given[3], lambda i: i)) == ()


def test_a_load_far_above_the_next_one_is_a_jump(given: Given) -> None:
    rules = {b.rule for b in found(given, changed(given[3], heavier(30)))}
    assert "jump" in rules


def test_a_step_is_the_next_load_of_the_kit_or_the_share_of_the_house(given: Given) -> None:
    _, runner, library, week = given
    bare = next(
        i
        for s in week.sessions
        for b in s.blocks
        for i in b.items
        if i.load is None and (v := library.variants.get(i.variant_id)) is not None and v.main and "hands" in v.loading
    )
    main = library.variants[bare.variant_id].main
    assert main is not None
    assert max_step(bare, runner, library, HOUSE) >= main.base * 1.05
    nothing = replace(runner, kit=(), sites=())
    share = 1 + HOUSE.value("load-step-percent") / 100
    assert max_step(bare, nothing, library, HOUSE) == pytest.approx(main.base * share)


def test_more_on_a_calf_that_did_not_settle_is_told(given: Given) -> None:
    now = changed(given[3], heavier(2))
    assert {b.rule for b in found(given, now, calf(2, 1, morning=3))} >= {"raised after pain"}
    assert not [b for b in found(given, now, calf(2, 1, morning=1)) if b.rule == "raised after pain"]


def test_anything_on_a_calf_above_the_threshold_is_told(given: Given) -> None:
    same = changed(given[3], lambda i: i)
    assert {b.rule for b in found(given, same, calf(5, 2))} == {"stopped region loaded"}
    assert {b.rule for b in found(given, same, calf(2, 2))} == set()


def test_rising_is_from_one_week_to_a_later_one() -> None:
    later = MONDAY + timedelta(weeks=2)
    assert bad_pain([calf(1, 1), calf(2, 8)], later, HOUSE) == (True, True)
    assert bad_pain([calf(2, 1), calf(2, 8)], later, HOUSE) == (False, False)
    assert bad_pain([calf(2, 8, morning=2)], later, HOUSE) == (True, False)
    assert bad_pain([calf(6, 1)], later, HOUSE) == (False, False)
    assert bad_pain([replace(calf(1, 8), flags=("pop",))], later, HOUSE) == (True, True)


def test_contacts_and_novelty(given: Given) -> None:
    _, _, library, week = given
    hops = sorted(v.id for v in library.variants.values() if v.contacts_per_rep)

    def hop(item: FittedItem) -> FittedItem:
        return replace(item, variant_id=hops[0], reps=Range(40, 40), contacts=None, sets=4)

    assert "contacts" in {b.rule for b in found(given, changed(week, hop))}
    known = {i.variant_id for s in week.sessions for b in s.blocks for i in b.items}
    others = iter(sorted(set(library.variants) - known))
    other = changed(week, lambda i: replace(i, variant_id=next(others)))
    few = House({"new-exercises-a-week": 5})
    (told,) = (b for b in found(given, other, house=few) if b.rule == "novelty")
    assert "exercises not done last week" in told.what
    assert "novelty" not in {b.rule for b in found(given, changed(week, lambda i: i), house=few)}
