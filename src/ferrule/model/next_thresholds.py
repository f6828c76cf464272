"""Thresholds of what the record says about next week."""

from __future__ import annotations

from ferrule.model.threshold import Threshold

_CUSTOM = "common practice, no source"

NEXT: tuple[Threshold, ...] = (
    Threshold(
        "pain-settled",
        1,
        0,
        3,
        "0-10",
        "pain of the next morning up to which it counts as settled",
        "Silbernagel 2007 as summarised (seen): back to usual by the next morning; the number is ours",
    ),
    Threshold(
        "pain-cut-percent",
        25,
        5,
        80,
        "%",
        "how much less is asked of a line whose pain had not settled by the next morning",
        "that it is cut: Silbernagel 2007 as summarised (seen); how far is " + _CUSTOM,
    ),
    Threshold(
        "pain-memory-weeks",
        4,
        1,
        12,
        "weeks",
        "how long a region that was stopped for pain stays stopped when nobody says more",
        _CUSTOM,
    ),
    Threshold(
        "return-percent",
        60,
        20,
        100,
        "%",
        "share of the usual sets in the first week after illness or injury, where the coach has set no ramp",
        _CUSTOM,
    ),
    Threshold(
        "missed-drop-percent",
        20,
        0,
        50,
        "%",
        "fewer sets for each week missed beyond the first, half of them at most",
        _CUSTOM,
        off=0,
    ),
    Threshold(
        "taper-days",
        14,
        0,
        21,
        "days",
        "how long before the race of the anchor the sets are cut; load and days stay",
        "Bosquet 2007 and Wang 2023 (seen): 8-14 days; endurance volume, taken for strength by us",
        off=0,
    ),
    Threshold(
        "taper-percent",
        50,
        0,
        60,
        "%",
        "how far the sets fall below the fullest of the weeks before, in that time",
        "Bosquet 2007 and Wang 2023 (seen): 41-60 %; endurance volume, taken for strength by us",
        off=0,
    ),
)
