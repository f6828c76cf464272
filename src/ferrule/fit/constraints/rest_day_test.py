from ferrule.fit.objective import DAY_LOST
from ferrule.fit.solve import solve
from ferrule.fit.tiny_weeks import problem, session


def test_one_free_day_is_left_alone() -> None:
    p = problem(sessions=[session([0, 3])], free_days=(0, 6), rest_days=1)
    assert solve(p).slot[0] is not None


def test_the_last_free_day_is_not_used_when_there_is_another() -> None:
    p = problem(sessions=[session([0, 3])], free_days=(0,), rest_days=1)
    assert solve(p).slot == (1,)


def test_a_session_is_dearer_than_a_rest_day() -> None:
    answer = solve(problem(sessions=[session([0])], free_days=(0,), rest_days=1))
    assert answer.slot == (0,)
    assert answer.levels[0] == DAY_LOST


def test_a_runner_who_runs_every_day_is_not_held_to_it() -> None:
    p = problem(sessions=[session([0])], free_days=(), rest_days=1)
    assert solve(p).slot == (0,)


def test_the_house_may_want_none() -> None:
    p = problem(sessions=[session([0])], free_days=(0,), rest_days=0)
    assert solve(p).slot == (0,)
