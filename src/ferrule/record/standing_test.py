from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.fact import Entry, PainTold, SessionTold, TakenBack
from ferrule.record import standing as s
from ferrule.record.strategies import MONDAY, entries

NOW = datetime(2026, 1, 20, 18, 30, tzinfo=UTC)
held = settings(derandomize=True, max_examples=150, deadline=None, phases=(Phase.explicit, Phase.generate))


def a_set(number: int = 1, **told: object) -> LoggedSet:
    first = LoggedSet("", "R01", MONDAY, "1", "c1/s1/b1/i1", "step-up", number, "counted", done=8.0)
    return replace(first, **told)  # type: ignore[arg-type]


def told(entry_id: str, fact: object, *, minutes: int = 0, replaces: str = "", runner: str = "R01") -> Entry:
    at = NOW + timedelta(minutes=minutes)
    return Entry(entry_id, runner, at, "page", fact, replaces)  # type: ignore[arg-type]


def ids(found: Sequence[Entry]) -> list[str]:
    return [e.entry_id for e in found]


@held
@given(st.lists(entries(), max_size=12), st.randoms(use_true_random=False), st.lists(st.integers(0, 11), max_size=6))
def test_order_of_arrival_and_doubling_do_not_matter(found: list[Entry], chance: object, again: list[int]) -> None:
    stand = s.standing(found)
    arrived = [*found, *(found[i] for i in again if i < len(found))]
    chance.shuffle(arrived)  # type: ignore[attr-defined]
    assert s.standing(arrived) == stand
    assert s.standing(stand) == stand
    assert len({e.entry_id for e in stand}) == len(stand)
    assert list(stand) == sorted(stand, key=s.performed)


@held
@given(st.lists(entries(), max_size=12))
def test_runners_do_not_touch_each_other(found: list[Entry]) -> None:
    apart = {e.entry_id: e for e in s.once(found)}.values()
    own = {r: s.standing(part) for r, part in s.by_runner(apart).items()}
    assert sorted(s.standing(apart), key=s.performed) == sorted((e for o in own.values() for e in o), key=s.performed)


def test_a_correction_stands_in_the_place_of_what_it_corrects() -> None:
    first, second = told("a", a_set(done=8.0)), told("b", a_set(done=6.0), minutes=1, replaces="a")
    third = told("c", a_set(done=5.0), minutes=2, replaces="b")
    assert ids(s.standing([third, first, second])) == ["c"]
    assert ids(s.standing([first, third])) == ["c"]  # the one between has not arrived: one telling of the set stands
    assert s.sets_of([first, second], "R01")[0].done == 6.0


def test_of_two_corrections_of_one_entry_the_last_stands() -> None:
    first = told("a", PainTold(MONDAY, "calf", "left", 2))
    left, right = (
        told(i, PainTold(MONDAY, "calf", "left", n), minutes=n, replaces="a") for i, n in (("b", 3), ("c", 4))
    )
    assert ids(s.standing([right, left, first])) == ["c"]


def test_what_is_taken_back_does_not_come_back() -> None:
    first, second = told("a", a_set()), told("b", a_set(done=6.0), replaces="a", minutes=1)
    back = told("c", TakenBack("slip"), replaces="b", minutes=2)
    assert s.standing([back, second, first]) == ()


def test_a_circle_of_corrections_loses_nothing() -> None:
    left, right = told("a", a_set(1), replaces="b"), told("b", a_set(2), replaces="a", minutes=1)
    assert ids(s.standing([left, right])) == ["b"]
    assert ids(s.standing([told("a", a_set(), replaces="a")])) == ["a"]


def test_a_correction_of_an_entry_that_names_itself() -> None:
    own = told("c", a_set(), replaces="c")
    two = [told("a", a_set(done=7.0), replaces="c", minutes=1), told("d", a_set(done=6.0), replaces="c", minutes=2)]
    assert ids(s.standing([own, *two])) == ["d"]


def test_nobody_corrects_another_runner() -> None:
    mine = told("a", a_set())
    other = told("b", replace(a_set(done=1.0), runner_id="R02"), replaces="a", runner="R02")
    assert ids(s.standing([mine, other])) == ["a", "b"]


def test_two_phones_tell_one_set_once_and_the_one_that_tells_more_stands() -> None:
    tapped = told("a", a_set(outcome="tapped", done=None), minutes=9)
    counted = told("b", a_set(reserve=Reserve(2, 2)))
    assert ids(s.standing([tapped, counted])) == ["b"]
    later = told("c", a_set(reserve=Reserve(2, 2), day=MONDAY + timedelta(days=1)), minutes=5)
    assert ids(s.standing([tapped, counted, later])) == ["c"]  # a set belongs to its week, not to its day
    next_week = told("d", a_set(day=MONDAY + timedelta(days=7)))
    assert ids(s.standing([counted, next_week])) == ["b", "d"]


def test_sides_told_alone_stand_before_both_at_once_when_they_tell_as_much() -> None:
    both = told("a", a_set())
    left, right = told("b", a_set(side="left", done=8.0)), told("c", a_set(side="right", done=7.0))
    assert ids(s.standing([both, left, right])) == ["b", "c"]
    tapped = told("d", a_set(side="left", outcome="tapped", done=None))
    assert ids(s.standing([both, tapped])) == ["a"]


def test_two_pains_of_one_day_both_stand() -> None:
    two = [told("a", PainTold(MONDAY, "calf", "left", 2)), told("b", PainTold(MONDAY, "calf", "left", 5))]
    assert ids(s.standing(two)) == ["a", "b"]
    assert ids(s.standing([*two, told("c", PainTold(MONDAY, "calf", "left", 5))])) == ["a", "c"]


def test_order_is_by_time_performed() -> None:
    late = told("a", SessionTold(MONDAY, "1", "did", at=time(19)))
    early = told("b", a_set(at=time(7)), minutes=60)
    before = told("c", a_set(2, day=date(2026, 1, 18), session_key="9"), minutes=120)
    assert ids(s.standing([late, early, before])) == ["c", "b", "a"]


def test_a_set_carries_its_envelope() -> None:
    (one,) = s.sets_of([told("a", a_set())], "R01")
    assert (one.entry_id, one.recorded_at) == ("a", NOW)


@held
@given(st.lists(entries(), max_size=12))
def test_what_stands_is_worked_out_once_and_says_the_same(found: list[Entry]) -> None:
    """Asked of the entries or of what stands of them: the same; and nothing is worked out twice."""
    apart = list({e.entry_id: e for e in found}.values())
    stand = s.standing(apart)
    assert s.standing(stand) is stand
    assert s.standing_apart(apart) == stand
    assert all(isinstance(own, s.Stood) for own in s.by_runner(stand).values())
    for runner in {e.runner_id for e in apart}:
        assert s.standing_of(stand, runner) == s.standing_of(apart, runner) == s.by_runner(stand).get(runner, ())
        for of in (s.sets_of, s.tests_of, s.away_of, s.pains_of, s.sessions_of, s.weeks_of, s.runs_of, s.asked_of):
            assert of(stand, runner) == of(apart, runner)


def test_runners_who_share_an_id_each_keep_their_own() -> None:
    mine, other = told("a", a_set()), told("a", replace(a_set(done=3.0), runner_id="R02"), runner="R02")
    stand = s.standing_apart([other, mine])
    assert [f.done for r in ("R01", "R02") for f in s.sets_of(stand, r)] == [8.0, 3.0]
