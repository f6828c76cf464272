from ferrule.fit.solve import blame, solve
from ferrule.fit.tiny_weeks import line, option, problem


def test_contacts_at_the_cap_hold() -> None:
    assert solve(problem([line(option(contacts=60)), line(option(contacts=40))], contacts=100)).option == (0, 0)


def test_one_contact_too_many_fails() -> None:
    p = problem([line(option(contacts=60)), line(option(contacts=41), option(text=10))], contacts=100)
    assert solve(p).option == (0, 1)
    only = problem([line(option(contacts=101))], contacts=100)
    assert blame(only, [0], [0]) == ("foot contacts of a session",)
