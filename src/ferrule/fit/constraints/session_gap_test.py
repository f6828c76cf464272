from ferrule.fit.solve import blame, solve
from ferrule.fit.tiny_weeks import problem, session

FORTY_HOURS = 40 * 60


def test_two_days_apart_holds() -> None:
    answer = solve(problem(sessions=[session([0]), session([2])], gap_min=FORTY_HOURS))
    assert answer.slot == (0, 0)


def test_the_next_day_fails_and_the_gap_is_named() -> None:
    p = problem(sessions=[session([0]), session([1])], gap_min=FORTY_HOURS)
    assert solve(p).slot.count(None) == 1
    assert blame(p, [0, 1]) == ("hours between sessions",)


def test_the_order_of_the_text_is_kept() -> None:
    p = problem(sessions=[session([4]), session([0])], gap_min=FORTY_HOURS)
    assert solve(p).slot.count(None) == 1
