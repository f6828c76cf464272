"""Sets have one order, whenever they arrive."""

from datetime import date, time

from hypothesis import given
from hypothesis import strategies as st

from ferrule.model.entry import LoggedSet

SETS = st.builds(
    LoggedSet,
    entry_id=st.uuids().map(str),
    runner_id=st.just("R01"),
    day=st.dates(date(2026, 1, 1), date(2026, 1, 3)),
    session_key=st.sampled_from(("1", "2")),
    item_key=st.sampled_from(("a", "b")),
    variant_id=st.just("squat"),
    number=st.integers(1, 3),
    outcome=st.just("counted"),
    at=st.none() | st.times(time(7), time(9)),
)


@given(st.lists(SETS, max_size=8, unique_by=lambda s: s.entry_id), st.randoms(use_true_random=False))
def test_the_order_of_arrival_does_not_matter(sets: list[LoggedSet], chance: object) -> None:
    mixed = list(sets)
    chance.shuffle(mixed)  # type: ignore[attr-defined]
    assert sorted(mixed, key=lambda s: s.order) == sorted(sets, key=lambda s: s.order)


def test_days_come_before_sessions_and_sets() -> None:
    first = LoggedSet("z", "R01", date(2026, 1, 1), "2", "b", "squat", 3, "counted")
    later = LoggedSet("a", "R01", date(2026, 1, 2), "1", "a", "squat", 1, "counted")
    second = LoggedSet("y", "R01", date(2026, 1, 2), "1", "a", "squat", 2, "counted")
    assert sorted([second, later, first], key=lambda s: s.order) == [first, later, second]
