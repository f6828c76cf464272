"""docs/library.md: every family with its order, where that comes from, and its exercises. `python -m ferrule.library.listing`."""

from __future__ import annotations

import sys

from ferrule.library.proof import kit_free
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library, Variant

HEAD = """\
# The library

{variants} exercises in {families} families, each family from easier to harder. This page is written by
`python -m ferrule.library.listing`; a test keeps it.

*Asks* is the demand without a load: 1 is what the anchor exercise of the group asks. How far it is to be believed
stands after it: *number* across families, *ratio* within the family, *order* as a starting guess only. What is not dosed is
counted, with its impact level from 1 to 4. A dot in the last column: it can be done with at most a mat, a wall or a towel.
With a band it is the demand with the thin one; `ferrule library NAME` says what the others add.
"""


def listing(library: Library) -> str:
    """The page as Markdown, lines within 120 columns where a table lets them be."""
    parts = [HEAD.format(variants=len(library.variants), families=len(library.families)).rstrip("\n")]
    for family in library.families.values():
        note = f" Kit: {family.kit_note}." if family.kit_note else ""
        parts += [
            f"\n## {family.name}\n",
            f"Order from: {family.order_source}.{note}\n",
            "| exercise | id | asks | main muscles | no kit |\n|---|---|---|---|---|",
            *(_row(library.variants[i]) for i in family.variant_ids),
        ]
    return "\n".join(parts) + "\n"


def _row(variant: Variant) -> str:
    main = variant.main
    if main is not None:
        asks = f"{main.group} {main.base:.2g}, {main.trust}"
    elif variant.impact:
        asks = f"impact {variant.impact}"
    else:
        asks = "counted"
    free = "•" if kit_free(variant) else ""
    return f"| {variant.name} | `{variant.id}` | {asks} | {', '.join(variant.muscles)} | {free} |"


if __name__ == "__main__":
    sys.stdout.write(listing(load_library()[0]))
