from ferrule.fit.solve import blame, solve
from ferrule.fit.tiny_weeks import problem, session


def test_one_free_day_is_left_alone() -> None:
    p = problem(sessions=[session([0, 3])], free_days=(0, 6), rest_days=1)
    assert solve(p).slot[0] is not None


def test_the_last_free_day_is_not_used() -> None:
    p = problem(sessions=[session([0])], free_days=(0,), rest_days=1)
    assert solve(p).slot == (None,)
    assert blame(p, [0]) == ("a day with neither run nor session",)


def test_a_runner_who_runs_every_day_is_not_held_to_it() -> None:
    p = problem(sessions=[session([0])], free_days=(), rest_days=1)
    assert solve(p).slot == (0,)


def test_the_house_may_want_none() -> None:
    p = problem(sessions=[session([0])], free_days=(0,), rest_days=0)
    assert solve(p).slot == (0,)
