"""UUID version 7 beside the published example."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.record.uuid7 import RANDOM_BITS, milliseconds, uuid7


def test_the_published_example() -> None:
    """RFC 9562, appendix A.6: unix_ts_ms 0x017F22E279B0 (22 February 2022, 14:22:22 at UTC-5), rand_a 0xCC3,
    rand_b 01 and 0x8C4DC0C0C07398F."""
    moment = datetime(2022, 2, 22, 14, 22, 22, tzinfo=timezone(timedelta(hours=-5)))
    assert milliseconds(moment) == 0x017F22E279B0
    random = 0xCC3 << 62 | 0b01 << 60 | 0x8C4DC0C0C07398F
    assert str(uuid7(milliseconds(moment), random)).upper() == "017F22E2-79B0-7CC3-98C4-DC0C0C07398F"


@given(st.integers(0, (1 << 48) - 2), st.integers(0, (1 << RANDOM_BITS) - 1), st.integers(0, (1 << RANDOM_BITS) - 1))
@settings(max_examples=100, derandomize=True, deadline=None)
def test_a_later_millisecond_sorts_later(ms: int, random: int, other: int) -> None:
    made = uuid7(ms, random)
    assert made.version == 7
    assert made.variant == "specified in RFC 4122"
    assert str(made) < str(uuid7(ms + 1, other))
    assert made != uuid7(ms, other) or random == other


@pytest.mark.parametrize(("ms", "random"), [(-1, 0), (1 << 48, 0), (0, 1 << RANDOM_BITS), (0, -1)])
def test_what_does_not_fit_is_refused(ms: int, random: int) -> None:
    with pytest.raises(ValueError, match="fit"):
        uuid7(ms, random)
