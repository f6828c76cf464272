"""What every record must do with entries, whatever keeps it. Mixed into the suite of each kind of record."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from itertools import permutations
from typing import Any

import pytest

from ferrule.model.entry import LoggedSet
from ferrule.model.fact import Entry, TakenBack
from ferrule.store.facts import digest_of, to_json
from ferrule.store.record import Record
from ferrule.store.sample import MOMENT, sample_entries, sample_set

ARRIVED = datetime(2026, 1, 25, 7, 0, tzinfo=UTC)


def retold(entry: Entry, done: float | None, later: timedelta = timedelta()) -> Entry:
    """The same set under the same id, told otherwise."""
    assert isinstance(entry.fact, LoggedSet)
    return replace(entry, fact=replace(entry.fact, done=done), recorded_at=entry.recorded_at + later)


class EntrySuite:
    """Behaviour shared by all records. `record` is a new one; `opener` opens the same one again."""

    def test_every_kind_of_fact_comes_back_as_it_was(self, record: Record, opener: Callable[[], Record]) -> None:
        mine, theirs = sample_entries("R01"), sample_entries("R02")
        added = record.add([*mine, *theirs], ARRIVED)
        assert (added.new, added.known, added.findings) == (20, 0, ())
        assert len({type(entry.fact) for entry in mine}) == 10
        with opener() as again:
            assert again.entries() == (*mine, *theirs)
            assert again.entries("R02") == theirs
            assert again.entries("R03") == ()
            assert again.altered() == ()

    def test_the_zone_of_the_telling_is_kept(self, record: Record) -> None:
        there = sample_set(1, recorded_at=MOMENT.astimezone(timezone(timedelta(hours=5, minutes=30))))
        record.add([there], ARRIVED)
        assert record.entries()[0].recorded_at.isoformat() == there.recorded_at.isoformat()

    def test_handing_over_twice_doubles_nothing(self, record: Record) -> None:
        entries = sample_entries()
        record.add(entries, ARRIVED)
        again = record.add([*entries, *entries, sample_set(2)], ARRIVED + timedelta(days=1))
        assert (again.new, again.known, again.findings) == (1, 20, ())
        assert record.entries() == (*entries, sample_set(2))

    def test_a_whole_number_and_its_decimal_are_the_same_words(self, record: Record) -> None:
        entry = sample_set(1, done=7)
        record.add([entry], ARRIVED)
        assert record.add([retold(entry, 7.0)], ARRIVED).known == 1

    def test_another_moment_of_recording_is_no_other_telling(self, record: Record) -> None:
        """Lines typed or read from a table have no moment of their own but that of the reading."""
        entry = sample_set(1)
        record.add([entry], ARRIVED)
        assert record.add([retold(entry, 7, timedelta(hours=3))], ARRIVED).known == 1
        assert record.entries() == (entry,)

    def test_the_same_id_with_other_words_is_kept_apart(self, record: Record) -> None:
        entry = sample_set(1)
        other = retold(entry, 9, timedelta(minutes=1))
        record.add([entry], ARRIVED)
        added = record.add([sample_set(2), other, sample_set(3)], ARRIVED)
        assert (added.new, added.known) == (3, 0)
        assert [f.code for f in added.findings] == ["entry-changed"]
        assert record.entries() == (entry, sample_set(2), sample_set(3))
        assert [(a.entry, a.arrived_at, a.finding) for a in record.apart()] == [(other, ARRIVED, added.findings[0])]
        again = record.add([other], ARRIVED)
        assert (again.new, again.known, again.findings) == (0, 1, added.findings)

    @pytest.mark.parametrize("later", [timedelta(minutes=1), timedelta()])
    def test_which_of_them_counts_does_not_depend_on_what_arrived_first(
        self, opener: Callable[[], Record], later: timedelta
    ) -> None:
        for n, order in enumerate(permutations((0, 1, 2))):
            first = sample_set(n)
            tellings = [first, retold(first, 9, later), retold(first, 3, 2 * later)]
            with opener() as record:
                for which in order:
                    record.add([tellings[which]], ARRIVED)
                standing = [entry for entry in record.entries() if entry.entry_id == first.entry_id]
            assert standing == [first if later else min(tellings, key=lambda entry: digest_of(to_json(entry)))]

    @pytest.mark.parametrize("target_first", [True, False])
    def test_one_runner_does_not_take_back_what_another_told(self, record: Record, target_first: bool) -> None:
        told = sample_set(1, "R01")
        wrong = Entry("w", "R02", MOMENT, "page", TakenBack(), told.entry_id)
        fine = Entry("f", "R01", MOMENT, "page", TakenBack(), told.entry_id)
        order = [told, wrong, fine] if target_first else [wrong, fine, told]
        codes = [f.code for entry in order for f in record.add([entry], ARRIVED).findings]
        assert set(codes) == {"entry-misaimed"}
        assert set(record.entries()) == {told, fine}
        assert record.entries("R02") == ()
        assert [a.entry for a in record.apart()] == [wrong]

    def test_odd_entries_block_no_good_ones(self, record: Record) -> None:
        good = sample_set(1)
        told = good.fact
        assert isinstance(told, LoggedSet)
        nowhere = replace(good, entry_id="a", recorded_at=good.recorded_at.replace(tzinfo=None))
        odd: list[Any] = [
            replace(good, entry_id=""),
            replace(good, runner_id="R09"),
            nowhere,
            retold(replace(good, entry_id="b", runner_id=""), 1),
            Entry("c", "R01", MOMENT, "page", TakenBack("\ud800")),
            Entry("d", "R01", MOMENT, "page", "text"),  # type: ignore[arg-type]
            Entry("e", "R01", MOMENT, "smoke signal", TakenBack()),  # type: ignore[arg-type]
            replace(good, entry_id="f", fact=replace(told, entry_id="f", done=float("nan"))),
        ]
        added = record.add([*odd[:4], good, *odd[4:]], ARRIVED)
        assert added.new == 1
        assert [f.code for f in added.findings] == ["entry-unkept"] * len(odd)
        assert record.entries() == (good,)

    def test_a_fault_of_the_disk_keeps_none_of_them(self, record: Record) -> None:
        def entries() -> Any:
            yield sample_set(1)
            raise OSError("the disk went away")

        with pytest.raises(OSError, match="went away"):
            record.add(entries(), ARRIVED)
        assert record.entries() == ()

    def test_old_sets_may_be_left_out_and_nothing_else(self, record: Record) -> None:
        record.add(sample_entries(), ARRIVED)
        everything = record.entries()
        day = min(e.fact.day for e in everything if isinstance(e.fact, LoggedSet))
        rest = tuple(e for e in everything if not isinstance(e.fact, LoggedSet))
        assert 0 < len(rest) < len(everything)
        assert record.entries(sets_from=day) == everything
        assert record.entries(sets_from=day + timedelta(days=400)) == rest

    def test_any_past_day_can_be_seen_again(self, record: Record) -> None:
        days = [ARRIVED + timedelta(days=n) for n in range(4)]
        first, second = sample_set(1), sample_set(2)
        earlier = retold(second, 4, -timedelta(minutes=1))
        wrong = Entry("w", "R02", MOMENT, "page", TakenBack(), "late")
        late = Entry("late", "R01", MOMENT, "page", TakenBack(), first.entry_id)
        for day, entries in zip(days, ([first, second], [earlier, wrong], [late], []), strict=True):
            record.add(entries, day)
        assert record.known_as_of(days[0] - timedelta(seconds=1)) == ()
        assert record.known_as_of(days[0]) == (first, second)
        assert record.known_as_of(days[1]) == (first, earlier, wrong)
        assert record.known_as_of(days[2]) == (first, earlier, late)
        assert record.known_as_of(days[3], "R01") == record.entries() == (first, earlier, late)
        with pytest.raises(ValueError, match="time zone"):
            record.known_as_of(ARRIVED.replace(tzinfo=None))

    def test_two_at_once_add_each_entry_once(self, opener: Callable[[], Record]) -> None:
        opener().close()
        entries = [sample_set(n) for n in range(40)]

        def add(n: int) -> int:
            with opener() as record:
                return record.add(entries[n * 3 : n * 3 + 10], ARRIVED).new

        with ThreadPoolExecutor(4) as pool:
            assert sum(pool.map(add, range(11))) == 40
        with opener() as record:
            assert set(record.entries()) == set(entries)
