"""There and back: what an export holds is what was kept, to the byte."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.store.export import CSV_FILES, from_csv, from_json_file, guarded, to_csv, to_json, unguarded
from ferrule.store.facts import digest_of
from ferrule.store.facts import to_json as entry_json
from ferrule.store.kept import ClearanceRow, EntryRow, ErasureRow, Kept, WeekRow
from ferrule.store.sample import sample_entries
from ferrule.store.sqlite_entries import row_of

WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=30) | st.sampled_from(
    ["=1+1", "+44", "-3", "@x", "'it", "''", "\t=x", "\r\n", 'a"b', "a,b;c", "\ufeff", "\0", "\uff1d1", "1,5", "sep=;"]
)
CONTENT = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53), 2**53) | WORDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3),
    max_leaves=5,
).map(lambda value: msgspec.json.encode(value))
NUMBER = st.integers(0, 10**9)


def rows(made: type[Any], kinds: dict[str, Any]) -> Any:
    return st.lists(st.builds(made, **kinds), max_size=4).map(tuple)


TEXTS = dict.fromkeys(("runner_id", "monday", "digest", "signed_by", "signed_at", "copy_id"), WORDS)
ENTRY = ("entry_id", "runner_id", "kind", "performed_on", "recorded_at", "arrived_at", "source", "replaces", "digest")
KEPT = st.builds(
    Kept,
    rows(WeekRow, {**TEXTS, "sequence": NUMBER, "format": NUMBER, "content": CONTENT}),
    rows(ClearanceRow, dict.fromkeys(("runner_id", "reason", "cleared_by", "cleared_on", "recorded_at"), WORDS)),
    rows(EntryRow, {**dict.fromkeys(ENTRY, WORDS), "format": NUMBER, "content": CONTENT}),
    rows(ErasureRow, {"erased_by": WORDS, "erased_at": WORDS}),
)


@given(KEPT)
@settings(max_examples=150, derandomize=True, deadline=None)
def test_both_forms_hold_every_row_to_the_byte(kept: Kept) -> None:
    assert from_json_file(to_json(kept), "record.json") == (kept, ())
    assert from_csv(to_csv(kept)) == (kept, ())


@given(WORDS)
@settings(max_examples=200, derandomize=True, deadline=None)
def test_no_cell_is_a_formula(words: str) -> None:
    """Cells that begin with = + - @, tab or a line end are taken for formulas (common practice, no source)."""
    assert unguarded(guarded(words)) == words
    assert not guarded(words).startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


def kept_sample() -> Kept:
    return Kept(entries=tuple(EntryRow(**row_of(e, "2026-01-25T07:00:00.000000+00:00")) for e in sample_entries()))


def test_the_tables_for_reading_have_a_column_a_field() -> None:
    files = to_csv(kept_sample())
    reading = {name for name in files if name.startswith("reading/")}
    assert reading == {
        f"reading/{kind}.csv"
        for kind in ("set", "test", "away", "pain", "session", "week", "run", "asked", "decided", "taken_back")
    }
    (told,) = csv.DictReader(io.StringIO(files["reading/set.csv"].decode("utf-8-sig"), newline=""))
    assert (told["variant_id"], told["done"], told["load_kg"], told["reserve"]) == (
        "step-up",
        "7",
        "12",
        '{"low":2,"high":2}',
    )
    (pain,) = csv.DictReader(io.StringIO(files["reading/pain.csv"].decode("utf-8-sig"), newline=""))
    assert (pain["words"], pain["worst"], pain["runner_id"]) == ("'=it hurt, a bit", "4", "R01")
    assert from_csv({name: data for name, data in files.items() if name not in reading}) == (kept_sample(), ())


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "truncated"),
        (b"{}", "missing required field"),
        (to_json(kept_sample())[:-40], "truncated"),
        (b'{"ferrule_record":9,"weeks":[],"clearances":[],"entries":[],"erasures":[]}', "version 9"),
        (b"\xff\xfe", "no export"),
    ],
)
def test_what_is_no_export_is_a_finding(data: bytes, why: str) -> None:
    kept, findings = from_json_file(data, "record.json")
    assert kept == Kept()
    assert [f.code for f in findings] == ["export-unreadable"]
    assert why in findings[0].what


def test_a_spoiled_row_stops_no_other() -> None:
    good = kept_sample()
    spoiled = to_json(good).replace(b'"format":1', b'"format":"one"', 1)
    kept, findings = from_json_file(spoiled, "record.json")
    assert (kept.entries, [f.code for f in findings]) == (good.entries[1:], ["export-row-unreadable"])
    table = to_csv(good)[CSV_FILES["entries"]]
    lines = table.split(b"\r\n")
    short = b"\r\n".join([*lines[:2], b"only,three,cells", *lines[2:]])
    kept, findings = from_csv({CSV_FILES["entries"]: short})
    assert kept == good
    assert [(f.code, f.span.line if f.span else 0) for f in findings] == [("export-row-unreadable", 3)]
    kept, findings = from_csv({CSV_FILES["entries"]: b"a,b\r\n1,2\r\n", CSV_FILES["erasures"]: b"\xff"})
    assert (kept, [f.code for f in findings]) == (Kept(), ["export-unreadable"] * 2)


def test_the_content_is_what_was_digested() -> None:
    (first, *_) = kept_sample().entries
    assert first.content == entry_json(sample_entries()[0])
    assert digest_of(first.content) == first.digest
    assert replace(first, digest="") != first
