"""The cells `kit` and `days` by site: faults are told once, nothing is lost, nothing raised."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.finding import Finding, Span
from ferrule.model.squad import Site
from ferrule.squad.cell import Cell
from ferrule.squad.kit_cell import read_kit
from ferrule.squad.site_cells import MOST_SITES, read_kits, read_sites
from ferrule.squad.week_cells import read_days

KIT, DAYS = Span("squad.csv", 2, 6), Span("squad.csv", 2, 8)
TWO = "home: mat | club: bench"


def read(kit: str, days: str) -> tuple[tuple[int, ...], tuple[Site, ...], list[Finding]]:
    kits, findings = read_kits(Cell(kit, KIT))
    found = read_sites(kits, Cell(kit, KIT), Cell(days, DAYS))
    return found[0], found[1], [*findings, *found[2]]


def told(kit: str, days: str) -> list[tuple[str, Span | None]]:
    return [(f.code, f.span) for f in read(kit, days)[2]]


def where(kit: str, days: str) -> dict[str, tuple[tuple[str, ...], tuple[int, ...]]]:
    return {s.name: (tuple(i.kind for i in s.kit), s.days) for s in read(kit, days)[1]}


def test_a_bar_a_semicolon_and_a_new_line_part_sites() -> None:
    for text in (
        TWO,
        "home: mat; club: bench",
        "home: mat\nclub: bench",
        "home: mat |club:bench",
        "home : mat, club : bench",
    ):
        assert where(text, "Mon; Fri club") == {"home": (("mat",), (0,)), "club": (("bench",), (4,))}


@pytest.mark.parametrize(
    ("kit", "days", "code", "span"),
    [
        (TWO, "Mon; Fri clbu", "unknown-site", DAYS),
        (TWO, "Mon; Fri at hall", "unknown-site", DAYS),
        (TWO, "Mon; hall: Fri", "unknown-site", DAYS),
        (TWO, "Mon home, Mon Fri club", "day-at-two-sites", DAYS),
        (TWO, "Mon Wed", "site-without-day", KIT),
        (TWO, "", "site-without-day", KIT),
        ("home: mat | home: chair", "Mon", "site-twice", KIT),
        ("mat | bench", "Mon", "site-without-name", KIT),
        ("home: mat | club: widget", "Mon; Fri club", "unreadable-kit", KIT),
        (TWO, "Mon Fri", "site-without-day", KIT),
        ("dumbbells: 8 kg", "Mon", "unreadable-kit", KIT),
        ("Mon: mat", "Mon", "unreadable-kit", KIT),
        ("mat", "Mon Foo", "unknown-weekday", DAYS),
    ],
)
def test_a_fault_is_told_once_with_its_cell(kit: str, days: str, code: str, span: Span) -> None:
    assert told(kit, days) == [(code, span)]


def test_a_site_that_is_not_known_has_only_what_is_everywhere_and_the_nearest_is_named() -> None:
    kit = "band thin; home: mat; club: bench"
    assert where(kit, "Mon; Fri clbu")["clbu"] == (("band",), (4,))
    (finding,) = read(kit, "Mon; Fri clbu")[2]
    assert finding.fix == "Write club."
    assert "Fri" in finding.why
    (finding,) = read(kit, "Mon; Fri moor")[2]
    assert "moor: ..." in finding.fix


def test_no_more_sites_than_the_fit_weighs() -> None:
    kit = " | ".join(f"hall {c}: mat" for c in "abcde")
    days = "Mon hall a; Tue hall b; Wed hall c; Thu hall d"
    assert told(kit, days) == [("too-many-sites", KIT)]
    assert len(read(kit, days)[1]) == MOST_SITES == 4


def test_days_that_a_coach_may_have_meant_for_one_only_are_said_back() -> None:
    """`Mon Wed Fri club` is all three at the club; that nothing is left for home is told, with what was read."""
    days, sites, (finding,) = read(TWO, "Mon Wed Fri club")
    assert [(s.name, s.days) for s in sites] == [("club", days)]
    assert "Mon Wed Fri club" in finding.why


WORDS = st.sampled_from(
    ("Mon", "Wed", "Fri", "home", "club", "at", ":", ";", "|", ",", "any", "weekend", "hall", "Mon-Wed", "-", "and")
)
PIECES = st.sampled_from(("mat", "bench", "home:", "club:", "|", ";", "dumbbell 8 kg", ":", "everywhere:", "x", "\n"))


@settings(max_examples=200, derandomize=True, deadline=None)
@given(kit=st.lists(PIECES, max_size=9).map(" ".join), days=st.lists(WORDS, max_size=9).map(" ".join))
def test_whatever_is_written_every_day_has_one_site_and_only_what_is_written_is_there(kit: str, days: str) -> None:
    possible, sites, findings = read(kit, days)
    at = [d for s in sites for d in s.days]
    assert sorted(at) == (list(possible) if sites else [])
    assert len(sites) <= MOST_SITES + 4
    assert {i.kind for s in sites for i in s.kit} <= {"mat", "bench", "dumbbell"}
    assert all(f.what and f.why and f.fix for f in findings)


@settings(max_examples=100, derandomize=True, deadline=None)
@given(kit=st.lists(st.sampled_from(("mat", "bench", "dumbbell 8 kg x 2", "odd thing")), max_size=4).map("; ".join),
       days=st.lists(st.sampled_from(("Mon", "Wed", "Fri,", "any", "weekend", "Foo", "Mon-Wed")), max_size=4).map(" ".join))  # fmt: skip
def test_without_a_site_both_cells_are_read_as_ever(kit: str, days: str) -> None:
    possible, sites, findings = read(kit, days)
    plain, of_kit = read_kit(Cell(kit, KIT))
    weekdays, of_days = read_days(Cell(days, DAYS))
    assert (possible, sites, findings) == (weekdays, (), [*of_kit, *of_days])
    assert read_kits(Cell(kit, KIT))[0].everywhere == plain
