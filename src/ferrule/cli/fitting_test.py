from __future__ import annotations

import io
from concurrent.futures.process import BrokenProcessPool
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from ferrule.cli.fitting import clear_line, fit_week, progress_line, row_errors, text_errors, workers_for
from ferrule.cli.main import main
from ferrule.cli.workspace import open_workspace
from ferrule.fit.squad import fit_squad
from ferrule.model.fitted import SquadWeek


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def test_progress_only_on_a_terminal_and_only_when_it_helps() -> None:
    assert progress_line(io.StringIO(), "fitting", 24) is None
    assert progress_line(Terminal(), "fitting", 3) is None


def test_progress_rewrites_one_line_and_ends_clean() -> None:
    stream = Terminal()
    show = progress_line(stream, "fitting", 24)
    assert show is not None
    for done in range(1, 25):
        show(done, 24, "Ash")
    clear_line(stream)
    text = stream.getvalue()
    assert "\n" not in text
    assert text.endswith("fitting 24 of 24 runners\x1b[K\r\x1b[K")
    assert text.count("\r") < 24, "more often than a person can read"
    quiet = io.StringIO()
    clear_line(quiet)
    assert quiet.getvalue() == ""


def test_workers_follow_cores_and_squad(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("os.cpu_count", lambda: 4)
    assert [workers_for(n) for n in (0, 3, 8, 24, 200)] == [1, 1, 2, 4, 4]
    monkeypatch.setattr("os.cpu_count", lambda: None)
    assert workers_for(200) == 1


def test_errors_are_told_apart_by_whom_they_concern(tmp_path: Path) -> None:
    folder = tmp_path / "w"
    assert main(["new", str(folder)]) == 0
    squad = (folder / "squad.csv").read_text(encoding="utf-8")
    (folder / "squad.csv").write_text(squad.replace("60-70 kg", "700 kg"), encoding="utf-8")
    workspace = open_workspace(folder)
    assert text_errors(workspace) == ()
    assert set(row_errors(workspace)) == {"R02"}
    (folder / "programme.md").write_text("- not a programme\n", encoding="utf-8")
    assert text_errors(open_workspace(folder))


def test_without_other_processes_the_fit_goes_on_in_this_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[int] = []

    def no_processes(*args: Any, workers: int, **options: Any) -> SquadWeek:
        tried.append(workers)
        if workers > 1:
            raise BrokenProcessPool("no room")
        return fit_squad(*args, workers=workers, **options)

    assert main(["new", str(tmp_path / "w")]) == 0
    workspace = open_workspace(tmp_path / "w")
    monkeypatch.setattr("ferrule.next.squad.fit_squad", no_processes)
    monkeypatch.setattr("ferrule.cli.fitting.workers_for", lambda _: 2)
    week = fit_week(workspace, date(2026, 1, 5))
    assert tried == [2, 1]
    assert [o.runner_id for o in week.outcomes] == ["R01", "R02", "R03"]
