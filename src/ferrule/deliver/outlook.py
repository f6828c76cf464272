"""What lies beside the week itself, in words: lanes, what runs out, what each week asks of the body by region."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ferrule.deliver.plain import clean
from ferrule.model.fitted import LineLanes, RegionLoad, RunsOut, SquadLanes, SquadWeek, When

LEVELS = ("none", "light", "some", "much")
"""As `fit.region_load` numbers them."""


@dataclass(frozen=True, slots=True)
class LaneLine:
    """One line that wanted more versions than the squad keeps to: where, and what is done by how many."""

    where: str
    said: str


@dataclass(frozen=True, slots=True)
class OutRow:
    """One runner and line of which the exercise or the kit runs out; `when` in weeks of the programme."""

    who: str
    where: str
    doing: str
    when: str
    then: str


def lanes_summary(lanes: SquadLanes | None) -> str:
    """What keeping to lanes costs beside everybody fitted alone; empty when the squad is not held to any."""
    if lanes is None:
        return ""
    start = f"At most {lanes.most} {'version' if lanes.most == 1 else 'versions'} a line over the squad"
    if not lanes.lines:
        return f"{start}: no line wants more, so it costs nothing."
    many = f"{len(lanes.lines)} {'line wants' if len(lanes.lines) == 1 else 'lines want'} more"
    return (
        f"{start}: {many}. Lines off the text {lanes.departures} (alone {lanes.free_departures}), price of leaving the text "
        f"{lanes.text:g} ({lanes.free_text:g}), {lanes.effort:.1f} reps off the effort meant ({lanes.free_effort:.1f})."
    )


def lane_lines(lanes: SquadLanes | None) -> tuple[LaneLine, ...]:
    """The lines with their lanes, and who keeps to none."""
    return () if lanes is None else tuple(_lane(line) for line in lanes.lines)


def _lane(line: LineLanes) -> LaneLine:
    said = "; ".join(f"{clean(name)} ({len(ids)})" for _, name, ids in line.lanes)
    parts = [f"{said}; {line.wanted} wanted"]
    if line.exceptions:
        apart = ", ".join(f"{clean(r)} {clean(name)}" for r, name in line.exceptions)
        parts.append(f"none of them is possible for {apart}")
    if line.gap > 0:
        parts.append(f"not proven the best: at most {100 * line.gap:.1f} % better is possible")
    return LaneLine(f"{clean(line.session_key)} {clean(line.item_key)} {clean(line.written)}", ". ".join(parts) + ".")


def kit_rows(found: Sequence[RunsOut]) -> tuple[OutRow, ...]:
    """Runners who outgrow everything they may do on a line within the programme, soonest first."""
    rows = sorted((r for r in found if r.within(r.kit)), key=lambda r: r.kit.middle or 0)
    return tuple(
        OutRow(_who(r), _where(r), clean(r.doing), when_words(r, r.kit), f"{clean(r.hardest)} is the hardest they may do")
        for r in rows
    )  # fmt: skip


def dated(found: Sequence[RunsOut]) -> tuple[RunsOut, ...]:
    """Those of which the whole interval of `kit` ends inside the programme: enough is known to say about when."""
    return tuple(r for r in found if r.within(r.kit) and r.kit.late is not None and r.week + r.kit.late <= r.weeks)


def variant_rows(found: Sequence[RunsOut]) -> tuple[OutRow, ...]:
    """Runners who outgrow the exercise of a line later in the programme, with something harder in reach, soonest first.

    Where the middle of the belief is past it already, the fit has chosen it all the same: failing is dearer.
    """
    rows = sorted(filter(_later, found), key=lambda r: r.variant.middle or 0)
    return tuple(
        OutRow(_who(r), _where(r), clean(r.doing), when_words(r, r.variant), f"Up to {clean(r.hardest)} is in reach")
        for r in rows
    )  # fmt: skip


def _later(r: RunsOut) -> bool:
    return r.within(r.variant) and not r.within(r.kit) and r.variant.middle != 0


def _who(r: RunsOut) -> str:
    return f"{clean(r.runner_id)} {clean(r.runner_name)}"


def _where(r: RunsOut) -> str:
    return f"{clean(r.session_key)} {clean(r.item_key)} {clean(r.written)}"


def when_words(r: RunsOut, when: When) -> str:
    """`about week 5 (4 of 5 chances: now to after the programme)`, in weeks of the programme."""
    if not r.within(when):
        return "not within the programme"
    middle = "already now" if when.middle == 0 else f"about week {r.week + (when.middle or 0)}"
    return f"{middle} (80 %: {_week(r, when.early)} to {_week(r, when.late)})"


def _week(r: RunsOut, after: int | None) -> str:
    if after == 0:
        return "now"
    return "after the programme" if after is None or r.week + after > r.weeks else f"week {r.week + after}"


def runs_out_rest(found: Sequence[RunsOut]) -> str:
    """How many lines with a stated effort last; empty when there are none at all."""
    if not found:
        return ""
    last = sum(not r.within(r.variant) and not r.within(r.kit) for r in found)
    easy = sum(r.within(r.variant) and not r.within(r.kit) and not _later(r) for r in found)
    said = f"{last} of {len(found)} lines with a stated effort: not within the programme."
    if easy:
        said += f" {easy} more likely too easy than not already, and kept: something harder is in reach, but failing is dearer."
    return said


def region_words(loads: Sequence[RegionLoad]) -> tuple[str, ...]:
    """`Much: calf (3 days running), left knee.`, the most first; a side is named where the sides differ."""
    by_level: dict[int, list[str]] = {}
    for region in dict.fromkeys(x.region for x in loads):
        sides = [x for x in loads if x.region == region]
        both = len(sides) == 2 and sides[0].level == sides[1].level
        for one in sides[:1] if both else sides:
            name = region if both else f"{one.side} {region}"
            said = [f"{one.in_a_row} days running"] if one.in_a_row >= 3 else []
            if one.hidden >= 0.5 * one.sets:
                said.append("all on the way" if one.hidden >= one.sets - 1e-6 else "mostly on the way")
            by_level.setdefault(one.level, []).append(f"{name} ({', '.join(said)})" if said else name)
    return tuple(
        f"{LEVELS[level].capitalize()}: {', '.join(by_level[level])}." for level in (3, 2, 1) if level in by_level
    )


def outlook_lines(squad: SquadWeek) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """(heading, lines) for a terminal: lanes, and what runs out; nothing where there is nothing to say.

    A line that runs out is told when its interval ends inside the programme; the rest are counted (the page has them all).
    """
    out = []
    if squad.lanes is not None and squad.lanes.lines:
        lines = (f"{x.where}: {x.said}" for x in lane_lines(squad.lanes))
        out.append(("Versions of a line", (lanes_summary(squad.lanes), *lines)))
    if every := len(kit_rows(squad.runs_out)):
        rows = kit_rows(dated(squad.runs_out))
        groups: dict[tuple[str, str], list[str]] = {}
        for r in rows:
            groups.setdefault((r.who, r.when), []).append(r.where)
        told = [f"{who}: {'; '.join(where)}: {when}" for (who, when), where in groups.items()]
        if rest := every - len(rows):
            told.append(
                f"{'and ' if rows else ''}{rest} {'line' if rest == 1 else 'lines'} of which too little is known to say when"
            )
        out.append(("Runs out: nothing harder left that they may do", tuple(told)))
    return tuple(out)
