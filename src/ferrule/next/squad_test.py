"""The squad's next week: one fit within everybody's plans, offsets by the version that counts, what was left out remembered."""

from __future__ import annotations

import random
from dataclasses import replace

from ferrule.fit.runner import capacity_of
from ferrule.fit.squad import fit_squad
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry, PainTold, WeekTold
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Squad
from ferrule.next.conftest import FIRST, WEEK, Sent, entry, made_runner, told_sets
from ferrule.next.squad import Told, beliefs_on, next_week, offsets_for, remembered, told_of

MONDAY = FIRST + 2 * WEEK
OTHER = replace(made_runner(), id="R02", name="Bram")
SQUAD = Squad("squad.csv", (made_runner(), OTHER))


def told(programme: Programme, library: Library, house: House, sent: Sent, entries: list[Entry]) -> Told:
    other = replace(sent(2), runner_id="R02", runner_name="Bram")
    return told_of(
        programme, SQUAD, library, house, MONDAY, sent={"R01": [sent(1), sent(2)], "R02": [other]}, entries=entries
    )


def test_without_a_record_it_is_the_plain_fit(programme: Programme, library: Library, house: House) -> None:
    plain = told_of(programme, SQUAD, library, house, FIRST, sent={}, entries=())
    assert next_week(programme, library, house, plain).week == fit_squad(programme, SQUAD, library, house, FIRST)


def test_each_is_fitted_within_their_own_plan(programme: Programme, library: Library, house: House, sent: Sent) -> None:
    entries = [entry(PainTold(FIRST + WEEK, "calf", "left", 2, 3))]
    before = told(programme, library, house, sent, entries)
    found = next_week(programme, library, house, before)
    moves = {p.runner_id: {x.item_key: x.move for x in p.lines if x.session_key == "1"} for p in found.proposals}
    assert moves["R01"]["A2"] == "back off"
    assert moves["R02"]["A2"] == "as written"
    for outcome in found.week.outcomes:
        assert isinstance(outcome, FittedWeek)
        own = before.plans[outcome.runner_id]
        capacity = capacity_of(own.runner, MONDAY)
        assert not verify(
            outcome,
            own.own.programme,
            own.runner,
            library,
            house,
            capacity,
            before.goes_on[outcome.runner_id],
            None,
            own.own.bounds,
        )
    assert found.week.findings == ()


def test_the_answer_does_not_depend_on_the_order_of_arrival(
    programme: Programme, library: Library, house: House, sent: Sent
) -> None:
    entries = [*told_sets(sent(1)), *told_sets(sent(2)), entry(WeekTold(FIRST + WEEK, "all", "right", None))]
    mixed = [*entries, *entries[:9]]
    random.Random(7).shuffle(mixed)
    one, two = (
        next_week(programme, library, house, told(programme, library, house, sent, e)) for e in (entries, mixed)
    )
    assert one.proposals == two.proposals
    assert one.week == two.week


def test_offsets_are_frozen_within_the_cycle(programme: Programme, library: Library, sent: Sent) -> None:
    """The version of week 3 is that of the Monday after the first week: sets of week 2 do not move what the squad shares."""
    early, late = told_sets(sent(1), left=4, more=8), told_sets(sent(2), left=4, more=8)
    runner = made_runner()
    first = offsets_for(programme, SQUAD, library, early, runner, MONDAY)
    both = offsets_for(programme, SQUAD, library, [*early, *late], runner, MONDAY)
    assert first.names
    assert first.version == both.version
    assert dict(first.mean) == dict(both.mean)
    other = beliefs_on(programme, SQUAD, library, [*early, *late], MONDAY)[0]["R02"]
    assert other == beliefs_on(programme, SQUAD, library, early, MONDAY)[0]["R02"]


def test_what_was_left_out_is_remembered(sent: Sent) -> None:
    whole, last = sent(1), sent(2)
    session = last.sessions[0]
    less = replace(session, blocks=tuple(replace(b, items=b.items[:1]) for b in session.blocks))
    cut = replace(last, sessions=(less, *last.sessions[1:]))
    known = {(s.key, i.item_key): i for s in remembered([whole, cut]).sessions for b in s.blocks for i in b.items}
    assert known["1", "A2"] == next(i for b in whole.sessions[0].blocks for i in b.items if i.item_key == "A2")
    assert known["1", "A1"] == next(i for b in less.blocks for i in b.items if i.item_key == "A1")
    assert remembered([whole, last]) is last
    assert remembered([replace(whole, cycle_name="Other"), cut]) is cut


def test_a_line_that_was_stopped_goes_on_from_what_it_was(
    programme: Programme, library: Library, house: House, sent: Sent
) -> None:
    """Week 2 without the heel raise: in week 3 it asks no more than a step above week 1."""
    last = sent(2)
    session = last.sessions[0]
    cut = replace(
        last, sessions=(replace(session, blocks=tuple(replace(b, items=b.items[:1]) for b in session.blocks)), *last.sessions[1:])
    )  # fmt: skip
    before = told_of(
        programme, replace(SQUAD, runners=(made_runner(),)), library, house, MONDAY, sent={"R01": [sent(1), cut]},
        entries=[entry(WeekTold(FIRST + WEEK, "all", None, None))],
    )  # fmt: skip
    found = next_week(programme, library, house, before).week.outcomes[0]
    assert isinstance(found, FittedWeek)
    own = before.plans["R01"].own
    capacity = capacity_of(made_runner(), MONDAY)
    assert not verify(
        found, own.programme, made_runner(), library, house, capacity, before.goes_on["R01"], None, own.bounds
    )
