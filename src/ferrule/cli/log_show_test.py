from __future__ import annotations

from pathlib import Path

from ferrule.cli.log_show import as_told, told_table
from ferrule.library.reader import load_library
from ferrule.model.fact import Decided, Entry
from ferrule.model.finding import Span
from ferrule.model.squad import Runner
from ferrule.record.phone import read_phone_file
from ferrule.record.standing import standing
from ferrule.store.sample import MONDAY, sample_week

LIBRARY, _ = load_library()
EXAMPLE = (Path(__file__).parents[1] / "record" / "phone_example.json").read_bytes()
ENTRIES = standing(read_phone_file(EXAMPLE, "phone.json", lambda _: sample_week("R01"))[0])
RUNNER = Runner("R01", "Arla T", "some", (), (), (), None, Span("squad.csv", 2))


def test_newest_week_first_and_the_sets_of_an_exercise_in_one_line() -> None:
    table = told_table(RUNNER, ENTRIES, LIBRARY, 100)
    assert table[0] == "R01 Arla T: 10 entries stand"
    weeks = [line for line in table if line.startswith("week of")]
    assert weeks == ["week of 2026-02-02", "week of 2026-01-19", "week of 2026-01-12"]
    (sets,) = [line for line in table if "Step-up" in line and "8 kg" in line]
    assert "left 6 and failed with 8 kg; right 4 with 8 kg, stopped: pain" in " ".join(sets.split())
    assert any("pain: left calf" in line and "4/10, next morning 2/10" in line for line in table)
    assert all(len(line) <= 100 for line in table)


def test_a_narrow_terminal_and_nothing_told() -> None:
    assert all(len(line) <= 60 for line in told_table(RUNNER, ENTRIES, LIBRARY, 50))
    assert told_table(RUNNER, (), LIBRARY, 80) == ["R01 Arla T: 0 entries stand"]


def test_as_data_every_entry_says_what_it_is_of() -> None:
    coach = Entry("x", "R01", ENTRIES[0].recorded_at, "coach", Decided(MONDAY, "1", "i", "hold", "progress", "Coach"))
    told = as_told((*ENTRIES, coach), LIBRARY)
    assert len(told) == 11
    assert all(row["what"] and row["told"] for row in told)
    assert {"progress instead of hold, Coach"} <= {row["told"] for row in told}
