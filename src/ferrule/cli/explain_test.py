from __future__ import annotations

import json
import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from ferrule.cli import workspace as ws
from ferrule.cli.explain import explanation, fitted_alone
from ferrule.cli.fitting import fit_week
from ferrule.cli.main import main
from ferrule.cli.next_told import told_in
from ferrule.deliver.explain import explain_page, explain_text
from ferrule.fit.runner import fit_runner
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.fact import Entry, Fact, PainTold
from ferrule.store.opening import open_record
from ferrule.store.record import RECORD_FILE

PROGRAMME = """---
programme: Made
weeks: 2
---

## Cycle 1, weeks 1-2: First

### Session 1: push and calf, 30 min

Straight, 3 sets, rest 90 s

- Press-up: 8, 2 RIR
- Heel raise, one leg: 12/side, 2 RIR
"""

SQUAD = """id,name,birth year,sex,mass,level,kit,minutes,days,anchor,tests,health
R01,Ana T,1990,female,60,some,mat; step 20 cm,45,Mon Wed Fri,from 2026-01-05,heel raises 22,
R02,Bo K,1990,male,70,some,no kit,45,Mon Wed Fri,from 2026-01-05,,yes
"""

MONDAY = date(2026, 1, 5)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "programme.md").write_text(PROGRAMME, encoding="utf-8")
    (tmp_path / "squad.csv").write_text(SQUAD, encoding="utf-8")
    return tmp_path


