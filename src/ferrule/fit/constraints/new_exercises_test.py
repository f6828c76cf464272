from ferrule.fit.solve import solve
from ferrule.fit.tiny_weeks import line, option, problem

LINES = [
    line(option("new", new=True), option("known", text=10)),
    line(option("new", new=True), option("known", text=12)),
]


def test_as_many_new_ones_as_the_house_allows_hold() -> None:
    assert solve(problem(LINES, new_cap=2)).option == (0, 0)


def test_one_more_fails_and_the_cheaper_swap_is_made() -> None:
    assert solve(problem(LINES, new_cap=1)).option == (1, 0)


def test_without_last_week_nothing_is_bounded() -> None:
    assert solve(problem(LINES, new_cap=None)).option == (0, 0)
