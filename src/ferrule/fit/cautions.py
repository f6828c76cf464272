"""Cautions that belong to one runner, said on top of those that everybody gets. Facts only: nothing is diagnosed."""

from __future__ import annotations

from datetime import date

from ferrule.model.squad import Runner

ADULT, OLDER = 18, 60


def cautions_of(runner: Runner, monday: date) -> tuple[str, ...]:
    """Lines for the sheet and the coach, from what the squad file says about `runner` in the week of `monday`."""
    out = []
    age = None if runner.birth_year is None else monday.year - runner.birth_year
    if age is not None and age <= ADULT - 1:
        out.append(
            "Under 18: with a guardian's consent, technique before load, and an adult who knows about the session. "
            "Pain at a heel, a knee cap or the front of a hip that comes back is told to the coach the same day."
        )
    if age is not None and age > OLDER:
        out.append("Over 60: keep a wall or chair within reach for balance, and take longer over the warm-up.")
    for hold in runner.holds:
        if hold.cleared_by is not None:
            day = "" if hold.cleared_on is None else f" on {hold.cleared_on}"
            out.append(
                f"Cleared after {hold.reason} by {hold.cleared_by}{day}. What they told you comes before this sheet."
            )
    for limit in runner.limits:
        if limit.until is None or limit.until >= monday:
            until = "" if limit.until is None else f", until {limit.until}"
            said = "" if not limit.said_by else f" ({limit.said_by} said so{until})"
            out.append(f"Your limit is kept: {limit.text}{said if limit.said_by not in limit.text else ''}.")
    for sore in runner.sore:
        where = f"{'' if sore.side == 'both' else sore.side + ' '}{sore.region}"
        out.append(
            f"Sore {where}: if it is worse during, after or next morning, stop what loads it and tell the coach."
        )
    return tuple(out)
