from ferrule.fit.objective import SHORTFALL
from ferrule.fit.solve import solve
from ferrule.fit.tiny_weeks import block, line, option, problem, session


def week(*second: object) -> object:
    first = line(option(group="push"))
    other = line(*second, session=1, block=1)  # type: ignore[arg-type]
    return problem([first, other], [session([0]), session([3])], [block(0), block(1)], cover=("push",))


def test_a_group_worked_twice_costs_nothing() -> None:
    answer = solve(week(option(group="push")))  # type: ignore[arg-type]
    assert answer.levels[0] == 0


def test_a_dear_swap_is_taken_to_keep_a_group_at_twice() -> None:
    answer = solve(week(option(group="pull"), option(group="push", text=30)))  # type: ignore[arg-type]
    assert answer.option == (0, 1)


def test_a_shortfall_has_its_price() -> None:
    answer = solve(week(option(group="pull")))  # type: ignore[arg-type]
    assert answer.levels[0] == SHORTFALL
