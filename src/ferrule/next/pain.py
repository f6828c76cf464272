"""Pain as it was told, made into what it means for the next week. One threshold, `pain-stop`; nothing is diagnosed.

Published behaviour: pain stays low, is back to usual by the next morning, and does not rise from week to week
(Silbernagel 2007 as summarised, rows R37-R39 of the guideline table). Settled by morning may hold; not settled cuts that
demand; rising, or above `pain-stop`, stops and asks. A red flag comes before any number.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

from ferrule.model.fact import PainTold, RedFlag
from ferrule.model.house import House
from ferrule.model.quantity import number
from ferrule.model.squad import Runner, Sore
from ferrule.model.words import Region, Side
from ferrule.squad.young import may_be_under_18

NONE, HOLD, CUT, STOP = 0, 1, 2, 3
WEEK: Final = timedelta(days=7)
GROWTH_SITES: Final[tuple[Region, ...]] = ("foot", "knee")
"""The heel and below the kneecap, where growing bone is pulled at (design, section 9; from memory)."""
WHOLE: Final[frozenset[RedFlag]] = frozenset(("numb or weak", "bladder or bowel", "chest or faint", "fever"))
"""Flags that concern the whole runner, wherever they were told."""


@dataclass(frozen=True, slots=True)
class Hurt:
    """One region and side, as it stands before a Monday.

    tier      0 none, 1 hold, 2 cut, 3 stop and ask;  worst, morning: most of the week it was last told, of 10
    reason    in words a coach reads;  items: (session key, line key) at which it was told, in that week
    at        the same with the exercise that was done, "" where it was not told
    """

    region: Region
    side: Side
    tier: int
    worst: int
    morning: int | None
    reason: str
    items: frozenset[tuple[str, str]] = frozenset()
    at: frozenset[tuple[str, str, str]] = frozenset()


@dataclass(frozen=True, slots=True)
class Flagged:
    """Red flags that wait for a named human. region None: they concern the whole runner."""

    day: date
    flags: tuple[RedFlag, ...]
    region: Region | None
    side: Side


def flagged(pains: Iterable[PainTold], monday: date, cleared: Iterable[date] = ()) -> tuple[Flagged, ...]:
    """Red flags told before `monday` and since the last clearance, oldest first, one for each region and day.

    cleared   Mondays of the weeks for which a named human cleared them: flags told before such a day are answered
    """
    since = max((c for c in cleared if c <= monday), default=date.min)
    out: dict[tuple[date, Region | None, Side], Flagged] = {}
    for p in pains:
        if p.flags and since <= p.day < monday:
            region = None if WHOLE & set(p.flags) else p.region
            side: Side = "both" if region is None else p.side
            known = out.get((p.day, region, side))
            flags = tuple(sorted({*p.flags, *(() if known is None else known.flags)}))
            out[p.day, region, side] = Flagged(p.day, flags, region, side)
    return tuple(sorted(out.values(), key=lambda f: (f.day, f.region or "", f.side)))


def hurts(pains: Sequence[PainTold], runner: Runner, house: House, monday: date) -> tuple[Hurt, ...]:
    """Each region that was told to hurt and still counts, in order of region and side; those without any tier are left out.

    A region counts by the last week in which it was told, for up to `pain-memory-weeks`: stopped stays stopped until more
    is said, a cut becomes a hold after a week, a hold ends with its week.
    """
    memory = int(house.value("pain-memory-weeks"))
    places = sorted({(p.region, p.side) for p in pains if p.region is not None and p.day < monday})
    out = []
    for region, side in places:
        own = [p for p in pains if (p.region, p.side) == (region, side)]
        for back in range(memory):
            end = monday - back * WEEK
            week = [p for p in own if end - WEEK <= p.day < end]
            if week:
                hurt = _of_week(region, side, week, [p for p in own if p.day < end - WEEK], runner, house, end)
                hurt = _later(hurt, back)
                if hurt.tier > NONE:
                    out.append(hurt)
                break
    return tuple(out)


def _of_week(
    region: Region, side: Side, week: Sequence[PainTold], before: Sequence[PainTold], runner: Runner, house: House,
    end: date,
) -> Hurt:  # fmt: skip
    worst = max((p.worst for p in week if p.worst is not None), default=0)
    mornings = [p.morning for p in week if p.morning is not None]
    morning = max(mornings, default=None)
    where = where_words(region, side)
    items = frozenset((p.session_key, p.item_key) for p in week if p.item_key)
    at = frozenset((p.session_key, p.item_key, p.variant_id) for p in week if p.item_key)
    most, settled, rise = house.value("pain-stop"), house.value("pain-settled"), house.value("pain-rise")
    was = max((p.worst for p in before if p.worst is not None and p.day >= end - 3 * WEEK), default=None)
    peak = max(worst, morning or 0)
    if peak > most:
        tier, why = STOP, f"{where}: {peak} of 10, above {number(most)}: stop what loads it, and ask"
    elif was is not None and was > 0 and worst - was >= rise:
        tier, why = STOP, f"{where}: rising, {worst} of 10 after {was}: stop what loads it, and ask"
    elif morning is not None and morning > settled:
        tier, why = CUT, f"{where}: {worst} of 10, and {morning} the next morning: less of what loads it"
    elif worst > 0 and morning is None:
        tier, why = HOLD, f"{where}: {worst} of 10, the next morning not told: no more than last week, and ask"
    elif worst > 0:
        tier, why = HOLD, f"{where}: {worst} of 10, settled by the next morning: no more than last week"
    else:
        tier, why = NONE, ""
    if NONE < tier < STOP and region in GROWTH_SITES and may_be_under_18(runner.birth_year, end.year):
        tier = tier + 1
        why += "; may be under 18, and at a growth site, so a tier up"
    return Hurt(region, side, tier, peak, morning, why, items, at)


def _later(hurt: Hurt, weeks: int) -> Hurt:
    """The same when nothing more was told for so many weeks."""
    if weeks == 0 or hurt.tier == NONE:
        return hurt
    said = "nothing told" if weeks == 1 else f"nothing told for {weeks} weeks"
    if hurt.tier == STOP:
        return replace(hurt, reason=f"{hurt.reason} ({said} since)")
    if hurt.tier == CUT and weeks == 1:
        words = f"{where_words(hurt.region, hurt.side)}: was cut, {said} since: no more than last week"
        return replace(hurt, tier=HOLD, reason=words)
    return replace(hurt, tier=NONE)


def where_words(region: Region, side: Side) -> str:
    """`left calf`."""
    return f"{'' if side == 'both' else side + ' '}{region}"


def sore_of(hurt: Hurt, runner: Runner, house: House) -> Sore | None:
    """The sore place that the fit then keeps to in every exercise, warm-up included; None where it may hold.

    Cut: no landings, no added weight, a smaller share of best. Stopped: nothing that loads it.
    """
    if hurt.tier < CUT:
        return None
    most = int(house.value("pain-stop"))
    worst = max(hurt.worst, most + 1) if hurt.tier == STOP else min(hurt.worst, most)
    return Sore(hurt.region, hurt.side, worst, runner.span)
