"""Hold curves against the published table (Frey Law and Avin 2010, table 2; the arithmetic is ours)."""

from __future__ import annotations

import pytest

from ferrule.check.hold_at_share import mean_hold_s
from ferrule.model.words import Group


@pytest.mark.parametrize(
    ("group", "half", "quarter"),
    [
        (None, 86.5, 341.1),
        ("calf straight", 144.7, 603.5),
        ("trunk side", 109.4, 527.9),
        ("knee and hip", 71.3, 262.6),
        ("push", 52.8, 187.8),
    ],
)
def test_against_the_table(group: Group | None, half: float, quarter: float) -> None:
    assert mean_hold_s(0.5, group) == pytest.approx(half, abs=0.1)
    assert mean_hold_s(0.25, group) == pytest.approx(quarter, abs=0.1)


@pytest.mark.parametrize("share", [0, 0.09, 1.01, 25])
def test_outside_the_curves_is_refused(share: float) -> None:
    with pytest.raises(ValueError, match=r"0\.10"):
        mean_hold_s(share, None)
