"""What the record holds back is held back, worked out again from the two fitted weeks."""

from __future__ import annotations

from ferrule.fit.verify.effort import demand_of
from ferrule.fit.verify.growth import step_above
from ferrule.fit.verify.refused import refused
from ferrule.fit.verify.where import runner_there
from ferrule.model.bound import Bounds
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Item, Named, ProgrammeWeek
from ferrule.model.squad import Runner

SLACK = 1.001
"""A tenth of a percent is rounding."""


def check_bounds(
    week: FittedWeek,
    last: FittedWeek | None,
    written: ProgrammeWeek,
    runner: Runner,
    library: Library,
    house: House,
    bounds: Bounds,
) -> tuple[Finding, ...]:
    """A bounded line asks no more than `most` times the heaviest it was sent as last week (or one step above it), and says why.

    Only where the line is told to have nothing less may a bound that is not strict be passed.
    """
    if not bounds:
        return ()
    mass = runner.mass_kg or {"female": 60.0, "male": 70.0, None: 65.0}[runner.sex]
    lines = {(s.key.partition(" (")[0], i.key): i for s in written.sessions for b in s.blocks for i in b.items}
    out = []
    for s in week.sessions:
        key = s.key.partition(" (")[0]
        there = runner_there(s, week, runner)
        for item in (i for b in s.blocks for i in b.items):
            bound = bounds.get((key, item.item_key))
            if bound is None:
                continue
            if not bound.quiet and not any(bound.reason in r.text for r in item.reasons):
                out.append(refused("bound", week, f"{item.name} is held and does not say why"))
            was = _before(key, lines.get((key, item.item_key)), week, last)
            if not was:
                continue
            if any("nothing that may be done asks less" in r.text for r in item.reasons) and not bound.strict:
                continue
            heaviest = max(was, key=lambda i: i.load.kg if i.load else 0.0)
            group, before = demand_of(heaviest.variant_id, heaviest.load, library, mass)
            mine, now = demand_of(item.variant_id, item.load, library, mass)
            if group is None or mine is None or item.prediction is None:
                continue
            most = [bound.most * before] if bound.most is not None else []
            most += [step_above(heaviest, there, library, house, mass)[1]] if bound.step else []
            ways = [
                demand_of(w.variant_id, w.load, library, mass) for w in (item.too_easy,) if w is not None and bound.firm
            ]
            if most and max([now, *(d for g, d in ways if g == mine)]) > min(most) * SLACK:
                out.append(
                    refused(
                        "bound",
                        week,
                        f"{item.name} asks {now / before:.2f} of last week, {min(most) / before:.2f} at most",
                    )
                )
    return tuple(out)


def _before(key: str, line: Item | None, week: FittedWeek, last: FittedWeek | None) -> list[FittedItem]:
    """The line as it was sent in the same cycle; at a change-over, last week's lines of the exercise that is written."""
    if last is None or line is None:
        return []
    sent = [(s.key.partition(" (")[0], i) for s in last.sessions for b in s.blocks for i in b.items]
    same = [i for k, i in sent if last.cycle_name == week.cycle_name and (k, i.item_key) == (key, line.key)]
    if same:
        return same
    named = line.exercise.variant_id if isinstance(line.exercise, Named) else None
    return [i for _, i in sent if named and i.variant_id == named]
