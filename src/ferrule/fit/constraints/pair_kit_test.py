from ferrule.fit.solve import solve
from ferrule.fit.tiny_weeks import block, line, option, problem

TWELVE = (("adjustable dumbbell", "12"),)
EIGHT = (("adjustable dumbbell", "8"),)


def test_the_same_setting_holds() -> None:
    lines = [line(option(settings=TWELVE)), line(option(settings=TWELVE))]
    assert solve(problem(lines, blocks=[block(0, "pair")])).option == (0, 0)


def test_two_settings_inside_a_pair_fail() -> None:
    lines = [line(option(settings=TWELVE)), line(option(settings=EIGHT), option(text=10))]
    assert solve(problem(lines, blocks=[block(0, "pair")])).option == (0, 1)


def test_two_settings_in_straight_sets_hold() -> None:
    lines = [line(option(settings=TWELVE)), line(option(settings=EIGHT), option(text=10))]
    assert solve(problem(lines, blocks=[block(0, "straight")])).option == (0, 0)
