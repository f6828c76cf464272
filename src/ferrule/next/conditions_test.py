"""Written conditions: true by what was told, unknown otherwise; and what each action makes of the line."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from ferrule.model.entry import LoggedSet, Outcome, Reserve
from ferrule.model.exercise import Library
from ferrule.model.fact import PainTold
from ferrule.model.fitted import FittedItem, LoadChoice
from ferrule.model.house import House
from ferrule.model.programme import Item, Programme
from ferrule.model.quantity import Range
from ferrule.next.conditions import LineLog, carried, holds, next_harder, of_conditions
from ferrule.next.conftest import KIT, Sent
from ferrule.programme.reader import read_programme
from ferrule.squad.loads import load_choices

DAY = date(2026, 1, 12)
HEAD = "---\nprogramme: P\nweeks: 6\nsessions: 1 a week\n---\n\n## Cycle 1, weeks 1-6: Base\n\n### Session 1, 40 min\n\nStraight, 3 sets, rest 2 min\n\n"


def item_of(text: str, library: Library) -> Item:
    programme: Programme = read_programme(HEAD + text + "\n", "p.md", library)[0]
    return programme.cycles[0].sessions[0].blocks[0].items[0]


def row(*done: float | None, outcome: Outcome = "counted", left: int | None = None) -> tuple[LoggedSet, ...]:
    reserve = None if left is None else Reserve(left, None if left == 4 else left)
    return tuple(
        LoggedSet(f"s{n}", "R01", DAY, "1", "A", "step-up-low", n, outcome, asked=6, done=d, reserve=reserve)
        for n, d in enumerate(done, 1)
    )


@pytest.fixture
def line(sent: Sent) -> FittedItem:
    """6-8 a side, three sets, 2 in reserve, 4 kg in the hands."""
    found = next(i for s in sent(2).sessions for b in s.blocks for i in b.items if i.variant_id == "step-up-low")
    return replace(found, reps=Range(6, 8), rir=Range.of(2), sets=3, load=LoadChoice(4.0, "hands", ("4 kg dumbbell",)))


@pytest.mark.parametrize(
    ("text", "rows", "true"),
    [
        ("when all reps: add 1 rep", (row(8, 8, 8),), True),
        ("when all reps: add 1 rep", (row(8, 8, 7),), False),
        ("when all reps: add 1 rep", (row(8, 8),), False),  # a set is missing
        ("when all reps: add 1 rep", (), None),
        ("when all reps: add 1 rep", (row(None, None, None, outcome="tapped"),), False),  # a tap says 6 at least, not 8
        ("when all reps for 2 sessions: add 1 rep", (row(8, 8, 8),), None),
        ("when all reps for 2 sessions: add 1 rep", (row(8, 8, 8), row(9, 8, 8)), True),
        ("when all reps for 2 sessions: add 1 rep", (row(8, 8, 8), row(5, 8, 8)), False),
        ("when 2 reps over: add 1 rep", (row(10, 10, 10),), True),
        ("when 2 reps over: add 1 rep", (row(10, 10, 9),), False),
        ("when 12 reps: harder", (row(12, 13, 12),), True),
        ("when easy: harder", (row(8, 8, 8, left=4),), True),
        ("when easy: harder", (row(8, 8, 8, left=3),), False),
        ("when easy: harder", (row(8, 8, 8),), None),  # effort was not told
        ("if the last rep fails: less", (row(8, 7, 6, outcome="failed"),), True),
        ("if the last rep fails: less", (row(8, 8, 8),), False),
        ("when technique good: harder", (row(8, 8, 8),), None),
        ("when no pain: harder", (row(8, 8, 8),), True),
    ],
)
def test_what_was_told_makes_it_true(
    text: str,
    rows: tuple[tuple[LoggedSet, ...], ...],
    true: bool | None,
    line: FittedItem,
    library: Library,
    house: House,
) -> None:
    item = item_of(f"- Step-up, low: 6-8/side\n  {text}", library)
    assert item.conditions[0].acts
    assert holds(item.conditions[0], LineLog(line, rows), house) is true


@pytest.mark.parametrize(
    ("text", "worst", "morning", "true"),
    [
        ("if pain above 4: stop", 5, None, True),
        ("if pain above 4: stop", 4, 6, False),
        ("if pain above 2 next morning: ask", 4, 3, True),
        ("if pain above 2 next morning: ask", 4, None, None),
        ("if pain worse next morning: ask", 2, 3, True),
        ("if pain worse next morning: ask", 3, 2, False),
        ("when pain at most 2: go on", 2, None, True),
        ("when pain gone by morning: go on", 4, 1, True),
        ("when pain gone by morning: go on", 4, 2, False),
    ],
)
def test_pain_as_told_at_the_line(
    text: str, worst: int, morning: int | None, true: bool | None, line: FittedItem, library: Library, house: House
) -> None:
    item = item_of(f"- Step-up, low: 6-8/side\n  {text}", library)
    log = LineLog(line, (), (PainTold(DAY, "knee", "left", worst, morning, "1", "A"),))
    assert holds(item.conditions[0], log, house) is true


@pytest.mark.parametrize(
    ("action", "reps", "kg"),
    [("add 1 rep", Range(7, 9), None), ("add 4 kg", None, 8.0), ("add 2.5 kg", None, None), ("add load", None, 8.0)],
)
def test_what_is_added_is_added_to_what_was_sent(
    action: str, reps: Range | None, kg: float | None, line: FittedItem, library: Library, house: House
) -> None:
    """Kit of 4, 8 and 12 kg: 2.5 kg more cannot be made, so nothing follows."""
    item = item_of(f"- Step-up, low: 6-8/side, 2 RIR\n  when all reps: {action}", library)
    kit = {"hands": load_choices(KIT, "hands", 60.0)}
    found = of_conditions(("1", "A"), item, LineLog(line, (row(8, 8, 8),)), library, house, kit)  # type: ignore[arg-type]
    if reps is None and kg is None:
        assert found == []
        return
    assert [r.move for r in found] == ["progress"]
    new = found[0].item
    assert new is not None
    assert new.dose.reps == (reps or Range(6, 8))
    if kg is not None:
        assert new.dose.load is not None
        assert new.dose.load.kg == Range.of(kg)
    assert found[0].reason == f"`when all reps: {action}`"


def test_harder_is_the_next_of_the_family_with_no_more_impact(line: FittedItem, library: Library, house: House) -> None:
    item = item_of("- Step-up, low: 6-8/side\n  when all reps: harder", library)
    found = of_conditions(("1", "A"), item, LineLog(line, (row(8, 8, 8),)), library, house, {})
    assert found[0].item is not None
    was, now = library.variants["step-up-low"], next_harder(library.variants["step-up-low"], library)
    assert now is not None
    assert now.family == was.family
    assert now.main is not None
    assert was.main is not None
    assert now.main.base > was.main.base
    assert now.impact <= was.impact


@pytest.mark.parametrize(
    ("text", "move", "most"),
    [
        ("when all reps: ask", "ask", 1.0), ("when all reps: stop", "stop", 1.0), ("when all reps: hold", "hold", 1.0),
        ("when all reps: less", "back off", 0.9), ("when all reps: easier", "back off", 0.95),
    ],
)  # fmt: skip
def test_actions_that_do_not_add(
    text: str, move: str, most: float, line: FittedItem, library: Library, house: House
) -> None:
    item = item_of(f"- Step-up, low: 6-8/side\n  {text}", library)
    found = of_conditions(("1", "A"), item, LineLog(line, (row(8, 8, 8),)), library, house, {})
    assert [(r.move, r.most) for r in found] == [(move, most)]


def test_how_it_looks_is_asked(line: FittedItem, library: Library, house: House) -> None:
    item = item_of("- Step-up, low: 6-8/side\n  when technique good: harder", library)
    found = of_conditions(("1", "A"), item, LineLog(line, (row(8, 8, 8),)), library, house, {})
    assert [r.move for r in found] == ["ask"]


def test_what_was_added_stays_while_the_text_is_the_same(line: FittedItem, library: Library) -> None:
    item = item_of("- Step-up, low: 6-8/side\n  when all reps: add 1 rep", library)
    more = replace(line, reps=Range(7, 9))
    kept = carried(item, item, more)
    assert kept is not None
    assert kept.dose.reps == Range(7, 9)
    assert carried(item, replace(item, dose=replace(item.dose, reps=Range(5, 8))), more) is None
    assert carried(item, item, line) is None
    assert carried(item_of("- Step-up, low: 6-8/side", library), None, more) is None


def test_a_harder_exercise_and_a_heavier_load_stay(line: FittedItem, library: Library) -> None:
    item = item_of("- Step-up, low: 6-8/side\n  when all reps: harder", library)
    kept = carried(item, item, replace(line, written="Step-up", variant_id="step-up"))
    assert kept is not None
    assert kept.exercise.variant_id == "step-up"  # type: ignore[union-attr]
    loaded = item_of("- Step-up, low: 6-8/side, 4 kg\n  when all reps: add 4 kg", library)
    kept = carried(loaded, loaded, replace(line, load=LoadChoice(8.0, "hands", ("8 kg dumbbell",))))
    assert kept is not None
    assert kept.dose.load is not None
    assert kept.dose.load.kg == Range.of(8)
