from __future__ import annotations

import base64
import json
import re
import zlib
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from ferrule.model.entry import LoggedSet, LoggedTest, Reserve, TimeAway
from ferrule.model.fact import Asked, Entry, PainTold, RunTold, SessionTold, TakenBack, WeekTold
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek, LoadChoice
from ferrule.model.quantity import Range
from ferrule.record.phone import read_phone_file
from ferrule.record.standing import standing

EXAMPLE = Path(__file__).with_name("phone_example.json").read_bytes()
COPY = "0198c0de-0000-7000-8000-000000000001"
MONDAY = date(2026, 1, 19)


def an_item(key: str, **given_: Any) -> FittedItem:
    item = FittedItem(
        key, "Step-up", "step-up", "Step-up", 4, Range(5, 7), None, None, None, True, False, None,
        LoadChoice(12.0, "chest", ("12 kg dumbbell",)), None, None, None, None, (), False,
    )  # fmt: skip
    return replace(item, **given_)


def a_week(runner_id: str = "R01") -> FittedWeek:
    items = (an_item("c1/s1/b1/i0"), an_item("c1/s1/b1/i1"))
    plank = an_item("c1/s2/b1/i0", variant_id="front-plank", name="Plank", reps=None, hold_s=Range(30, 40), load=None)
    block = FittedBlock("pair", "A", 4, None, None, items)
    one = FittedSession("u1", "c1/s1", "calf", MONDAY, None, 30, (block,), (), (), None)
    two = replace(one, uid="u2", key="c1/s2", day=MONDAY + timedelta(2), blocks=(replace(block, items=(plank,)),))
    return FittedWeek(runner_id, "Arla T", "Fell-ready", 3, "Foundations", MONDAY, (one, two), ())


def sent(copy_id: str) -> FittedWeek | None:
    return a_week() if copy_id == COPY else None


def an_id(n: int) -> str:
    return str(UUID(int=n << 80 | 7 << 76 | 2 << 62))


def a_file(*entries: dict[str, Any], **head: Any) -> bytes:
    filled = [{"id": an_id(i), "at": "2026-01-19T18:40:00+01:00", **e} for i, e in enumerate(entries, 1)]
    body = {"ferrule": 1, "copy": COPY, "runner": "R01", "made": "2026-01-20T07:00:00+01:00", **head}
    return json.dumps({**body, "entries": filled, "end": head.get("end", len(filled))}).encode()


def codes(findings: tuple[Finding, ...]) -> list[str]:
    return [f.code for f in findings]


A_SET = {"kind": "set", "session": "c1/s1", "item": "c1/s1/b1/i0", "n": 1, "outcome": "tapped"}


def one(data: bytes, look: Callable[[str], FittedWeek | None] = sent) -> Any:
    entries, findings = read_phone_file(data, "phone.json", look)
    assert not findings, findings
    assert len(entries) == 1
    return entries[0].fact


def test_the_example_is_read_whole_and_holds_every_kind() -> None:
    entries, findings = read_phone_file(EXAMPLE, "phone_example.json", sent)
    assert findings == ()
    assert len(entries) == 13
    kinds = {type(e.fact) for e in entries}
    assert kinds == {LoggedSet, PainTold, SessionTold, TakenBack, WeekTold, Asked, TimeAway, LoggedTest, RunTold}
    assert {e.source for e in entries} == {"page"}
    stand = standing(entries)
    assert len(stand) == 10  # one pain replaced, one set taken back, the taking back itself
    pain = next(e.fact for e in stand if isinstance(e.fact, PainTold))
    assert (pain.worst, pain.morning, pain.variant_id) == (4, 2, "step-up")


def test_a_set_says_the_rest_of_its_line() -> None:
    told = one(a_file(A_SET))
    assert told == LoggedSet(
        an_id(1), "R01", MONDAY, "c1/s1", "c1/s1/b1/i0", "step-up", 1, "tapped", "reps", 5.0, load_kg=12.0, place="chest",
        copy_id=COPY, recorded_at=datetime.fromisoformat("2026-01-19T18:40:00+01:00"),
    )  # fmt: skip
    hold = one(a_file({**A_SET, "session": "c1/s2", "item": "c1/s2/b1/i0", "outcome": "counted", "done": 35}))
    assert (hold.unit, hold.asked, hold.done, hold.load_kg, hold.place) == ("s", 30.0, 35.0, 0.0, None)


