from ferrule.fit.solve import blame, solve
from ferrule.fit.tiny_weeks import block, line, option, problem, session


def test_a_session_as_long_as_its_limit_holds() -> None:
    p = problem([line(option(seconds=600))], [session(promised_s=600, limit_s=600)])
    assert solve(p).option == (0,)


def test_a_second_over_the_limit_costs_a_line() -> None:
    p = problem([line(option(seconds=601))], [session(promised_s=600, limit_s=600)])
    assert solve(p).option == (None,)
    assert blame(p, [0], [0]) == ("minutes of a session",)


def test_rounds_go_before_lines() -> None:
    pair = block(0, "pair", (0, 100), (45, 50))
    long = option(seconds=500, cuts=2)
    short = long.__class__(**{**{f: getattr(long, f) for f in long.__slots__}, "line_s": (500, 400)})
    answer = solve(problem([line(short)], [session(promised_s=450, limit_s=450)], [pair]))
    assert answer.option == (0,)
    assert answer.reduction == (1,)


def test_minutes_over_the_promise_are_counted() -> None:
    p = problem([line(option(seconds=650))], [session(promised_s=600, limit_s=700)])
    assert solve(p).levels[2] == 50


def test_an_optional_line_goes_first() -> None:
    lines = [line(option(seconds=400)), line(option(seconds=400), omit=40)]
    assert solve(problem(lines, [session(promised_s=500, limit_s=500)])).option == (0, None)
