"""The squad as a whole: all faults at once, no runner lost, nothing raised."""

from __future__ import annotations

import csv
import io
from datetime import date, time
from importlib.resources import files

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from ferrule.library.reader import load_library
from ferrule.model.finding import in_order
from ferrule.model.squad import Runner, Squad
from ferrule.squad.columns import COLUMNS
from ferrule.squad.place import programme_week
from ferrule.squad.reader import read_squad

LIBRARY, _ = load_library({})
NAMES = [c.name for c in COLUMNS]


def read(text: str) -> tuple[Squad, list[tuple[str, int, int]]]:
    squad, findings = read_squad(text.encode(), "squad.csv", LIBRARY)
    return squad, [(f.code, f.span.line, f.span.column) for f in findings if f.span]


def file_of(*rows: dict[str, str]) -> str:
    text = io.StringIO()
    writer = csv.DictWriter(text, NAMES, restval="", lineterminator="\n", quoting=csv.QUOTE_ALL)
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def one(**cells: str) -> Runner:
    squad, _ = read(file_of({"id": "R01", "name": "Arla T", **{k.replace("_", " "): v for k, v in cells.items()}}))
    return squad.runners[0]


def test_all_faults_of_a_bad_row_at_once_and_the_rest_kept() -> None:
    row = {
        "id": "R01",
        "name": "Arla T",
        "birth year": "1850",
        "mass": "700",
        "kit": "mat; anvil 30 kg; dumbbell -8 kg; kettlebell 12 kg",
        "minutes": "0",
        "days": "Mon Blursday",
        "runs": "Tue key 18:30; Someday long",
        "anchor": "from 2026-01-05",
        "limits": "left calf: nothing above Heal rase, until 12 March, said by Dr M",
        "level": "strong",
    }
    squad, told = read(file_of(row, {"id": "r01", "name": "", "anchor": "from 2026-01-05"}))
    assert told == [
        ("birth-year", 2, 3),
        ("mass", 2, 5),
        ("unreadable-kit", 2, 8),
        ("unreadable-kit", 2, 8),
        ("minutes", 2, 9),
        ("unknown-weekday", 2, 10),
        ("running-week", 2, 11),
        ("unknown-exercise", 2, 14),
        ("runner-twice", 3, 1),
        ("no-name", 3, 2),
    ]
    first, second = squad.runners
    assert (first.level, first.days, first.minutes, first.mass_kg, first.birth_year) == (
        "strong",
        (0,),
        None,
        None,
        None,
    )
    assert [(k.kind, k.kg) for k in first.kit] == [("mat", None), ("kettlebell", 12)]
    assert [(r.day, r.start) for r in first.runs] == [(1, time(18, 30))]
    assert (first.limits[0].ceiling_id, first.limits[0].until) == (None, date(2026, 3, 12))
    assert (second.id, second.name) == ("line-3", "line-3")


def test_the_three_nearest_exercises_are_offered() -> None:
    text = file_of(
        {
            "id": "R01",
            "name": "A",
            "anchor": "from 2026-01-05",
            "limits": "left calf: nothing above heal raize, said by Dr M",
        }
    )
    _, findings = read_squad(text.encode(), "squad.csv", LIBRARY)
    fix = next(f.fix for f in findings if f.code == "unknown-exercise")
    assert fix.count('"') == 6
    assert "Heel raise" in fix


@pytest.mark.parametrize(
    ("cells", "reasons"),
    [
        ({"health": "pregnant"}, ["pregnant"]),
        ({"health": "no"}, []),
        ({"health": "dizzy"}, ["health question"]),
        ({"health": "pregnant, cleared by Dr M"}, ["pregnant"]),
        ({"health": "pregnant, cleared on 2026-01-02"}, ["pregnant"]),
        ({"health": "after surgery; bone stress"}, ["after surgery", "bone stress"]),
        ({"limits": "left wing: nothing"}, ["health question"]),
        ({"sore": "something"}, ["health question"]),
        ({"birth_year": "2010"}, ["under 18 without consent"]),
        ({"birth_year": "2008"}, ["under 18 without consent"]),
        ({"birth_year": "2007"}, []),
        ({"birth_year": "2010", "consent": "yes"}, []),
        ({"birth_year": "2010", "consent": "by Mara T on 2026-01-02"}, []),
        ({"birth_year": "2010", "consent": "no"}, ["under 18 without consent"]),
        ({"birth_year": "2010", "consent": "asked"}, ["under 18 without consent"]),
        ({"birth_year": "twenty"}, ["under 18 without consent"]),
        ({"birth_year": "twenty", "consent": "18 already"}, []),
        ({"birth_year": "2008", "anchor": "to race 2027-03-01"}, ["under 18 without consent"]),
    ],
)
def test_who_is_held(cells: dict[str, str], reasons: list[str]) -> None:
    runner = one(**{"anchor": "from 2026-01-05", **cells})
    assert [h.reason for h in runner.holds if h.cleared_by is None] == reasons


