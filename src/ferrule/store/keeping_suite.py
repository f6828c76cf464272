"""What every record must do when it is exported, filled from an export, and when a runner is erased."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ferrule.model.fact import Entry, Fact
from ferrule.store.entry_suite import ARRIVED
from ferrule.store.export import from_csv, from_json_file, to_csv, to_json
from ferrule.store.facts import KINDS
from ferrule.store.kept import ErasureRow, Kept
from ferrule.store.record import Erasure, Record
from ferrule.store.sample import MONDAY, sample_entries, sample_set, sample_week

NAMES = ("R01", "R02", "=R3")
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
ZONES = st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
MOMENTS = st.datetimes(datetime(2000, 1, 2), datetime(2100, 1, 1), timezones=ZONES)


def facts() -> st.SearchStrategy[Fact]:
    """Any fact of any kind."""
    with_zone = {"recorded_at": st.none() | MOMENTS}
    own = {"runner_id": st.just(""), "entry_id": st.just("")}
    made = []
    for kind in KINDS.values():
        has = kind.__dataclass_fields__
        made.append(st.builds(kind, **{name: s for name, s in (with_zone | own).items() if name in has}))
    return st.one_of(made)


ENTRIES = st.builds(
    Entry,
    st.sampled_from(["a", "b", "c", "d", "e"]),
    st.sampled_from(NAMES),
    MOMENTS,
    st.sampled_from(["page", "table", "typed", "coach", "device"]),
    facts(),
    st.sampled_from(["", "", "a", "b"]),
)


def filled(record: Record) -> None:
    """Two runners with sent weeks, clearances and entries of every kind."""
    record.send_all([sample_week("R01"), sample_week("R02")], "Coach A", ARRIVED)
    record.send(sample_week("R01", reps=9), "Coach A", ARRIVED)
    record.clear("R01", "pregnant", "=midwife", MONDAY, ARRIVED)
    record.clear("R02", "bone stress", "Dr M", MONDAY, ARRIVED)
    record.add([*sample_entries("R01"), *sample_entries("R02")], ARRIVED)


class KeepingSuite:
    """Behaviour shared by all records. `fresh` gives another, empty record each time."""

    @pytest.fixture
    def fresh(self) -> Callable[[], Record]:
        """Each call gives an empty record. A record's own test module gives it."""
        raise NotImplementedError

    @pytest.mark.parametrize("form", ["json", "csv"])
    def test_an_export_taken_elsewhere_is_the_same_record(
        self, record: Record, fresh: Callable[[], Record], form: str
    ) -> None:
        filled(record)
        record.erase("R02", "Coach A", ARRIVED)
        with fresh() as other:
            taken = other.take(there_and_back(record.everything(), form))
            assert (taken.new, taken.known, taken.findings) == (record.everything().count, 0, ())
            assert other.everything() == record.everything()
            assert other.entries() == record.entries()
            assert other.known_as_of(ARRIVED) == record.known_as_of(ARRIVED)
            assert other.sent(MONDAY) == record.sent(MONDAY)
            assert other.clearances() == record.clearances()
            assert other.erasures() == record.erasures()
            again = other.take(record.everything())
            assert (again.new, again.known, again.findings) == (0, taken.new, ())
            assert other.altered() == ()

    @given(st.lists(st.lists(ENTRIES, max_size=4), max_size=3), st.lists(st.tuples(st.sampled_from(NAMES), WORDS)))
    @settings(
        max_examples=40,
        derandomize=True,
        deadline=None,
        suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.differing_executors],
    )
    def test_anything_kept_survives_an_export(
        self, fresh: Callable[[], Record], batches: list[list[Entry]], weeks: list[tuple[str, str]]
    ) -> None:
        with fresh() as record, fresh() as by_json, fresh() as by_csv:
            for n, batch in enumerate(batches):
                added = record.add(batch, ARRIVED + timedelta(days=n))
                unkept = [f for f in added.findings if f.code == "entry-unkept"]  # a number that is none
                assert added.new + added.known + len(unkept) == len(batch)
            for runner_id, name in weeks:
                record.send(replace(sample_week(runner_id), runner_name=name), name.strip() or "Coach A", ARRIVED)
            for other, form in ((by_json, "json"), (by_csv, "csv")):
                findings = other.take(there_and_back(record.everything(), form)).findings
                assert {f.code for f in findings} <= {"entry-changed", "entry-misaimed"}
                assert other.everything() == record.everything()
                assert other.entries() == record.entries()
                assert other.apart() == record.apart()

    def test_two_records_become_one(self, record: Record, fresh: Callable[[], Record]) -> None:
        record.add([sample_set(1), sample_set(2)], ARRIVED + timedelta(days=1))
        with fresh() as other:
            other.add([sample_set(2), sample_set(3)], ARRIVED)
            taken = record.take(other.everything())
        assert (taken.new, taken.known) == (1, 1)
        assert record.entries() == (sample_set(3), sample_set(1), sample_set(2))
        assert record.known_as_of(ARRIVED) == (sample_set(3),)

    def test_what_was_altered_or_contradicts_is_left_out_and_named(
        self, record: Record, fresh: Callable[[], Record]
    ) -> None:
        filled(record)
        kept = record.everything()
        week, entry, cleared = kept.weeks[0], kept.entries[0], kept.clearances[0]
        wrong = Kept(
            weeks=(
                replace(week, content=week.content.replace(b"Step-up", b"Leap-up")),
                replace(week, copy_id="x", runner_id="R07"),
                replace(week, copy_id="y", sequence=2, runner_id="R02", signed_by=""),
            ),
            entries=(
                replace(entry, content=entry.content.replace(b"chest", b"hands")),
                replace(entry, runner_id="R07"),
                replace(entry, arrived_at="2026-01-25T07:00:00+00:00"),
                replace(entry, kind="pain"),
            ),
            clearances=(replace(cleared, reason="fine"), replace(cleared, cleared_on="soon")),
            erasures=(ErasureRow("", "2026-01-25"),),
        )
        with fresh() as other:
            taken = other.take(wrong)
            assert taken.new == 0
            assert [f.code for f in taken.findings] == ["row-left-out"] * len({f.what for f in taken.findings})
            assert len(taken.findings) >= 9
            assert other.everything() == Kept()
            good = other.take(Kept((*wrong.weeks, *kept.weeks), kept.clearances, (*wrong.entries, *kept.entries)))
            assert good.new == kept.count
            assert other.everything() == kept

    def test_a_week_that_goes_on_otherwise_is_left_out(self, record: Record, fresh: Callable[[], Record]) -> None:
        record.send(sample_week(reps=7), "Coach A", ARRIVED)
        with fresh() as other:
            other.send(sample_week(reps=8), "Coach B", ARRIVED)
            taken = record.take(other.everything())
        assert (taken.new, [f.code for f in taken.findings]) == (0, ["row-left-out"])
        assert len(record.sent(MONDAY)) == 1

    def test_an_erased_runner_is_gone_and_nobody_else(self, record: Record) -> None:
        filled(record)
        assert record.runners() == ("R01", "R02")
        erased = record.erase("R01", "  Coach A ", ARRIVED)
        assert (erased.weeks, erased.clearances, erased.entries) == (2, 1, 10)
        assert record.runners() == ("R02",)
        assert (record.sent(MONDAY)[0].runner_id, len(record.sent(MONDAY))) == ("R02", 1)
        assert record.latest("R01", MONDAY) is None
        assert [c.runner_id for c in record.clearances()] == ["R02"]
        assert record.entries() == sample_entries("R02")
        assert record.erasures() == (Erasure("Coach A", ARRIVED),)
        assert record.altered() == ()

    def test_erasing_again_changes_nothing(self, record: Record) -> None:
        filled(record)
        record.erase("R01", "Coach A", ARRIVED)
        again = record.erase("R01", "Coach A", ARRIVED + timedelta(days=1))
        assert (again.weeks, again.clearances, again.entries) == (0, 0, 0)
        assert len(record.erasures()) == 1
        with pytest.raises(ValueError, match="done by somebody"):
            record.erase("R02", " ", ARRIVED)

    def test_where_the_name_remains_is_said(self, record: Record) -> None:
        filled(record)
        about: Any = replace(sample_entries("R02")[3], entry_id="z")
        record.add([replace(about, fact=replace(about.fact, words="ran with Wren today"))], ARRIVED)
        record.clear("R02", "pregnant", "Wren", date(2026, 1, 3), ARRIVED)
        (named, cleared) = record.erase("R01", "Coach A", ARRIVED, ["Wren"]).findings[-2:]
        assert "1 entries of R02" in named.what
        assert "1 clearances of R02" in cleared.what
        assert "Wren" not in named.what + cleared.what

    def test_an_erased_runner_may_begin_again(self, record: Record) -> None:
        filled(record)
        record.erase("R01", "Coach A", ARRIVED)
        assert record.send(sample_week("R01"), "Coach A", ARRIVED).sequence == 1
        assert record.add(sample_entries("R01"), datetime(2026, 2, 1, tzinfo=UTC)).new == 10


def there_and_back(kept: Kept, form: str) -> Kept:
    """The rows of an export read again."""
    read, findings = from_json_file(to_json(kept), "record.json") if form == "json" else from_csv(to_csv(kept))
    assert findings == ()
    return read
