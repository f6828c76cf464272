"""One number the coach may change."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Threshold:
    """One number the coach may change in `house.toml`.

    key      kebab-case name;  default, low, high in `unit`
    source   citation with provenance, or "common practice, no source"
    off      the number at which it asks nothing (`key = "off"`); None where it cannot be switched off
    """

    key: str
    default: float
    low: float
    high: float
    unit: str
    what: str
    source: str
    off: float | None = None
