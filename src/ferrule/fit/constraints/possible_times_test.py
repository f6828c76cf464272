from ferrule.fit.problem import SessionOfWeek
from ferrule.fit.solve import blame, solve
from ferrule.fit.tiny_weeks import problem, session, slots


def test_a_free_time_is_taken() -> None:
    assert solve(problem(sessions=[session([2])])).slot == (0,)


def test_a_forbidden_time_is_never_taken_and_the_rule_is_named() -> None:
    shut = SessionOfWeek("1", 3600, 3600, 5000, slots([2], blocked=("possible days",)))
    p = problem(sessions=[shut])
    assert solve(p).slot == (None,)
    assert blame(p, [0]) == ("possible days",)


def test_a_time_two_rules_forbid_is_free_only_when_both_are_lifted() -> None:
    shut = SessionOfWeek("1", 3600, 3600, 5000, slots([2], blocked=("possible days", "hours to a race")))
    assert len(blame(problem(sessions=[shut]), [0])) == 1  # either of them is enough to keep it shut
