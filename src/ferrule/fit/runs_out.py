"""Runs out: about when a runner outgrows the exercise they are given, and everything their kit has for that line.

    P(outgrown after t weeks) = Phi((R(t) - G) / sqrt(s^2 + (0.57 R(t))^2))

R(t)  gain expected of the runner's level of training over t weeks of this programme (`capacity.drift.gain_a_week`)
G     log capacity still to be gained until the middle of what is possible is called too easy at that choice
s     spread of the belief now;  0.57 the spread of gains between people (`drift.GAIN_CV`)

Middle, early and late end are the weeks at which P passes 50, 10 and 90 %: an 80 % interval. The wander of a group from
week to week is no trend and is left out. Lines without a stated effort have no "too easy", so they never run out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from statistics import NormalDist

import numpy as np

from ferrule.capacity.drift import GAIN_CV, gain_a_week, weeks_of_level
from ferrule.fit.candidates import candidates, first_of, is_easier, with_loads
from ferrule.fit.choices import Setting
from ferrule.fit.effort import possible
from ferrule.fit.intent import NO_CEILING, intent_of
from ferrule.fit.predict import SLACK_EASY
from ferrule.fit.runner import setting_of
from ferrule.model.exercise import Library, Variant
from ferrule.model.fitted import FittedItem, FittedWeek, RunsOut, SquadWeek, When
from ferrule.model.house import House
from ferrule.model.programme import LIGHT, Block, Dose, Item, Programme
from ferrule.model.squad import Capacity, Squad
from ferrule.programme.weeks import week_of
from ferrule.squad.sites import at_site, site_on, sites_of

IN_REACH = ("written", "slot", "alternative", "family")
"""What counts as the line's own: another pattern of movement is another line."""
MOST_GAIN_LOG = 2.0
MOST_WEEKS = 520
_GRID = np.linspace(0.0, MOST_GAIN_LOG, 101)
_CUM = NormalDist().cdf


def runs_out(
    programme: Programme, squad: Squad, week: SquadWeek, library: Library, house: House, *,
    beliefs: Mapping[str, Capacity] | None = None,
) -> tuple[RunsOut, ...]:  # fmt: skip
    """Each dosed line with a stated effort of each fitted runner, in the order of the squad and the text.

    beliefs   what each is believed to be able to do, as given to `fit_squad`
    """
    runners = {r.id: r for r in squad.runners}
    out: list[RunsOut] = []
    for one in week.outcomes:
        if isinstance(one, FittedWeek) and one.runner_id in runners:
            runner = runners[one.runner_id]
            setting = setting_of(runner, library, house, one.monday, False, (beliefs or {}).get(runner.id))
            out += _of_runner(programme, one, setting)
    return tuple(out)


def _of_runner(programme: Programme, week: FittedWeek, setting: Setting) -> Iterator[RunsOut]:
    written = week_of(programme, week.programme_week)
    given = {(s.key.split(" (")[0], i.item_key): (i, s.day) for s in week.sessions for b in s.blocks for i in b.items}
    sites = sites_of(setting.runner)
    there = [replace(setting, runner=at_site(setting.runner, site), _screened={}, _loads={}) for site in sites]
    for session in () if written is None else written.sessions:
        for block in session.blocks:
            for item in block.items:
                doing, day = given.get((session.key, item.key), (None, None))
                if doing is None or day is None or doing.prediction is None or block.kind in LIGHT:
                    continue
                found = _line(item, block, doing, there[sites.index(site_on(setting.runner, day.weekday()))])
                if found is not None:
                    variant, kit, hardest = found
                    yield RunsOut(
                        week.runner_id, week.runner_name, session.key, item.key, doing.written, doing.name, hardest,
                        variant, kit, week.programme_week, programme.weeks,
                    )  # fmt: skip


