"""How long a share of the best force can be held, for the checks.

T(share) = b0 x share^b1 seconds: Frey Law and Avin 2010, table 2 (seen in a public copy). A person lies 29-47 % off the
mean curve (Frey-Law 2012, seen). Used from 0.10 to 1.00; most data lie above 0.25.
"""

from __future__ import annotations

from collections.abc import Mapping

from ferrule.model.words import Group

_GENERAL = (21.92, -1.98)
_CURVES: Mapping[Group, tuple[float, float]] = {
    "calf straight": (34.71, -2.06),
    "calf bent": (34.71, -2.06),
    "knee and hip": (19.38, -1.88),
    "trunk front": (22.69, -2.27),
    "trunk side": (22.69, -2.27),
    "trunk back": (22.69, -2.27),
    "push": (14.86, -1.83),
    "pull": (14.86, -1.83),
}
"""Ankle for the calf, knee, trunk, shoulder for the arms; the general curve for the rest."""


def mean_hold_s(share: float, group: Group | None) -> float:
    """Mean seconds that `share` (0.10 to 1.00) of the best force can be held. Raises ValueError outside that."""
    if not 0.1 <= share <= 1:
        raise ValueError(f"the curves reach from 0.10 to 1.00 of the best, not {share}")
    b0, b1 = _CURVES.get(group, _GENERAL) if group else _GENERAL
    return b0 * float(share**b1)
