"""Does the author's order agree with the demands? It is told, never silently changed."""

from __future__ import annotations

from collections.abc import Sequence

from ferrule.library.draft import Draft
from ferrule.model.exercise import Variant
from ferrule.model.finding import Finding

SLACK = 1.05
"""An easier variant may ask this much more than a harder one before it is told (below the model's own error)."""


def order_findings(drafts: Sequence[Draft], variants: Sequence[Variant]) -> tuple[Finding, ...]:
    """One finding for each variant that asks clearly less than one its author calls easier, unless `order_note` says why."""
    found: list[Finding] = []
    for index, (draft, variant) in enumerate(zip(drafts, variants, strict=True)):
        main = variant.main
        if main is None or draft.order_note:
            continue
        before = [
            (v.main.base, v.name)
            for d, v in zip(drafts[:index], variants[:index], strict=True)
            if v.main and v.main.group == main.group and not d.order_note
        ]
        base, name = max(before, default=(0.0, ""))
        if base > SLACK * main.base:
            what = f"{variant.name} stands after {name} but asks {100 * (1 - main.base / base):.0f} % less"
            why = "the family's order is what runners are moved along"
            fix = "change the order, or say in `order_note` why it stands"
            found.append(Finding("library-order", "advice", what, why, fix, draft.span))
    return tuple(found)
