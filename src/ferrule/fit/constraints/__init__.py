"""One constraint a file: `add(v)` adds it to the model, enforced by the literal `v.rule(NAME)`."""

from __future__ import annotations

from collections.abc import Callable

from ferrule.fit.constraints import (
    contacts,
    coverage,
    load_growth,
    minutes,
    new_exercises,
    one_choice,
    pair_clash,
    pair_kit,
    possible_times,
    rest_day,
    session_gap,
    site_kit,
)
from ferrule.fit.variables import Variables

ALL: tuple[Callable[[Variables], None], ...] = (
    one_choice.add,
    possible_times.add,
    session_gap.add,
    rest_day.add,
    minutes.add,
    pair_kit.add,
    pair_clash.add,
    contacts.add,
    coverage.add,
    new_exercises.add,
    load_growth.add,
    site_kit.add,
)
"""Every constraint, in the order they are added."""
