"""The solver's seam against brute force on tiny weeks (property), and against itself."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ferrule.fit.gap import gap_words
from ferrule.fit.objective import bounds, weights
from ferrule.fit.problem import BlockOfWeek, Line, Option, Problem, SessionOfWeek, Slot
from ferrule.fit.solve import PACKS, solve
from ferrule.fit.tiny_weeks import brute_force
from ferrule.model.words import Group

GROUPS: list[Group | None] = [None, "hinge", "push"]
SETTINGS = [(), (("adjustable dumbbell", "8"),), (("adjustable dumbbell", "12"),)]
RULES = ["possible days", "hours to a race"]


@st.composite
def weeks(draw: st.DrawFn) -> Problem:
    """Two sessions of one block each, three lines of up to three options: at most some thousand combinations."""
    cuts = [draw(st.integers(1, 2)) for _ in range(2)]
    blocks = tuple(
        BlockOfWeek(
            s, draw(st.sampled_from(["pair", "straight"])),
            tuple((45 * k, draw(st.integers(0, 60))) for k in range(cuts[s])), draw(st.booleans()),
            draw(st.sampled_from([None, 0])),
        )
        for s in range(2)
    )  # fmt: skip
    lines = []
    for i in range(draw(st.integers(1, 3))):
        s = i % 2
        options = []
        for a in range(draw(st.integers(0, 3))):
            seconds = draw(st.integers(1, 60))
            options.append(
                Option(
                    f"{i}{a}", draw(st.sampled_from([0, 2, 10, 100])), draw(st.integers(0, 20)), draw(st.integers(0, 1)),
                    (a << 24) + draw(st.integers(0, 2**20)), tuple(max(1, seconds - 10 * k) for k in range(cuts[s])),
                    (draw(st.integers(0, 40)),) * cuts[s], draw(st.sampled_from(SETTINGS)), draw(st.sampled_from(GROUPS)),
                    draw(st.booleans()), draw(st.sampled_from([False, False, True])), draw(st.integers(0, 2)),
                )
            )  # fmt: skip
        lines.append(Line(f"{s}/{i}", s, s, tuple(options), draw(st.sampled_from([40, 2000])), draw(st.integers(0, 2))))
    sessions = []
    for s in range(2):
        slots = []
        for _ in range(draw(st.integers(1, 3))):
            day = draw(st.integers(0, 6))
            blocked = tuple(draw(st.lists(st.sampled_from(RULES), max_size=1)))
            slots.append(
                Slot(
                    day, day * 1440, draw(st.integers(0, 30)), draw(st.integers(0, 2)), blocked, draw(st.integers(0, 2))
                )
            )
        limit = draw(st.integers(30, 200))
        track = draw(st.sampled_from(["", "", "1"]))
        gap = draw(st.sampled_from([2400, 1440, 480])) if track else 2400
        sessions.append(SessionOfWeek(str(s), draw(st.integers(20, limit)), limit, 5000, tuple(slots), track, gap))
    return Problem(
        tuple(sessions), blocks, tuple(lines), free_days=draw(st.sampled_from([(), (0,), (0, 3)])),
        rest_days=draw(st.integers(0, 1)), cover=draw(st.sampled_from([(), ("hinge",)])), contacts=60,
        new_cap=draw(st.sampled_from([None, 1])),
    )  # fmt: skip


@settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(weeks())
def test_the_solver_finds_the_lexicographic_optimum_of_brute_force(p: Problem) -> None:
    best, _ = brute_force(p)
    answer = solve(p)
    assert answer.proven
    assert answer.levels == best.levels


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(weeks())
def test_the_same_week_gives_the_same_answer(p: Problem) -> None:
    assert solve(p) == solve(p)


@given(weeks())
@settings(max_examples=40, deadline=None, derandomize=True)
def test_packed_weights_leave_no_overlap(p: Problem) -> None:
    most = bounds(p)
    for pack in PACKS:
        packed = weights(p, pack)
        for k in range(len(pack) - 1):
            rest = sum(w * most[level] for w, level in zip(packed[k + 1 :], pack[k + 1 :], strict=True))
            assert packed[k] > rest
        assert sum(w * most[level] for w, level in zip(packed, pack, strict=True)) < 2**62


def test_an_empty_week_has_an_answer() -> None:
    empty = Problem((), (), (), (), 0, (), 100)
    assert solve(empty).levels == (0, 0, 0, 0, 0, 0, 0)


def test_no_time_at_all_gives_the_ground_state_and_says_it_is_not_proven() -> None:
    one = Problem((SessionOfWeek("1", 60, 60, 5000, (Slot(0, 0, 0, 0, ()),)),), (), (), (), 0, (), 100)
    answer = solve(one, time_limit_s=0.0)
    assert not answer.proven
    assert answer.slot == (None,)
    assert answer.levels[0] == 5000
    assert gap_words(answer) == (
        "the best found within the limit: coach's text 5000 price of departures, proven only that it is at least 0; "
        "nothing is proven of as given, minutes, effort, days, as last week, fixed order"
    )


def test_a_proven_answer_has_no_gap_to_tell() -> None:
    answer = solve(Problem((), (), (), (), 0, (), 100))
    assert answer.floors == answer.levels
    assert gap_words(answer) == ""


def big() -> Problem:
    """A week of 60 lines in ten sessions, where minutes make every line depend on the others: slow to prove."""
    lines, blocks, sessions = [], [], []
    for s in range(10):
        blocks.append(BlockOfWeek(s, "straight", tuple((45 * k, 60) for k in range(4)), False))
        slots = tuple(Slot(d, d * 1440, (d * 7 + s) % 11, 0, ()) for d in range(7))
        sessions.append(SessionOfWeek(str(s), 1500, 1700, 5000, slots, str(s), 1440))
        for i in range(6):
            options = tuple(
                Option(
                    f"{s}{i}{a}", (a * 13 + i * 7) % 23, (a * 31 + s * 17 + i) % 97, 0, a,
                    tuple(200 + (s * 37 + i * 53 + a * 71) % 300 - 40 * k for k in range(4)), (0,) * 4, (), None,
                    a % 3 == 0,
                )
                for a in range(8)
            )  # fmt: skip
            lines.append(Line(f"{s}/{i}", s, s, options, 300))
    return Problem(tuple(sessions), tuple(blocks), tuple(lines), (), 0, (), 100, 5)


def test_a_tiny_limit_gives_the_best_found_and_says_how_far_it_is_proven() -> None:
    whole = solve(big())
    assert whole.proven
    assert not solve(big(), 0.01).proven
    for limit_s in (0.01, 0.03, 0.05, 0.1, 0.3, 1.0):
        answer = solve(big(), limit_s)
        assert answer == solve(big(), limit_s)  # the limit counts work, not the clock
        if answer.proven:
            assert answer.levels == whole.levels
        else:
            assert answer.floors[0] <= whole.levels[0] <= answer.levels[0]
            told = f"coach's text {answer.levels[0]} price of departures, proven only that it is at least"
            assert gap_words(answer).startswith("the best found within the limit")
            assert answer.levels[0] == answer.floors[0] or told in gap_words(answer)
