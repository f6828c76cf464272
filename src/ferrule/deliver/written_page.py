"""One week of a programme as a page for the coach, with the score of each session."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from ferrule.deliver import cautions
from ferrule.deliver.html import environment, inline
from ferrule.deliver.score import NARROW, score_of_session
from ferrule.deliver.written import WrittenSession, WrittenWeek, written_week
from ferrule.model.exercise import Library
from ferrule.model.programme import Programme, ProgrammeWeek

WIDE_PX = 920.0
"""Width of the score on a desk; a phone and paper get the narrow one."""


@dataclass(frozen=True, slots=True)
class SessionView:
    """A session and its two pictures, of which a page shows one."""

    written: WrittenSession
    wide: Markup
    narrow: Markup


@dataclass(frozen=True, slots=True)
class WeekView:
    """All the template gets."""

    week: WrittenWeek
    sessions: tuple[SessionView, ...]
    purpose: str
    style: Markup
    style_hash: str


def written_page(programme: Programme, week: ProgrammeWeek, library: Library) -> str:
    """One HTML page, for the coach alone: it holds the coach's own notes."""
    style, style_hash = inline("paper.css", "written.css")
    written = written_week(programme, week, library)
    sessions = tuple(
        SessionView(
            said,
            Markup(score_of_session(session, library, wide=WIDE_PX)),  # drawn by us, every text escaped
            Markup(score_of_session(session, library, wide=NARROW)),
        )
        for said, session in zip(written.sessions, week.sessions, strict=True)
    )
    view = WeekView(written, sessions, cautions.PURPOSE, style, style_hash)
    return environment().get_template("written.html").render(page=view)
