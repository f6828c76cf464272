"""A state as the fit reads it: a mean and a spread for each group, and for each variant that something is known of."""

from __future__ import annotations

import math

from ferrule.capacity.state import LEGS, NORM, OWN_OFFSET_SD, RACE_CALF, RACE_THIGH, REGION_OF, SQUAD_OFFSET_SD, State
from ferrule.capacity.update import dot, quadratic
from ferrule.capacity.working import Row
from ferrule.model.exercise import Library, Variant
from ferrule.model.squad import Belief, Capacity
from ferrule.model.words import GROUPS, Group

SHOWN_SIDE = 1.64
"""A difference between sides is told when it is this many of its own standard errors (one-sided 95 %)."""
NO_NEWS = 0.9
"""A group whose spread is still this part of the prior's has "no information yet"."""


def belief(state: State, library: Library, mass_kg: float) -> Capacity:
    """What `state` says one runner can do once, for a body mass of `mass_kg` now.

    Demands are counted by body mass: a runner heavier than the logs were read for has the same strength over more mass, so
    all means move by log(mass then / mass now). The spread holds doubt about capacity alone; the day's is added by who uses
    it. `variants` holds those with logged sets, those the squad knows, and the anchors (whose offset is 0).
    """
    shift = math.log(state.mass_kg / mass_kg)
    mean, sd, basis, half = {}, {}, {}, {}
    for group in GROUPS:
        row = _group(state, group)
        mean[group], sd[group] = dot(row, state.mean) + shift, math.sqrt(max(0.0, quadratic(row, state.cov)))
        told = _half(state, group)
        if told:
            half[group] = told
        basis[group] = _basis(state, library, group, sd[group])
    variants = {}
    for variant_id in _known(state, library):
        variant = library.variants[variant_id]
        assert variant.main is not None
        row = _variant(state, variant, variant.main.group)
        weaker = -abs(half.get(variant.main.group, 0.0)) if variant.sided else 0.0
        seen = state.seen.get(variant_id)
        variants[variant_id] = Belief(
            dot(row, state.mean) + weaker + shift,
            math.sqrt(max(0.0, quadratic(row, state.cov))),
            0 if seen is None else seen.sets,
            0 if seen is None else seen.days,
        )
    return Capacity(
        state.runner_id,
        mean,
        sd,
        basis,
        not state.seen,
        variants,
        {t: math.hypot(SQUAD_OFFSET_SD[t], OWN_OFFSET_SD[t]) for t in SQUAD_OFFSET_SD},
        half,
    )


def _known(state: State, library: Library) -> tuple[str, ...]:
    anchors = tuple(a for a in library.anchors.values() if a in library.variants)
    known = dict.fromkeys((*anchors, *state.offsets, *state.seen))
    return tuple(v for v in known if v in library.variants and library.variants[v].main is not None)


def _group(state: State, group: Group) -> Row:
    """The capacity of a group as it is now: what a race has left is in it, the state of a day is not."""
    places, factors = [GROUPS.index(group)], [1.0]
    norm = state.at(f"offset:{NORM}{group}")
    if norm is not None:
        places.append(norm)
        factors.append(-1.0)
    if group in LEGS:
        places.append(RACE_CALF if REGION_OF[group] == "calf" else RACE_THIGH)
        factors.append(1.0)
    return places, factors


def _variant(state: State, variant: Variant, group: Group) -> Row:
    places, factors = _group(state, group)
    at = state.at(f"offset:{variant.id}")
    if at is not None:
        places, factors = [*places, at], [*factors, -1.0]
    return places, factors


def _half(state: State, group: Group) -> float:
    """Half of left above right where it is more than its error; else 0."""
    at = state.at(f"half:{group}")
    if at is None or abs(state.mean[at]) <= SHOWN_SIDE * math.sqrt(state.cov[at, at]):
        return 0.0
    return float(state.mean[at])


def _basis(state: State, library: Library, group: Group, sd: float) -> tuple[str, ...]:
    """In words: from which sets, since when, how long ago; then where the prior comes from."""
    own = {v: s for v, s in state.seen.items() if (ask := library.variants[v].main) is not None and ask.group == group}
    prior = state.prior_basis.get(group, ())
    if not own:
        done = group in state.group_days
        return (f"what was logged says little: no information on {group} yet", *prior) if done else prior
    names = [library.variants[v].name.lower() for v in sorted(own, key=lambda v: (-own[v].sets, v))]
    listed = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    count = sum(s.sets for s in own.values())
    first, last = min(s.first for s in own.values()), max(s.last for s in own.values())
    ago = 0 if state.day is None else (state.day - last).days
    when = "today" if ago == 0 else "yesterday" if ago == 1 else f"{ago} days ago"
    words = f"{count} {'set' if count == 1 else 'sets'} of {listed} since {first.day} {first:%B}; last {when}"
    little = (
        (f"these say little: no information on {group} yet",) if sd > NO_NEWS * state.prior_sd.get(group, 0.0) else ()
    )
    return (words, *little, *prior)