def _line(item: Item, block: Block, doing: FittedItem, setting: Setting) -> tuple[When, When, str] | None:
    """When the variant that is done is outgrown, when the hardest in reach is, and which that is."""
    mine, hardest = -1.0, (-1.0, 0.0, 0.0, "")
    own_sd = 0.0
    for variant, demand, dose in _reach(item, setting):
        left = _to_gain(variant, demand, dose, block, doing.sets, setting)
        if left is None:
            continue
        sd = setting.believed(variant)[1]
        if variant.id == doing.variant_id:
            mine, own_sd = left, sd
        hardest = max(hardest, (left, demand, sd, variant.name))
    if mine < 0:
        return None
    weeks = weeks_of_level(setting.runner)
    return when(mine, own_sd, weeks), when(hardest[0], hardest[2], weeks), hardest[3]


def _reach(item: Item, setting: Setting) -> Iterator[tuple[Variant, float, Dose]]:
    """Every variant in reach that the runner may do, with the most demand their kit makes of it."""
    most: dict[str, tuple[Variant, float, Dose]] = {}
    first = first_of(item, setting)
    for variant, name, dose, origin, distance in candidates(item, setting.library):
        if variant is None or variant.main is None or origin not in IN_REACH:
            continue
        bare = origin not in ("written", "slot") and first is not None and is_easier(variant, first)
        for draft in with_loads(variant, name, dose, origin, distance, bare, setting):
            if draft.barred is not None:
                continue
            kg, place = (0.0, None) if draft.load is None else (draft.load.kg, draft.load.place)
            demand = variant.main.demand(kg, place, setting.mass_kg)
            if variant.id not in most or demand > most[variant.id][1]:
                most[variant.id] = (variant, demand, most.get(variant.id, (variant, 0.0, dose))[2])
    yield from most.values()


def _to_gain(variant: Variant, demand: float, dose: Dose, block: Block, sets: int, setting: Setting) -> float | None:
    """Log capacity to gain until this choice is called too easy; 0 when it is already, None where no effort is stated."""
    assert variant.main is not None  # the caller looked
    group = variant.main.group
    intent = intent_of(dose, block, group, 0.0)
    if intent.unit == "none" or intent.high >= NO_CEILING:
        return None
    mean, sd = setting.believed(variant)
    many = np.full(len(_GRID), demand)
    n = possible(many, sets, intent, group, setting.nodes, (mean + _GRID, np.full(len(_GRID), sd)))
    middle = np.median(n, axis=1)
    return float(np.interp(intent.high + SLACK_EASY, middle, _GRID, left=0.0, right=math.inf))


def gained(weeks: float, after: int) -> float:
    """Log capacity expected to be gained in `after` weeks by somebody with `weeks` of training behind them."""
    return sum(gain_a_week(weeks + n) for n in range(after))


def when(to_gain: float, sd: float, weeks: float) -> When:
    """Weeks from now at which `to_gain` is gained: middle and 80 % interval; None beyond ten years.

    to_gain   log capacity;  sd: spread of the belief now;  weeks: of training behind the runner
    """
    marks: dict[float, int | None] = {0.1: None, 0.5: None, 0.9: None}
    gain = 0.0
    for t in range(MOST_WEEKS + 1):
        spread = math.sqrt(sd**2 + (GAIN_CV * gain) ** 2)
        chance = 1.0 if to_gain <= 0 and spread == 0 else _CUM((gain - to_gain) / max(spread, 1e-9))
        for mark, found in marks.items():
            if found is None and chance >= mark:
                marks[mark] = t
        if marks[0.9] is not None:
            break
        gain += gain_a_week(weeks + t)
    return When(marks[0.1], marks[0.5], marks[0.9])


def soon(found: tuple[RunsOut, ...]) -> tuple[RunsOut, ...]:
    """Those whose kit has nothing harder left within the programme, more likely than not, soonest first."""
    return tuple(sorted((r for r in found if r.within(r.kit)), key=lambda r: r.kit.middle or 0))


def moving_on(found: tuple[RunsOut, ...]) -> tuple[RunsOut, ...]:
    """Those who outgrow the exercise of a line within the programme while the kit still has a harder one, soonest first."""
    rest = (r for r in found if r.within(r.variant) and not r.within(r.kit))
    return tuple(sorted(rest, key=lambda r: r.variant.middle or 0))