def test_a_row_with_lost_or_moved_cells_is_held() -> None:
    squad, told = read('id,name,kit,health\nR01,Arla T,mat, chair,pregnant\nR02,Bram K,"mat\n')
    assert [code for code, _, _ in told if code in ("extra-cell", "unclosed-quote")] == ["extra-cell", "unclosed-quote"]
    assert all(any(h.cleared_by is None for h in r.holds) for r in squad.runners)


def test_a_column_that_is_missing_is_told_once_for_all() -> None:
    _, told = read("name\nArla T\nBram K\nCelyn O\n")
    assert told == [("missing-column", 1, 1), ("no-anchor", 1, 1), ("no-level", 1, 1)]


def test_the_plural_forbids_the_family() -> None:
    step_up = LIBRARY.find("Step-up")
    assert step_up is not None
    assert [w.variant_id for w in one(notes="no Step-up").wishes] == [step_up.id]
    family = LIBRARY.families[step_up.family].variant_ids
    assert tuple(w.variant_id for w in one(notes="no step-ups").wishes) == family


def test_the_demo_squad() -> None:
    data = (files("ferrule.demo") / "squad.csv").read_bytes()
    squad, findings = read_squad(data, "squad.csv", LIBRARY)
    assert [r.id for r in squad.runners] == [f"R{n:02d}" for n in range(1, 25)]
    assert {(f.code, f.level) for f in findings} == {("no-consent", "advice"), ("note-kept", "note")}
    held = {r.id: r.holds[0].reason for r in squad.runners if any(h.cleared_by is None for h in r.holds)}
    assert held == {"R06": "under 18 without consent", "R15": "pregnant", "R17": "health question"}
    weeks = {r.id: programme_week(r, 6, date(2026, 1, 19)) for r in squad.runners}
    assert weeks == {r.id: 1 if r.id == "R13" else 3 for r in squad.runners}
    assert len({tuple((run.day, run.kind) for run in r.runs) for r in squad.runners}) >= 8
    assert {run.day for r in squad.runners for run in r.runs if run.kind == "key"} == {1, 2, 3}
    assert {run.day for r in squad.runners for run in r.runs if run.kind == "long"} == {5, 6}


CELL = st.one_of(
    st.text(max_size=40),
    st.sampled_from(
        [
            *(
                "60-70",
                "700",
                "-5",
                "1e9",
                "from 2026-01-05",
                "to race 31/12/2026",
                "12 March",
                "Mon-Fri",
                "Tue key 25:99",
            ),
            *(
                "left calf: nothing above Heel raise, until",
                "left calf 99999999999",
                "no hops; no",
                "dumbbell 8 kg x 0",
            ),
            *(
                "adjustable dumbbell 20-2 kg in 0",
                "rucksack to 0 kg",
                "heel raises left 1, right",
                "yes, cleared by on",
            ),
            *(
                "plates 5/5/5 kg x 40",
                "x x x",
                "::",
                ";;;",
                "- -",
                '"',
                "\x00",
                "٣٤",
                "²",
                "9" * 30,
                "step 20 cm 30 cm",
            ),
        ]
    ),
)


@given(st.lists(st.dictionaries(st.sampled_from(NAMES), CELL, max_size=len(NAMES)), min_size=1, max_size=4))
@example([{"mass": "²"}, {"minutes": "1:10"}, {"kit": "dumbbell ٣ kg x ٢"}])
@settings(max_examples=250, derandomize=True, deadline=None)
def test_no_cells_raise_and_no_row_is_lost(rows: list[dict[str, str]]) -> None:
    rows = [
        {"id": f"R{n}", "name": "A", **{k: v.replace("\x00", "") for k, v in row.items()}} for n, row in enumerate(rows)
    ]
    squad, findings = read_squad(file_of(*rows).encode("utf-8", "replace"), "squad.csv", LIBRARY)
    filled = [r for r in rows if any(v.strip() for v in r.values())]
    assert len(squad.runners) == len(filled)
    assert len({r.id for r in squad.runners}) == len(squad.runners)
    assert all(r.name and r.id for r in squad.runners)
    assert findings == in_order(findings)
    assert all(f.span and f.what and f.why and f.fix for f in findings)


@given(st.one_of(st.binary(max_size=300), st.text(max_size=300).map(str.encode)))
@settings(max_examples=200, derandomize=True, deadline=None)
def test_no_bytes_raise(data: bytes) -> None:
    squad, findings = read_squad(data, "squad.csv", LIBRARY)
    assert squad.runners or findings


@given(st.text(alphabet='ab1,;"\n\r ', max_size=120))
@settings(max_examples=300, derandomize=True, deadline=None)
def test_however_the_quotes_stand_the_runners_below_are_read(noise: str) -> None:
    """Rows after a broken one are read: the last runner is always there."""
    text = f"id,name,kit\nR01,{noise}\nR02,Bram K,mat\nR03,Celyn O,mat\n"
    squad, _ = read_squad(text.encode(), "squad.csv", LIBRARY)
    assert squad.runners[-1].id == "R03"
    assert squad.runners[-1].name == "Celyn O"
