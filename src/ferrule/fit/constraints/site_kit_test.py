from __future__ import annotations

from dataclasses import replace

from ferrule.fit.constraints.site_kit import NAME
from ferrule.fit.problem import Option, Problem, SessionOfWeek
from ferrule.fit.solve import blame, solve
from ferrule.fit.tiny_weeks import brute_force, line, option, problem, session

HOME, CLUB = 0, 1


def at(days: dict[int, int], base: int | None = None) -> SessionOfWeek:
    """A session that may be on these days: day -> site."""
    one = session(list(days))
    return replace(one, slots=tuple(replace(t, site=days[t.day]) for t in one.slots), base=base)


def needs(name: str, *sites: int, text: int = 0, place: int = 0) -> Option:
    return replace(option(name, text=text, place=place), sites=sites)


def both_ways(p: Problem) -> tuple[tuple[int | None, ...], tuple[int | None, ...]]:
    answer = solve(p)
    wanted, many = brute_force(p)
    assert many == 1
    assert answer.levels == wanted.levels
    assert (answer.option, answer.slot) == (wanted.option, wanted.slot)
    return answer.option, answer.slot


def test_the_day_decides_which_kit_there_is() -> None:
    for site in (HOME, CLUB):
        p = problem([line(needs("a", HOME), needs("b", CLUB, place=1))], [at({0: site})])
        assert both_ways(p) == ((site,), (0,))


def test_a_better_choice_at_the_other_site_moves_the_session_there() -> None:
    p = problem([line(needs("a", HOME, text=10), needs("b", CLUB, place=1))], [at({0: HOME, 2: CLUB})])
    assert both_ways(p) == ((1,), (1,))


def test_lines_of_one_session_are_done_at_one_site() -> None:
    lines = [line(needs("a", HOME), needs("b", CLUB, text=30, place=1)), line(needs("c", CLUB))]
    assert both_ways(problem(lines, [at({0: HOME, 2: CLUB})])) == ((1, 0), (1,))


def test_a_session_done_twice_at_two_sites_takes_what_both_have() -> None:
    options = [needs("a", HOME), needs("b", CLUB, place=1), needs("c", HOME, CLUB, text=50, place=2)]
    twice = [at({0: HOME}), at({3: CLUB}, base=0)]
    assert both_ways(problem([line(*options)], twice)) == ((2,), (0, 0))
    same = [at({0: HOME}), at({3: HOME}, base=0)]
    assert both_ways(problem([line(*options)], same)) == ((0,), (0, 0))
    assert both_ways(problem([line(options[2])], same)) == ((None,), (0, 0))


def test_without_sites_there_is_no_rule_and_with_them_it_can_be_blamed() -> None:
    assert blame(problem([line(needs("a", HOME))], [at({0: CLUB})]), [0], [0]) == (NAME,)
    assert blame(problem([line(option())], [session([0])]), [0], [0]) == ()
