"""A simulated runner's week: every line is told, against its copy, and the truth stands beside it."""

from __future__ import annotations

from datetime import date, datetime
from importlib.resources import files
from uuid import UUID

import numpy as np
import pytest

from ferrule.fit.squad import fit_squad
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.fact import PainTold, SessionTold
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.programme.reader import read_programme
from ferrule.record.sent import lines_of
from ferrule.simulate.doing import Done, do_session
from ferrule.simulate.reports import Habits
from ferrule.simulate.truth import REST, Body, make_body
from ferrule.simulate.world import World, make_world
from ferrule.squad.reader import read_squad

MONDAY = date(2026, 1, 5)
CAREFUL = Habits(writes=True, missing=0.0, slips=0.0, pain=0.0, stops_early=0.0)


@pytest.fixture(scope="module")
def given() -> tuple[FittedWeek, Library, World, Body]:
    library, _ = load_library()
    demo = files("ferrule.demo")
    programme, _ = read_programme((demo / "programme.md").read_bytes(), "programme.md", library)
    head, *rows = (demo / "squad.csv").read_text(encoding="utf-8").splitlines(keepends=True)
    squad, _ = read_squad((head + rows[0]).encode(), "squad.csv", library)
    week = fit_squad(programme, squad, library, House(), MONDAY).outcomes[0]
    assert isinstance(week, FittedWeek)
    world = make_world(library, np.random.default_rng(3))
    return week, library, world, make_body(squad.runners[0], world, 2026, np.random.default_rng(4))


def done(given: tuple[FittedWeek, Library, World, Body], habits: Habits = CAREFUL, seed: int = 5) -> list[Done]:
    week, library, world, body = given
    rng = np.random.default_rng(seed)
    return [do_session(week, s, "copy", world, body, library, REST, habits, rng) for s in week.sessions]


def test_every_line_is_told_set_by_set(given: tuple[FittedWeek, Library, World, Body]) -> None:
    told = [e.fact for d in done(given) for e in d.entries if isinstance(e.fact, LoggedSet)]
    for line in lines_of(given[0]):
        own = [s for s in told if (s.session_key, s.item_key) == (line.session.key, line.item.item_key)]
        assert {s.number for s in own} == set(range(1, line.rounds + 1)), line.item.name
        assert {s.variant_id for s in own} == {line.item.variant_id}
        assert {s.load_kg for s in own} == {line.item.load.kg if line.item.load else 0.0}
        assert all(s.copy_id == "copy" and s.day == line.session.day for s in own)


def test_the_truth_bears_out_what_was_told(given: tuple[FittedWeek, Library, World, Body]) -> None:
    happened = [h for d in done(given) for h in d.happened]
    assert len(happened) > 20
    assert all(h.done <= np.floor(h.possible) or h.possible < 1 for h in happened)
    assert all(h.entry.outcome == "failed" for h in happened if h.done < h.asked.amount and not h.pain)


def test_ids_are_of_version_7_apart_and_the_same_for_a_seed(given: tuple[FittedWeek, Library, World, Body]) -> None:
    ids = [e.entry_id for d in done(given) for e in d.entries]
    assert {UUID(i).version for i in ids} == {7}
    assert len(set(ids)) == len(ids)
    assert ids == [e.entry_id for d in done(given) for e in d.entries]
    assert not set(ids) & {e.entry_id for d in done(given, seed=6) for e in d.entries}
    assert all(isinstance(e.recorded_at, datetime) and e.recorded_at.tzinfo for d in done(given) for e in d.entries)


def test_pain_ends_its_line_and_is_told_with_its_place(given: tuple[FittedWeek, Library, World, Body]) -> None:
    found = done(given, Habits(writes=True, pain=0.2, slips=0.0))
    pains = [e.fact for d in found for e in d.entries if isinstance(e.fact, PainTold)]
    assert pains
    assert all(p.worst is not None and p.morning is not None and p.morning <= p.worst for p in pains)
    for d in found:
        hurt = any(isinstance(e.fact, PainTold) for e in d.entries)
        (session,) = (e.fact for e in d.entries if isinstance(e.fact, SessionTold))
        assert (session.outcome == "part") is hurt
