"""The coach's page before signing: who needs a look, what differs and why, how the squad meets each line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from ferrule.deliver import amounts, cautions
from ferrule.deliver.changes import (
    LineChanges,
    Mover,
    NotFitted,
    SessionChange,
    as_written,
    differs,
    line_changes,
    not_fitted,
    session_changes,
)
from ferrule.deliver.family_picture import family_picture
from ferrule.deliver.html import environment, inline
from ferrule.deliver.outlook import (
    LaneLine,
    OutRow,
    kit_rows,
    lane_lines,
    lanes_summary,
    region_words,
    runs_out_rest,
    variant_rows,
)
from ferrule.deliver.pictures import spread_picture, week_picture
from ferrule.deliver.plain import clean, sentence
from ferrule.deliver.readback import (
    Look,
    Moved,
    budget,
    by_cycle,
    counts,
    cycle_words,
    first_looks,
    moved,
    right_for_all,
    right_lines,
    weeks,
    who,
)
from ferrule.deliver.repeats import base_key, repeated, short_days
from ferrule.deliver.score import NARROW, score_of_fitted
from ferrule.deliver.session_words import session_title
from ferrule.deliver.table import squad_table
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek, LineSpread, SquadWeek
from ferrule.model.house import House
from ferrule.model.squad import Runner, Squad

__all__ = ["squad_page", "squad_table"]


@dataclass(frozen=True, slots=True)
class MoverView:
    """One runner of a change: what is their own in it, and where they stand in the family."""

    who: str
    own: str
    dose: str
    svg: Markup


@dataclass(frozen=True, slots=True)
class ChangeView:
    """What is done instead, why, and who does it."""

    now: str
    why: str
    movers: tuple[MoverView, ...]


@dataclass(frozen=True, slots=True)
class LineChangesView:
    """One written line that somebody does otherwise."""

    where: str
    written: str
    changes: tuple[ChangeView, ...]


@dataclass(frozen=True, slots=True)
class LineView:
    """One written line, who was moved from it, and its spread over the squad."""

    key: str
    written: str
    moved: tuple[Moved, ...]
    svg: Markup


@dataclass(frozen=True, slots=True)
class SpreadView:
    """The lines of one session. plain: those that are right for everybody, in one sentence."""

    title: str
    lines: tuple[LineView, ...]
    plain: str


@dataclass(frozen=True, slots=True)
class SessionView:
    """One session of a runner along time. title: with its days; times of a session that are alike are one."""

    title: str
    svg: Markup


@dataclass(frozen=True, slots=True)
class WeekView:
    """One runner's days: strength and runs. differs: how many changes their week has; asks: what it asks by region."""

    who: str
    differs: str
    svg: Markup
    sessions: tuple[SessionView, ...]
    asks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FindingView:
    """One finding, every part as words."""

    level: str
    where: str
    code: str
    what: str
    why: str
    fix: str
    source: str


@dataclass(frozen=True, slots=True)
class SummaryView:
    """All the template gets."""

    title: str
    heading: str
    programme: str
    counts: str
    budget: str
    looks: tuple[Look, ...]
    changed: tuple[LineChangesView, ...]
    sessions: tuple[SessionChange, ...]
    not_fitted: tuple[NotFitted, ...]
    as_written: tuple[str, ...]
    spreads: tuple[SpreadView, ...]
    weeks: tuple[WeekView, ...]
    runs_known: bool
    findings: tuple[FindingView, ...]
    purpose: str
    style: Markup
    style_hash: str
    lanes: str = ""
    lane_lines: tuple[LaneLine, ...] = ()
    kit_out: tuple[OutRow, ...] = ()
    variant_out: tuple[OutRow, ...] = ()
    out_rest: str = ""


def squad_page(squad_week: SquadWeek, library: Library, house: House, *, squad: Squad | None = None) -> str:  # noqa: ARG001
    """One HTML page. With `squad` the week pictures show the runs, and loaded variants can be compared (body mass)."""
    return environment().get_template("summary.html").render(page=summary_view(squad_week, library, squad))


