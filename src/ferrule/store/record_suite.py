"""What every record must do, whatever keeps it. A test module of one kind of record takes this class and opens one."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from uuid import UUID

import msgspec
import pytest

from ferrule.store.copies import to_json
from ferrule.store.record import Clearance, Record
from ferrule.store.sample import MONDAY, sample_week

NOW = datetime(2026, 1, 17, 9, 30, tzinfo=UTC)


class RecordSuite:
    """Behaviour shared by all records. `opener` opens the same record again and again."""

    @pytest.fixture
    def opener(self) -> Callable[[], Record]:
        """Each call opens the same record. A record's own test module gives it."""
        raise NotImplementedError

    @pytest.fixture
    def record(self, opener: Callable[[], Record]) -> Iterator[Record]:
        with opener() as record:
            yield record

    def test_a_new_record_is_empty(self, record: Record) -> None:
        assert record.latest("R01", MONDAY) is None
        assert record.sent(MONDAY) == ()
        assert record.clearances() == ()
        assert record.copy("no such id") is None

    def test_a_sent_week_comes_back_as_it_was(self, record: Record, opener: Callable[[], Record]) -> None:
        week = sample_week()
        sent = record.send(week, "  Coach A ", NOW)
        assert (sent.week, sent.runner_id, sent.monday, sent.sequence) == (week, "R01", MONDAY, 1)
        assert (sent.signed_by, sent.signed_at) == ("Coach A", NOW)
        with opener() as again:
            assert again.latest("R01", MONDAY) == sent
            assert again.sent(MONDAY) == (sent,)
            assert again.copy(sent.copy_id) == sent

    def test_the_id_is_a_uuid_of_the_moment_and_the_digest_that_of_the_json(self, record: Record) -> None:
        sent = record.send(sample_week(), "Coach A", NOW)
        assert UUID(sent.copy_id).version == 7
        assert UUID(sent.copy_id).int >> 80 == int(NOW.timestamp() * 1000)
        assert sent.digest == hashlib.sha256(to_json(sent.week)).hexdigest()
        assert msgspec.json.decode(to_json(sent.week))["runner_id"] == "R01"

    def test_signing_the_same_again_returns_the_same_copy(self, record: Record) -> None:
        first = record.send(sample_week(), "Coach A", NOW)
        assert record.send(sample_week(), "Coach B", NOW + timedelta(days=1)) == first
        assert record.sent(MONDAY) == (first,)

    def test_a_whole_number_and_its_decimal_are_the_same_content(self, record: Record) -> None:
        first = record.send(sample_week(), "Coach A", NOW)
        session = first.week.sessions[0]
        whole = replace(first.week, sessions=(replace(session, hours_to_key=24),))
        assert record.send(whole, "Coach A", NOW) == first

    def test_a_changed_week_is_a_new_copy_and_the_old_one_stays(self, record: Record) -> None:
        first = record.send(sample_week(reps=7), "Coach A", NOW)
        second = record.send(sample_week(reps=8), "Coach A", NOW + timedelta(hours=1))
        assert second.sequence == 2
        assert second.copy_id > first.copy_id
        assert record.latest("R01", MONDAY) == second
        assert record.sent(MONDAY) == (first, second)

    def test_which_weeks_were_sent(self, record: Record) -> None:
        later = MONDAY + timedelta(weeks=2)
        record.send(sample_week(monday=later), "Coach A", NOW)
        record.send(sample_week(reps=7), "Coach A", NOW)
        record.send(sample_week(reps=8), "Coach A", NOW)
        record.send(sample_week("R02"), "Coach A", NOW)
        assert list(record.sent_mondays("R01").items()) == [(MONDAY, 2), (later, 1)]
        assert record.sent_mondays("R03") == {}

    def test_going_back_to_an_earlier_content_is_a_copy_of_its_own(self, record: Record) -> None:
        first, _, third = (record.send(sample_week(reps=n), "Coach A", NOW) for n in (7, 8, 7))
        assert (third.sequence, third.digest) == (3, first.digest)
        assert record.latest("R01", MONDAY) == third

    def test_weeks_and_runners_are_apart(self, record: Record) -> None:
        next_monday = MONDAY + timedelta(days=7)
        here = [record.send(sample_week(r), "Coach A", NOW) for r in ("R02", "R01", "R10")]
        there = record.send(sample_week(monday=next_monday), "Coach A", NOW)
        assert [s.runner_id for s in record.sent(MONDAY)] == ["R01", "R02", "R10"]
        assert record.sent(next_monday) == (there,)
        assert [s.sequence for s in (*here, there)] == [1, 1, 1, 1]

    def test_send_all_keeps_all_or_none(self, record: Record) -> None:
        weeks = [sample_week("R01"), sample_week("R02")]
        broken = replace(sample_week("R03"), runner_name=object())  # type: ignore[arg-type]
        with pytest.raises(TypeError):
            record.send_all([*weeks, broken], "Coach A", NOW)
        assert record.sent(MONDAY) == ()
        assert record.send_all(weeks, "Coach A", NOW) == record.sent(MONDAY)

    def test_the_moment_is_kept_in_utc_and_must_have_a_zone(self, record: Record) -> None:
        local = NOW.astimezone(timezone(timedelta(hours=5, minutes=30)))
        assert record.send(sample_week(), "Coach A", local).signed_at.utcoffset() == timedelta(0)
        with pytest.raises(ValueError, match="time zone"):
            record.send(sample_week(reps=9), "Coach A", NOW.replace(tzinfo=None))

    def test_somebody_must_sign(self, record: Record) -> None:
        with pytest.raises(ValueError, match="signed by somebody"):
            record.send(sample_week(), "  ", NOW)
        with pytest.raises(ValueError, match="given by somebody"):
            record.clear("R01", "pregnant", "", date(2026, 1, 2), NOW)
        assert record.sent(MONDAY) == ()

    def test_clearances_are_kept_in_order_and_once(self, record: Record) -> None:
        day = date(2026, 1, 2)
        first = record.clear("R09", "after birth", "midwife", day, NOW)
        other = record.clear("R17", "health question", "Dr M", day, NOW)
        assert record.clear("R09", "after birth", "midwife", day, NOW + timedelta(days=1)) == first
        later = record.clear("R09", "after birth", "Dr M", day + timedelta(days=9), NOW)
        assert first == Clearance("R09", "after birth", "midwife", day)
        assert record.clearances() == (first, other, later)
        assert record.clearances("R09") == (first, later)

    def test_two_senders_at_once_make_each_sequence_once(self, opener: Callable[[], Record]) -> None:
        opener().close()

        def send(n: int) -> int:
            with opener() as record:
                return record.send(sample_week(reps=5 + n), "Coach A", NOW).sequence

        with ThreadPoolExecutor(4) as pool:
            sequences = sorted(pool.map(send, range(12)))
        assert sequences == list(range(1, 13))

    def test_nothing_is_altered_in_a_record_that_was_only_added_to(self, record: Record) -> None:
        record.send(sample_week(), "Coach A", NOW)
        assert record.altered() == ()
