from ferrule.fit.solve import blame, solve
from ferrule.fit.tiny_weeks import line, option, problem


def test_a_step_holds() -> None:
    assert solve(problem([line(option("12 kg"), option("8 kg", effort=90))])).option == (0,)


def test_more_than_a_step_fails_though_its_effort_is_nearer() -> None:
    lines = [line(option("20 kg", grown=True), option("8 kg", effort=90, text=2))]
    assert solve(problem(lines)).option == (1,)


def test_a_line_with_nothing_else_is_left_out_and_the_rule_is_named() -> None:
    p = problem([line(option("20 kg", grown=True))])
    assert solve(p).option == (None,)
    assert blame(p, [0], [0]) == ("load growth a week",)