def test_what_the_entry_says_goes_before_its_line() -> None:
    told = one(a_file({**A_SET, "load_kg": 8, "outcome": "failed", "done": 6, "side": "left", "time": "18:40"}))
    assert (told.load_kg, told.place, told.outcome, told.done, told.side) == (8.0, "chest", "failed", 6.0, "left")
    assert told.at == time(18, 40)
    none = one(a_file({**A_SET, "load_kg": 0}))
    assert (none.load_kg, none.place) == (0.0, None)
    band = one(a_file({**A_SET, "band": "medium"}))
    assert (band.load_kg, band.place, band.band) == (2.0, "band", "medium")
    other = one(a_file({**A_SET, "variant": "low-step-up"}))
    assert (other.variant_id, other.load_kg, other.asked) == ("low-step-up", 0.0, None)


@pytest.mark.parametrize(
    ("told", "read"),
    [(0, Reserve(0, 0)), (3, Reserve(3, 3)), (4, Reserve(4, None)), (9, Reserve(4, None)), ([1, 2], Reserve(1, 2))],
)
def test_how_many_more(told: object, read: Reserve) -> None:
    fact = one(a_file({**A_SET, "outcome": "counted", "done": 6, "reserve": told}))
    assert fact.reserve == read
    assert fact.effort_asked


def test_dont_know_is_asked_and_not_told() -> None:
    fact = one(a_file({**A_SET, "outcome": "counted", "done": 6, "effort_asked": True}))
    assert (fact.reserve, fact.effort_asked) == (None, True)


@pytest.mark.parametrize("cut", range(2, len(EXAMPLE), 97))
def test_half_a_file_gives_its_whole_entries_and_says_so(cut: int) -> None:
    whole, _ = read_phone_file(EXAMPLE, "phone.json", sent)
    part, findings = read_phone_file(EXAMPLE[:cut], "phone.json", sent)
    assert part == whole[: len(part)]
    assert findings
    assert all(f.level == "error" and f.span is not None for f in findings)
    ends = [m.end() - 1 for m in re.finditer(rb"\},?\n", EXAMPLE)][:13]
    assert len(part) == sum(end < cut for end in ends)


def test_an_entry_damaged_on_the_way_loses_only_itself() -> None:
    data = a_file(A_SET, {**A_SET, "n": 2}, {**A_SET, "n": 3}).replace(b'"n": 2', b'"n": %%')
    entries, findings = read_phone_file(data, "phone.json", sent)
    assert [e.fact.number for e in entries if isinstance(e.fact, LoggedSet)] == [1, 3]
    assert codes(findings) == ["log-cut-off"]
    assert findings[0].span is not None
    assert findings[0].span.column == data.decode().index('{"id": "' + an_id(2)) + 1


def test_a_message_around_it_typographic_quotes_and_two_in_one_file() -> None:
    first, second = a_file(A_SET).decode(), a_file({**A_SET, "n": 2, "id": an_id(9)}).decode()
    said = f"Hello,\nhere it is: {first}\n> and\n{second}\nBye".encode()
    entries, findings = read_phone_file(said, "message.txt", sent)
    assert (len(entries), findings) == (2, ())
    curly = first.replace('{"', "{\u201c").replace('": ', "\u201d: ")
    entries, _ = read_phone_file(curly.encode(), "message.txt", sent)
    assert len(entries) == 1


def packed(data: bytes) -> bytes:
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15)
    return b"FERRULE1:" + base64.urlsafe_b64encode(squeeze.compress(data) + squeeze.flush()).rstrip(b"=")