def summary_view(squad_week: SquadWeek, library: Library, squad: Squad | None) -> SummaryView:
    """What the template is given, every text cleaned."""
    style, style_hash = inline("paper.css", "summary.css")
    runners = {} if squad is None else {r.id: r for r in squad.runners}
    heading = f"Week of {amounts.short_date(squad_week.monday)}"
    return SummaryView(
        title=f"{heading}: {clean(squad_week.programme)}",
        heading=heading,
        programme=clean(squad_week.programme),
        counts=counts(squad_week),
        budget=budget(squad_week),
        looks=first_looks(squad_week),
        changed=tuple(_changed(line, library, runners) for line in line_changes(squad_week, library)),
        sessions=session_changes(squad_week),
        not_fitted=not_fitted(squad_week),
        as_written=as_written(squad_week),
        spreads=_spreads(squad_week),
        weeks=tuple(
            _week(w, runners.get(w.runner_id), library, region_words(squad_week.region_loads.get(w.runner_id, ())))
            for w in weeks(squad_week)
        ),
        runs_known=squad is not None,
        findings=tuple(_finding(f) for f in squad_week.findings),
        purpose=cautions.PURPOSE,
        style=style,
        style_hash=style_hash,
        lanes=lanes_summary(squad_week.lanes),
        lane_lines=lane_lines(squad_week.lanes),
        kit_out=kit_rows(squad_week.runs_out),
        variant_out=variant_rows(squad_week.runs_out),
        out_rest=runs_out_rest(squad_week.runs_out),
    )


def _drawn(svg: str) -> Markup:
    return Markup(svg)


def _changed(line: LineChanges, library: Library, runners: Mapping[str, Runner]) -> LineChangesView:
    def view(mover: Mover) -> MoverView:
        runner = runners.get(mover.runner_id)
        mass_kg = None if runner is None else runner.mass_kg
        return MoverView(mover.who, mover.own, mover.dose, _drawn(family_picture(mover.item, library, mass_kg)))

    changes = (ChangeView(c.now, c.why, tuple(map(view, c.movers))) for c in line.changes)
    return LineChangesView(line.where, line.written, tuple(changes))


def _spreads(squad_week: SquadWeek) -> tuple[SpreadView, ...]:
    titles: dict[tuple[str, str], str] = {}
    for w in weeks(squad_week):
        for one in w.sessions:
            key = base_key(one.key)
            titles[cycle_words(w), key] = titles["", key] = session_title(replace(one, key=key))
    by_session: dict[str, list[LineSpread]] = {}
    for cycle, spread in by_cycle(squad_week):
        title = titles.get((cycle, spread.session_key), f"Session {clean(spread.session_key)}")
        by_session.setdefault(f"{title}, in {cycle}" if cycle else title, []).append(spread)
    return tuple(
        SpreadView(
            title,
            tuple(
                LineView(clean(s.item_key), clean(s.written), moved(s), _drawn(spread_picture(s)))
                for s in spreads
                if not right_for_all(s)
            ),
            right_lines(spreads),
        )
        for title, spreads in by_session.items()
    )


def _week(week: FittedWeek, runner: Runner | None, library: Library, asks: tuple[str, ...]) -> WeekView:
    sessions = (
        SessionView(f"{told.title}, {short_days(told)}", _drawn(score_of_fitted(told.first, library, wide=NARROW)))
        for told in repeated(week.sessions)
    )
    return WeekView(who(week), differs(week), _drawn(week_picture(week, runner)), tuple(sessions), asks)


def _finding(finding: Finding) -> FindingView:
    return FindingView(
        level=finding.level,
        where="" if finding.span is None else f" {clean(str(finding.span))}",
        code=clean(finding.code),
        what=sentence(finding.what),
        why=sentence(finding.why),
        fix=sentence(finding.fix),
        source=clean(finding.source),
    )
