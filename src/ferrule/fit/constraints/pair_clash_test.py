from ferrule.fit.solve import solve
from ferrule.fit.tiny_weeks import block, line, option, problem


def test_two_groups_hold() -> None:
    lines = [line(option(group="hinge")), line(option(group="push"))]
    assert solve(problem(lines, blocks=[block(0, "pair")])).option == (0, 0)


def test_one_group_twice_fails() -> None:
    lines = [line(option(group="hinge")), line(option(group="hinge"), option(group="push", text=10))]
    assert solve(problem(lines, blocks=[block(0, "pair")])).option == (0, 1)


def test_what_the_coach_wrote_stays() -> None:
    lines = [line(option(group="hinge")), line(option(group="hinge"), option(group="push", text=10))]
    assert solve(problem(lines, blocks=[block(0, "pair", clash=True)])).option == (0, 0)
