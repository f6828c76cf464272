from ferrule.fit.problem import SessionOfWeek, Slot
from ferrule.fit.solve import blame, solve
from ferrule.fit.tiny_weeks import problem, session

FORTY_HOURS = 40 * 60


def test_two_days_apart_holds() -> None:
    answer = solve(problem(sessions=[session([0]), session([2])]))
    assert answer.slot == (0, 0)


def test_the_next_day_fails_and_the_gap_is_named() -> None:
    p = problem(sessions=[session([0], gap_min=FORTY_HOURS), session([1], gap_min=FORTY_HOURS)])
    assert solve(p).slot.count(None) == 1
    assert blame(p, [0, 1]) == ("hours between sessions",)


def test_the_order_of_the_text_is_kept() -> None:
    assert solve(problem(sessions=[session([4]), session([0])])).slot.count(None) == 1


def test_a_daily_session_has_a_track_of_its_own() -> None:
    daily = [session([0, 1], track="1", gap_min=1440), session([0, 1], track="1", gap_min=1440)]
    assert solve(problem(sessions=daily)).slot == (0, 1)
    beside = problem(sessions=[session([0]), session([0], track="2", gap_min=1440)])
    assert solve(beside).slot == (0, 0), "the daily one stands before or after the other"


def test_twice_a_day_counts_hours() -> None:
    twice = (Slot(0, 420, 0, 0, ()), Slot(0, 1080, 0, 0, ()))
    near = SessionOfWeek("1", 60, 60, 5000, twice, "1", 8 * 60)
    assert solve(problem(sessions=[near, near])).slot == (0, 1)
    far = SessionOfWeek("1", 60, 60, 5000, twice, "1", 12 * 60)
    assert solve(problem(sessions=[far, far])).slot.count(None) == 1
