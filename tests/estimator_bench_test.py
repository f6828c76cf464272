"""The estimator on two small simulated squads: loose, honest bounds; `python -m bench estimator` has the table.

Two squads cannot tell margins of a few per cent apart, so the bounds here are wider than the targets of the bench.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest
from bench.estimator import FAIR, OURS, PEERS, PERFECT, TWO_WAY, Estimator, Makers, seasons
from bench.estimator_loop import loop, summary
from bench.estimator_ours import Ours
from bench.estimator_peers import Weighted, expected, readings
from bench.estimator_scores import Score, brier, later, mean, new, repeated, rmse

from ferrule.capacity import curves
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.simulate.squad import MONDAY, make_squad

MAKERS: Makers = {OURS: Ours, FAIR: PEERS[FAIR], TWO_WAY: PEERS[TWO_WAY], PERFECT: PEERS[PERFECT]}


@cache
def scores() -> dict[str, list[Score]]:
    return seasons(2, MAKERS, first_seed=0, runners=16, weeks=9)


def test_enough_sets_were_foretold_to_say_something() -> None:
    assert {len(s) for s in scores().values()} == {len(scores()[OURS])}
    assert sum(map(repeated, scores()[OURS])) > 1000
    assert sum(map(new, scores()[OURS])) > 100


def test_on_what_was_done_before_it_is_about_as_good_as_a_fair_weighted_1rm() -> None:
    assert rmse(scores()[OURS], repeated) < 1.08 * rmse(scores()[FAIR], repeated)
    assert abs(mean(scores()[OURS], repeated, lambda s: s.error)) < 0.10


def test_on_new_exercises_it_is_better_than_both_peers() -> None:
    assert rmse(scores()[OURS], new) < 0.9 * rmse(scores()[FAIR], new)
    assert rmse(scores()[OURS], new) < 1.1 * rmse(scores()[TWO_WAY], new)


def test_its_chances_are_better_and_its_intervals_hold() -> None:
    assert brier(scores()[OURS]) < 0.95 * brier(scores()[FAIR])
    assert 0.83 < mean(scores()[OURS], later, lambda s: s.inside) < 0.98


def test_nothing_is_better_than_knowing_the_body() -> None:
    for name in (OURS, FAIR, TWO_WAY):
        assert rmse(scores()[PERFECT], repeated) < rmse(scores()[name], repeated)
        assert brier(scores()[PERFECT]) < brier(scores()[name])


@pytest.mark.parametrize("taps", [0.0, 0.8])
def test_the_closed_loop_neither_creeps_up_nor_down(taps: float) -> None:
    squad = make_squad(load_library()[0], 1, runners=8, weeks=6, empty_taps=taps)
    hard, easy, middle, done = summary([d for d in loop(squad, Ours(squad)) if d.week >= 2])
    assert abs(middle) < 2
    assert hard < 50
    assert easy < 55
    assert done > 50


def test_who_knows_the_body_doses_best() -> None:
    squad = make_squad(load_library()[0], 1, runners=8, weeks=4)
    hard, easy, middle, _ = summary(loop(squad, None))
    theirs = summary(loop(squad, _fair(squad.seed)))
    assert hard + easy < theirs[0] + theirs[1]
    assert abs(middle) < 1


def _fair(seed: int) -> Estimator:
    return PEERS[FAIR](make_squad(load_library()[0], seed, runners=8, weeks=4))


def a_set(number: int, **told: object) -> LoggedSet:
    plain = LoggedSet(f"e{number}", "S01", MONDAY, "s1", "l1", "squat", number, "counted", asked=8, done=8)
    return replace(plain, **told)  # type: ignore[arg-type]


def test_the_fair_peer_reads_effort_with_its_bias_and_bounds() -> None:
    told = [
        a_set(1, outcome="tapped", done=None),
        a_set(2, reserve=Reserve(2, 2)),
        a_set(3, outcome="failed", done=6.0),
        a_set(4, stopped="pain"),
    ]
    assert [(round(n, 2), kind) for _, n, kind in readings(told, fair=True)] == [
        (8, "at least"),
        (11.5, "point"),
        (6.5, "point"),
    ]
    at_its_word = [n for _, n, _ in readings(told, fair=False)]
    assert at_its_word == [10, 10, 6]


def test_the_weighted_1rm_moves_by_its_gain() -> None:
    squad = make_squad(load_library()[0], 1, runners=1)
    runner, squat = squad.runners[0].runner, squad.library.variants["squat"]
    peer = Weighted(squad.library, [runner], MONDAY.year, fair=True)
    peer.learn(0, [a_set(1, reserve=Reserve(2, 2), load_kg=20.0, place="chest")])
    first = peer.known[0, "squat"]
    peer.learn(0, [replace(a_set(1, reserve=Reserve(2, 2), load_kg=21.0, place="chest"), entry_id="x")])
    main = squat.main
    assert main is not None
    mass = runner.mass_kg or 65.0
    risen = math.log(main.demand(21, "chest", mass) / main.demand(20, "chest", mass))
    assert peer.known[0, "squat"] - first == pytest.approx(0.3 * risen)


def test_an_expectation_gives_chances_that_fit_its_amounts() -> None:
    squat = load_library()[0].variants["squat"]
    said = expected(squat, 20.0, "chest", 65.0, 0.9, 0.1)
    assert said.chance(said.amount()) == pytest.approx(0.5)
    assert said.chance(said.amount(-1.6449)) == pytest.approx(0.95, abs=1e-3)
    share = squat.asks[0].demand(20, "chest", 65) / math.exp(0.9)
    assert said.amount() == pytest.approx(curves.reps_at(share, curves.K_SQUAT))