def test_the_packed_form_also_broken_over_lines_and_cut_off() -> None:
    plain, _ = read_phone_file(EXAMPLE, "phone.txt", sent)
    code = packed(EXAMPLE)
    entries, findings = read_phone_file(code, "phone.txt", sent)
    assert (entries, findings) == (plain, ())
    broken = b"Log:\n> " + b"\n> ".join(code[i : i + 60] for i in range(0, len(code), 60)) + b"\nBest, A"
    assert read_phone_file(broken, "phone.txt", sent)[0] == plain
    half, findings = read_phone_file(code[: len(code) // 2], "phone.txt", sent)
    assert half == plain[: len(half)]
    assert 0 < len(half) < len(plain)
    assert codes(findings) == ["log-cut-off"]


def test_a_wrong_clock_is_named_once_and_the_day_of_the_session_stands() -> None:
    sets = [{**A_SET, "n": n, "at": "1970-01-01T00:10:00+00:00", "time": "00:10"} for n in (1, 2, 3)]
    entries, findings = read_phone_file(a_file(*sets), "phone.json", sent)
    assert [(e.fact.day, e.fact.at) for e in entries if isinstance(e.fact, LoggedSet)] == [(MONDAY, None)] * 3
    assert codes(findings) == ["log-clock"]
    assert "3 entries say 1970-01-01" in findings[0].what
    future = a_file({"kind": "pain", "day": "2031-05-05", "region": "calf", "worst": 3})
    entries, findings = read_phone_file(future, "phone.json", sent)
    assert isinstance(entries[0].fact, PainTold)
    assert entries[0].fact.day == MONDAY + timedelta(6)
    assert codes(findings) == ["log-clock"]


def test_without_a_sent_week_an_impossible_day_keeps_pain_and_names_the_rest() -> None:
    known = {**A_SET, "variant": "step-up", "day": "1970-01-01"}
    data = a_file(known, {"kind": "pain", "day": "1970-01-01", "flags": ["fever"]}, copy="")
    entries, findings = read_phone_file(data, "phone.json")
    assert [type(e.fact) for e in entries] == [PainTold]
    assert codes(findings) == ["log-entry-unread", "log-clock"]


def test_another_runners_file_is_refused_by_name() -> None:
    entries, findings = read_phone_file(a_file(A_SET, runner="R02"), "phone.json", sent)
    assert entries == ()
    assert codes(findings) == ["log-other-runner"]
    assert "R01 Arla T" in findings[0].what
    assert "R02" in findings[0].what


def test_a_copy_the_record_does_not_know_is_taken_as_told() -> None:
    data = a_file({**A_SET, "variant": "step-up", "load_kg": 6}, A_SET, copy=an_id(77))
    entries, findings = read_phone_file(data, "phone.json", sent)
    assert [e.fact.variant_id for e in entries if isinstance(e.fact, LoggedSet)] == ["step-up"]
    assert sorted(codes(findings)) == ["log-copy-unknown", "log-entry-unread"]


def test_a_line_the_copy_does_not_hold() -> None:
    data = a_file({**A_SET, "item": "c9/x"}, {**A_SET, "item": "c9/y", "variant": "step-up"})
    entries, findings = read_phone_file(data, "phone.json", sent)
    assert len(entries) == 1
    assert sorted(codes(findings)) == ["log-entry-unread", "log-line-unknown"]


def test_values_that_cannot_be_are_named_and_the_rest_is_kept() -> None:
    session = {"kind": "session", "session": "c1/s1", "outcome": "did", "rating": 12, "minutes": 30, "mood": "good"}
    entries, findings = read_phone_file(a_file(session), "phone.json", sent)
    assert isinstance(entries[0].fact, SessionTold)
    assert (entries[0].fact.rating, entries[0].fact.minutes) == (None, 30.0)
    assert sorted(codes(findings)) == ["log-key-unknown", "log-value"]


def test_a_flag_is_never_lost() -> None:
    data = a_file({"kind": "pain", "region": "elbow", "worst": -1, "flags": ["calf swelling", "dizzy"]})
    entries, findings = read_phone_file(data, "phone.json", sent)
    fact = entries[0].fact
    assert isinstance(fact, PainTold)
    assert (fact.flags, fact.words, fact.region) == (("calf swelling",), "flag told: dizzy", None)
    assert set(codes(findings)) == {"log-value"}


def test_a_count_and_its_outcome_that_do_not_go_together() -> None:
    data = a_file({**A_SET, "done": 6}, {**A_SET, "n": 2, "outcome": "counted"})
    entries, findings = read_phone_file(data, "phone.json", sent)
    assert [e.fact.outcome for e in entries if isinstance(e.fact, LoggedSet)] == ["counted", "not said"]
    assert codes(findings) == ["log-value", "log-value"]


def test_an_id_that_is_none_is_made_from_the_content() -> None:
    data = a_file({**A_SET, "id": "one"})
    (first,), findings = read_phone_file(data, "phone.json", sent)
    (again,), _ = read_phone_file(data, "other.json", sent)
    assert first == again
    assert codes(findings) == ["log-value"]


def test_one_id_with_two_contents_is_named() -> None:
    data = a_file({**A_SET, "id": an_id(1)}, {**A_SET, "id": an_id(1), "n": 2})
    entries, findings = read_phone_file(data, "phone.json", sent)
    assert len(entries) == 1
    assert codes(findings) == ["log-id-twice"]


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "log-not-read"),
        (b"id,name\nR01,A", "log-not-read"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "log-not-read"),
        (b'{"ferrule": 2, "runner": "R01", "entries": [], "end": 0}', "log-version"),
        (b'{"ferrule": 1, "entries": [], "end": 0}', "log-no-runner"),
        (b'{"ferrule": 1, "runner": "R01", "entries": []}', "log-cut-off"),
        (b'{"ferrule": 1, "runner": "R01", "entries": [], "end": 4}', "log-cut-off"),
        (b'{"ferrule": 1, "runner": "R01"}', "log-cut-off"),
        (b'{"ferrule": 1, "runner": "R0', "log-cut-off"),
        (b"FERRULE1:!!", "log-not-read"),
        (b"FERRULE1:abcdefghij", "log-cut-off"),
        (b'{"ferrule": 1, "runner": "R01", "entries": [' + b"[" * 100_000, "log-cut-off"),
        (b'{"ferrule": 1, "runner": "R01", "entries": [7, {"kind": "dance"}], "end": 2}', "log-entry-unread"),
    ],
)
def test_what_cannot_be_read_is_named_and_never_raises(data: bytes, code: str) -> None:
    entries, findings = read_phone_file(data, "phone.json", sent)
    assert entries == ()
    assert code in codes(findings)


