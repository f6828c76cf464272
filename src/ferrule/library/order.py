"""Does the author's order agree with the demands? It is told, never silently changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ferrule.model.exercise import Variant
from ferrule.model.finding import Finding, Span

SLACK = 1.05
"""An easier variant may ask this much more than a harder one before it is told (below the model's own error)."""


def order_findings(variants: Sequence[Variant], spans: Mapping[str, Span]) -> tuple[Finding, ...]:
    """One finding for each variant that asks clearly less than one its author calls easier, unless `order_note` says why.

    variants   of one family, easier to harder
    spans      place of each by id
    """
    found: list[Finding] = []
    for index, variant in enumerate(variants):
        main = variant.main
        if main is None or variant.order_note:
            continue
        before = [
            (v.main.base, v.name)
            for v in variants[:index]
            if v.main and v.main.group == main.group and not v.order_note
        ]
        base, name = max(before, default=(0.0, ""))
        if base > SLACK * main.base:
            what = f"{variant.name} stands after {name} but asks {100 * (1 - main.base / base):.0f} % less"
            why = "the family's order is what runners are moved along"
            fix = "change the order, or say in `order_note` why it stands"
            found.append(Finding("library-order", "advice", what, why, fix, spans.get(variant.id)))
    return tuple(found)
