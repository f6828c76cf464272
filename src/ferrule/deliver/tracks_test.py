"""What is ticked and what the clock counts."""

from dataclasses import replace

from ferrule.deliver import sample_many
from ferrule.deliver.tracks import clock_of, tracks_of
from ferrule.model.fitted import FittedBlock
from ferrule.model.quantity import Range


def _steps(block: FittedBlock) -> list[tuple[str, int]]:
    clock = clock_of(block)
    assert clock is not None
    found = [s.split("=") for s in clock.steps.split("|")]
    assert found[0] == ["Get ready", "5"]
    return [(label, int(seconds)) for label, seconds in found[1:]]


def test_stations_are_one_round_of_work_and_rest() -> None:
    assert _steps(sample_many.stations()) == [
        ("Work 1 of 3", 40), ("Rest", 20), ("Work 2 of 3", 40), ("Rest", 20), ("Work 3 of 3", 40),
    ]  # fmt: skip
    whole = replace(sample_many.stations(), minutes=12)
    assert sum(s for _, s in _steps(whole)) == 720


def test_a_time_and_starts_by_the_clock() -> None:
    assert _steps(sample_many.round_for_12_minutes()) == [("Go on", 720)]
    assert _steps(sample_many.calf().blocks[0]) == [("Set 1 of 3", 90), ("Set 2 of 3", 90), ("Set 3 of 3", 90)]
    minutes = replace(sample_many.round_for_12_minutes(), every_s=90)
    assert _steps(minutes)[-1] == ("Round 8 of 8", 90)


def test_no_clock_where_the_runner_chooses_or_nothing_is_timed() -> None:
    block = sample_many.stations()
    assert clock_of(replace(block, on_s=Range(30, 40))) is None
    assert clock_of(replace(block, exercises=Range(2, 3))) is None
    assert clock_of(replace(block, on_s=None)) is None
    assert clock_of(replace(block, on_s=None, every_s=1, minutes=60)) is None


def test_a_row_for_each_time_or_one() -> None:
    (one,) = tracks_of("s1b2", (), 3, "Round", Range(75, 90))
    assert (one.key, one.legend, one.ticks, one.time) == ("s1b2", "Rounds done", ("Round 1", "Round 2", "Round 3"), 0)
    first, second = tracks_of("s1b2", ("Mon 19", "Wed 21"), None, "Round", None)
    assert (first.key, second.key, second.time) == ("s1b2t1", "s1b2t2", 2)
    assert (second.legend, second.ticks, second.button) == ("All of it done, Wed 21", ("Done",), "Done")