values = st.recursive(
    st.one_of(
        st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=5), st.sampled_from(("tapped", "R01"))
    ),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4), inner, max_size=3)),
    max_leaves=6,
)
KEYS = ({k for e in json.loads(EXAMPLE)["entries"] for k in e} | {"band", "unit", "stopped", "flags", "copy"}) - {
    "kind",
    "id",
}
KINDS = ("set", "session", "week", "pain", "ask", "away", "test", "run", "back")


@settings(derandomize=True, max_examples=200, deadline=None)
@given(
    st.lists(
        st.fixed_dictionaries({"kind": st.sampled_from(KINDS)}, optional=dict.fromkeys(sorted(KEYS), values)),
        max_size=4,
    )
)
@example([{"kind": "set", "n": 1, "outcome": "tapped", "variant": "a", "done": float("inf")}])
def test_any_value_anywhere_is_read_or_named(entries: list[dict[str, Any]]) -> None:
    read, findings = read_phone_file(a_file(*entries), "phone.json", sent)
    assert all(isinstance(e, Entry) for e in read)
    assert len(read) + codes(findings).count("log-entry-unread") == len(entries)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.lists(st.lists(st.integers(0, 12), min_size=1, max_size=8), min_size=1, max_size=5))
def test_any_split_of_a_log_over_files_gives_the_same_standing(parts: list[list[int]]) -> None:
    all_of = json.loads(EXAMPLE)
    rest = sorted(set(range(13)) - {i for part in parts for i in part})
    found: list[Entry] = []
    for part in [*parts, rest]:
        chosen = [all_of["entries"][i] for i in part]
        data = json.dumps({**all_of, "entries": chosen, "end": len(chosen)}).encode()
        found += read_phone_file(data, "part.json", sent)[0]
    assert standing(found) == standing(read_phone_file(EXAMPLE, "all.json", sent)[0])