def said(words: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    assert main(["explain", *words]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_without_logs_it_says_that_it_rests_on_what_is_usual(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = said(["R01", str(folder), "--week", "2026-01-05"], capsys)
    assert "No sets are logged yet: norms, level of training and home tests." in text
    assert "push: Press-up" in text
    assert "No information on it yet: what is usual." in text
    assert "from a home test" in text
    assert "The set that would tell most (week of 5 January, as fitted for this runner alone)" in text


def test_no_force_is_ever_named(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = folder / "out.html"
    text = said(["R01", str(folder), "--exercise", "Press-up", "--out", str(page)], capsys) + page.read_text("utf-8")
    assert not re.search(r"N·m|N m/kg|newton|torque \\d", text)


def test_next_lists_every_dosed_line_in_order(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = said(["R01", str(folder), "--week", "2026-01-05", "--next"], capsys)
    assert "1. session 1" in text
    assert "2. session 1" in text
    assert "likely possible" not in text


def test_the_data_are_those_of_the_words(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "r01", str(folder), "--week", "2026-01-05", "--exercise", "Press-up", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["runner_id"] == "R01"
    assert data["exercise"]["group"] == "push"
    assert len(data["groups"]) == 12
    drops = [t["drop"] for t in data["tellings"]]
    assert drops == sorted(drops, reverse=True)


def test_another_week_falls_back_to_the_first_and_says_so(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "(first week of the programme, as fitted for this runner alone)" in said(
        ["R01", str(folder), "--week", "2027-03-01"], capsys
    )


def test_a_runner_on_hold_is_explained_and_not_fitted(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = said(["R02", str(folder), "--week", "2026-01-05"], capsys)
    assert "On hold, so nothing is fitted" in text
    assert "tell most" not in text


def test_page_and_picture_are_written_and_other_endings_refused(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page, drawn = folder / "out.html", folder / "out.svg"
    said(["R01", str(folder), "--week", "2026-01-05", "--out", str(page)], capsys)
    said(["R01", str(folder), "--exercise", "Press-up", "--out", str(drawn)], capsys)
    assert "<h1>R01 Ana T</h1>" in page.read_text("utf-8")
    assert drawn.read_text("utf-8").startswith("<svg")
    assert main(["explain", "R01", str(folder), "--out", str(folder / "out.pdf")]) == 2
    assert main(["explain", "R02", str(folder), "--out", str(drawn)]) == 2
    assert "name an exercise" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "hint"),
    [
        (["R77"], "no runner"), (["R01", "--exercise", "Pres-up"], "the nearest are"),
        (["R01", "--exercise", "Ankle rock"], "not counted against a best"),
    ],
)  # fmt: skip
def test_wrong_use_says_what_to_write(
    folder: Path, words: list[str], hint: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["explain", words[0], str(folder), *words[1:]]) == 2
    assert hint in capsys.readouterr().err


def test_logged_sets_are_named_and_narrow_what_is_believed(folder: Path) -> None:
    workspace = ws.open_workspace(folder)
    runner = workspace.squad.runners[0]
    press_up = workspace.library.find("Press-up")
    assert press_up is not None
    sets = [
        LoggedSet(
            f"e{n}", "R01", MONDAY + timedelta(days=2 * n), "1", "A1", press_up.id, 1, "counted", done=6,
            reserve=Reserve(2, 2), effort_asked=True,
        )
        for n in range(5)
    ]  # fmt: skip
    before = explanation(workspace, runner, MONDAY, press_up)
    after = explanation(workspace, runner, MONDAY + timedelta(days=7), press_up, sets=sets)
    assert before.exercise is not None
    assert after.exercise is not None
    assert after.logged == 4  # the fifth lies after that day
    text = explain_text(after)
    assert "From 4 entries of what was done before 12 January." in text
    assert "7 January: 6 done, 2 left" in text
    width = [x.exercise.possible.high - x.exercise.possible.low for x in (before, after) if x.exercise]
    assert width[1] < width[0]
    assert "4 sets" in explain_page(after)


def keep(folder: Path, *facts: Fact) -> None:
    at = datetime(2026, 1, 13, 8, tzinfo=UTC)
    told = [Entry(f.entry_id if isinstance(f, LoggedSet) else "told", "R01", at, "page", f) for f in facts]
    with open_record(folder / RECORD_FILE) as record:
        assert record.add(told, at).new == len(told)


def press_ups(day: date, done: int, left: int) -> tuple[LoggedSet, ...]:
    return tuple(
        LoggedSet(
            f"{day}-{n}", "R01", day, "1", "A1", "press-up", n, "counted", asked=8, done=done, reserve=Reserve(left, left),
            effort_asked=True,
        )
        for n in (1, 2, 3)
    )  # fmt: skip


def test_the_week_is_the_one_that_fit_gives(folder: Path) -> None:
    """Within what was sent and what was told; the squad is too small for lanes to count."""
    assert main(["sign", str(folder), "--week", "2026-01-05", "--by", "Cara", "--runner", "R01"]) == 0
    second = MONDAY + timedelta(days=7)
    keep(
        folder, *press_ups(MONDAY + timedelta(days=2), 8, 0), PainTold(MONDAY + timedelta(days=2), "calf", "left", 3, 3),
        *press_ups(second, 30, 4),
    )  # fmt: skip
    workspace = ws.open_workspace(folder)
    runner = workspace.squad.runners[0]
    alone = fitted_alone(workspace, runner, second)
    assert alone == fit_week(workspace, second).outcomes[0]
    told = told_in(workspace, second)
    without = fit_runner(
        workspace.programme, runner, workspace.library, workspace.house, second, told.goes_on["R01"],
        capacity=told.beliefs["R01"],
    )  # fmt: skip
    assert alone != without, "the calf that hurt changes this week"


def test_sets_of_the_day_itself_do_not_count(folder: Path) -> None:
    """On a Monday it is what the fit of that week believes."""
    workspace = ws.open_workspace(folder)
    runner = workspace.squad.runners[0]
    press_up = workspace.library.variants["press-up"]
    before, same, later = (
        explanation(workspace, runner, on, press_up, sets=sets)
        for on, sets in (
            (MONDAY, ()),
            (MONDAY, press_ups(MONDAY, 8, 0)),
            (MONDAY + timedelta(1), press_ups(MONDAY, 8, 0)),
        )
    )
    assert same == before
    assert later.logged == 3
    assert later.exercise != before.exercise


def test_other_runners_sets_say_nothing_of_this_one(folder: Path) -> None:
    workspace = ws.open_workspace(folder)
    other = LoggedSet("e", "R02", MONDAY, "1", "A1", "press-up", 1, "counted", done=6)
    assert explanation(workspace, workspace.squad.runners[0], MONDAY, sets=[other]).logged == 0


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (5, "not corrected: too few sets of this squad yet (known, without load)"),
        (140, "corrected by 140 sets of this squad of all kinds: too few yet (known, without load)"),
    ],
)
def test_it_says_from_how_many_sets_of_the_record_a_chance_is_corrected(
    folder: Path, capsys: pytest.CaptureFixture[str], count: int, words: str
) -> None:
    at = datetime(2026, 1, 9, 8, tzinfo=UTC)
    told = []
    for n in range(count):
        fact = LoggedSet(
            f"e{n:03}", "R01", MONDAY + timedelta(days=n % 5), f"s{n}", "A1", "press-up", 1, "counted", asked=8, done=6 + n % 4,
            reserve=Reserve(2, 2), effort_asked=True,
        )  # fmt: skip
        told.append(Entry(fact.entry_id, "R01", at, "page", fact))
    with open_record(folder / RECORD_FILE) as record:
        assert record.add(told, at).new == count
    text = said(["R01", str(folder), "--week", "2026-01-12", "--exercise", "Press-up"], capsys)
    assert f"The chance of completing a set is {words}." in text
