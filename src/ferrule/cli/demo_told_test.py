"""What the demo's runners hand over is read again by the readers of the log, and each tells it in their own way."""

from __future__ import annotations

from datetime import UTC, date, datetime
from importlib.resources import files

import pytest

from ferrule.cli import demo_told
from ferrule.fit.squad import fit_squad
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.fact import PainTold, SessionTold, WeekTold
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.squad import Squad
from ferrule.programme.reader import read_programme
from ferrule.record.receive import Handed, Read, receive
from ferrule.squad.reader import read_squad
from ferrule.store.record import SentWeek

MONDAY = date(2026, 1, 5)
NOW = datetime(2026, 1, 11, 20, 30, tzinfo=UTC)
WHO = ("R01", "R07", "R08", "R11", "R12", "R16", "R21", "R23", "R24")


@pytest.fixture(scope="module")
def sent() -> tuple[Library, Squad, dict[str, SentWeek]]:
    library, _ = load_library()
    demo = files("ferrule.demo")
    programme, _ = read_programme((demo / "programme.md").read_bytes(), "programme.md", library)
    head, *rows = (demo / "squad.csv").read_text(encoding="utf-8").splitlines(keepends=True)
    some = "".join([head, *(r for r in rows if r.startswith(WHO))])
    squad, _ = read_squad(some.encode(), "squad.csv", library)
    week = fit_squad(programme, squad, library, House(), MONDAY)
    copies = {
        o.runner_id: SentWeek(f"copy-{o.runner_id}", "", 1, o.runner_id, MONDAY, "the coach", NOW, o)
        for o in week.outcomes
        if isinstance(o, FittedWeek)
    }
    assert set(copies) == set(WHO)
    return library, squad, copies


def played(sent: tuple[Library, Squad, dict[str, SentWeek]], *weeks: int) -> list[tuple[demo_told.Handed, ...]]:
    """The files of each of the weeks, the same copies sent every time."""
    library, squad, copies = sent
    play = demo_told.start(squad.runners, library, MONDAY.year)
    out = []
    for week in weeks:
        play, handed = demo_told.told(play, copies.values(), library, week)
        out.append(handed)
    return out


def read(sent: tuple[Library, Squad, dict[str, SentWeek]], one: demo_told.Handed) -> Read:
    library, squad, copies = sent
    by_id = {c.copy_id: c.week for c in copies.values()}
    return receive(
        one.data, one.name,
        Handed(squad, library, NOW.date(), NOW, by_id.get, lambda who, _: (copies[who].week, copies[who].copy_id)),
    )  # fmt: skip


def names(handed: tuple[demo_told.Handed, ...], runner: str) -> list[str]:
    return [h.name for h in handed if h.name.startswith(runner)]


def test_the_same_is_told_every_time(sent: tuple[Library, Squad, dict[str, SentWeek]]) -> None:
    assert played(sent, 1, 2) == played(sent, 1, 2)


def test_twice_late_and_silent(sent: tuple[Library, Squad, dict[str, SentWeek]]) -> None:
    first, second, third = played(sent, 1, 2, 3)
    assert len(names(first, demo_told.TWICE)) == 2
    assert len({h.data for h in first if h.name.startswith(demo_told.TWICE)}) == 1
    assert not names(second, demo_told.LATE)
    assert len(names(third, demo_told.LATE)) == 2
    assert names(first, demo_told.SILENT)
    assert not names(second, demo_told.SILENT)


def test_every_file_is_read_and_tells_the_sets_of_its_week(sent: tuple[Library, Squad, dict[str, SentWeek]]) -> None:
    (first,) = played(sent, 1)
    for handed in first:
        got = read(sent, handed)
        assert not [f for f in got.findings if f.level == "error"], handed.name
        runner = handed.name[:3]
        sets = [e for e in got.entries if isinstance(e.fact, LoggedSet)]
        asked = sum(i.sets for s in sent[2][runner].week.sessions for b in s.blocks for i in b.items)
        if runner == demo_told.WEEKLY:
            assert [type(e.fact) for e in got.entries] == [WeekTold]
        else:
            assert len(sets) >= asked * 0.9, handed.name
    assert {read(sent, h).kind for h in first} == {"phone", "table", "typed"}


def test_pain_illness_and_a_slip(sent: tuple[Library, Squad, dict[str, SentWeek]]) -> None:
    _, second, third = played(sent, 1, 2, 3)

    def facts(handed: tuple[demo_told.Handed, ...], runner: str) -> list[object]:
        return [e.fact for h in handed if h.name.startswith(runner) for e in read(sent, h).entries]

    told = [[f.worst for f in facts(h, demo_told.SORE) if isinstance(f, PainTold)] for h in (second, third)]
    assert told == [[3], [4]]
    ill = facts(second, demo_told.ILL)
    assert ill
    assert all(isinstance(f, SessionTold) and f.why == "ill" and f.outcome == "none" for f in ill)
    (slipped,) = [h for h in third if h.name.startswith(demo_told.SLIP)]
    assert any("asked for" in f.what for f in read(sent, slipped).findings)
