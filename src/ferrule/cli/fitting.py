"""Fitting one week of a workspace: the clearances of the record, progress on standard error, what stands in the way."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Mapping
from concurrent.futures.process import BrokenProcessPool
from datetime import date
from functools import partial
from typing import TextIO, TypeVar

from ferrule.cli import workspace as ws
from ferrule.cli.findings import may_style, render, terminal_width
from ferrule.cli.next_told import told_in
from ferrule.fit.cycle import fit_cycle
from ferrule.fit.given import Given
from ferrule.model.finding import Finding, has_errors, in_order
from ferrule.model.fitted import Impossible, SquadWeek
from ferrule.next.squad import NextWeek, Told, next_week

T = TypeVar("T")

Progress = Callable[[int, int, str], None]


def fit_week(workspace: ws.Workspace, monday: date, given: Mapping[str, Given] | None = None) -> SquadWeek:
    """The week of the whole squad, with a line of progress when standard error is a terminal.

    What was sent before and everything that was told is read from the record: it decides what is believed of each runner
    and how far each line may go (`ferrule next` says it line by line).
    given   copies of this very week to start from, by runner id
    """
    return fit_next(workspace, told_in(workspace, monday), given).week


def fit_next(workspace: ws.Workspace, told: Told, given: Mapping[str, Given] | None = None) -> NextWeek:
    """The same with what it proposes to each runner; told: what the record says (`told_in`)."""
    many = len(workspace.squad.runners)
    one_fit = partial(
        next_week,
        workspace.programme,
        workspace.library,
        workspace.house,
        told,
        given=given,
        progress=progress_line(sys.stderr, "fitting", many),
    )
    return in_processes(lambda workers: one_fit(workers=workers), many)


def fit_weeks(workspace: ws.Workspace, monday: date, weeks: int) -> tuple[SquadWeek, ...]:
    """`weeks` weeks of the whole squad, each as if the one before had been sent; the first goes on from what was sent."""
    many = len(workspace.squad.runners)
    told = told_in(workspace, monday)
    whole = partial(
        fit_cycle,
        workspace.programme,
        workspace.squad,
        workspace.library,
        workspace.house,
        monday,
        weeks,
        last=told.goes_on,
        beliefs=told.beliefs,
        progress=progress_line(sys.stderr, "fitting", many * weeks, "runner weeks"),
    )
    return in_processes(lambda workers: whole(workers=workers), many)


def in_processes(ask: Callable[[int], T], runners: int) -> T:
    """What `ask` gives with as many processes as suit so many runners, or with one where no other can be started.

    The line of progress is cleared at the end. Python raises NotImplementedError where the system has no semaphores.
    """
    try:
        return ask(workers_for(runners))
    except (BrokenProcessPool, NotImplementedError, OSError):
        return ask(1)
    finally:
        clear_line(sys.stderr)


def workers_for(runners: int) -> int:
    """Processes to fit with: one a core, never more than would each have four runners, at most eight."""
    return max(1, min(os.cpu_count() or 1, runners // 4, 8))


def progress_line(stream: TextIO, doing: str, many: int, of_what: str = "runners") -> Progress | None:
    """A function that rewrites one line, at most ten times a second; None when the stream is no terminal."""
    if not stream.isatty() or many < 4:
        return None
    last = 0.0

    def show(done: int, of: int, _: str = "") -> None:
        nonlocal last
        if done < of and time.monotonic() - last < 0.1:
            return
        last = time.monotonic()
        stream.write(f"\r{doing} {done} of {of} {of_what}\x1b[K")
        stream.flush()

    return show


def clear_line(stream: TextIO) -> None:
    """Take the line of progress away."""
    if stream.isatty():
        stream.write("\r\x1b[K")
        stream.flush()


def text_errors(workspace: ws.Workspace) -> tuple[Finding, ...]:
    """Errors that concern everybody, all but those in one runner's row: nobody is signed while one is there."""
    return tuple(f for f in workspace.findings if f.level == "error" and _row(workspace, f) is None)


def row_errors(workspace: ws.Workspace) -> dict[str, tuple[Finding, ...]]:
    """Errors in the squad list by the id of the runner whose row they are in."""
    by_runner: dict[str, tuple[Finding, ...]] = {}
    for finding in workspace.findings:
        runner = _row(workspace, finding)
        if finding.level == "error" and runner is not None:
            by_runner[runner] = (*by_runner.get(runner, ()), finding)
    return by_runner


def _row(workspace: ws.Workspace, finding: Finding) -> str | None:
    """The runner in whose row the finding is; a row may run over several lines. None for the heading and other files."""
    if finding.span is None or finding.span.file != workspace.squad.file:
        return None
    above = [r for r in workspace.squad.runners if r.span.line <= finding.span.line]
    return max(above, key=lambda r: r.span.line).id if above else None


def show_findings(findings: tuple[Finding, ...], workspace: ws.Workspace, stream: TextIO) -> None:
    """Print findings with their source lines; nothing when there are none."""
    if findings:
        text = render(findings, workspace.sources, width=terminal_width(), styled=may_style(stream))
        print(text, file=stream)


def file_errors(workspace: ws.Workspace) -> tuple[Finding, ...]:
    """The errors of the files: what a coach must read before the table."""
    return tuple(f for f in workspace.findings if f.level == "error")


def serious(workspace: ws.Workspace, week: SquadWeek) -> tuple[Finding, ...]:
    """The errors of the files, and what the fit itself noticed."""
    return in_order((*file_errors(workspace), *week.findings))


def failed(workspace: ws.Workspace, week: SquadWeek) -> bool:
    """True when something is an error or a runner has no week."""
    return has_errors(serious(workspace, week)) or any(isinstance(o, Impossible) for o in week.outcomes)
