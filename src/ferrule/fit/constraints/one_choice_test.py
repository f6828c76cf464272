from ferrule.fit.solve import solve
from ferrule.fit.tiny_weeks import line, option, problem


def test_a_line_has_exactly_one_choice() -> None:
    answer = solve(problem([line(option("a", effort=5), option("b", effort=3))]))
    assert answer.option == (1,)


def test_a_line_without_choices_is_omitted_at_its_price() -> None:
    answer = solve(problem([line(omit=70)]))
    assert answer.option == (None,)
    assert answer.levels[0] == 70
