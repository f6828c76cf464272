"""House rules: the coach's thresholds. Every one has a default, a unit, a range and a source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ferrule.model.check_thresholds import CHECKS
from ferrule.model.fit_thresholds import FIT
from ferrule.model.next_thresholds import NEXT
from ferrule.model.notice_thresholds import NOTICE
from ferrule.model.threshold import Threshold as Threshold

THRESHOLDS: tuple[Threshold, ...] = (*FIT, *CHECKS, *NEXT, *NOTICE)
"""Every threshold, those of the fit first."""


@dataclass(frozen=True, slots=True)
class House:
    """The effective thresholds: defaults with the coach's changes.

    changed        key -> the coach's value
    switched_off   rule names the coach switched off
    """

    changed: Mapping[str, float] = field(default_factory=dict)
    switched_off: frozenset[str] = frozenset()
    coach: str = ""
    contact: str = ""

    def value(self, key: str) -> float:
        """The effective number for `key`. Raises KeyError for a name that is no threshold."""
        return self.changed.get(key, _DEFAULTS[key])


_DEFAULTS = {t.key: t.default for t in THRESHOLDS}
