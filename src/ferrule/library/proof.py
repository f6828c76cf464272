"""What holds for a whole library: `ferrule library --check`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from ferrule.body.figure import both_ends, figure
from ferrule.body.posture import NoSuchPosture, posture, through_floor
from ferrule.library.gaps import gap_findings
from ferrule.library.order import order_findings
from ferrule.model.exercise import Library, Variant
from ferrule.model.finding import Finding, Span, in_order
from ferrule.model.words import GROUPS, PATTERNS, KitKind, Pattern

KIT_FREE: frozenset[KitKind] = frozenset({"mat", "wall", "towel"})
"""What counts as no kit: a wall and a towel are owned by everybody, and a folded towel is a mat."""
NEEDS_KIT: Mapping[Pattern, str] = {"step": "there must be something to step on; a stair will do"}
"""Patterns that cannot be done without kit, and why."""
Spans = Mapping[str, Span]


def prove(library: Library, spans: Spans) -> tuple[Finding, ...]:
    """Every fault of the library as a whole, in order of place.

    Neighbours are there and every exercise is reached from the easiest and from the hardest of its family; no step
    between neighbours is too large; order and demand agree or the author says why; every group, pattern and family can be
    trained without kit or says why not; each figure can be drawn at both ends and with each load, above the floor;
    each exercise is complete.

    spans   place of each variant by id, for the findings
    """
    families = [[library.variants[i] for i in f.variant_ids] for f in library.families.values()]
    return in_order(
        [
            *_unreached(library, spans),
            *gap_findings(library, spans),
            *(finding for variants in families for finding in order_findings(variants, spans)),
            *_uncovered(library),
            *_needs_kit(library),
            *(finding for v in library.variants.values() for finding in (*_incomplete(v, spans), *_figures(v, spans))),
        ]
    )


def kit_free(variant: Variant) -> bool:
    """True when it needs nothing that is not in every home."""
    return set(variant.kit) <= KIT_FREE


def _unreached(library: Library, spans: Spans) -> Iterator[Finding]:
    why = "a runner could never be moved there"
    for family in library.families.values():
        if not family.variant_ids:
            continue
        first, last = family.variant_ids[0], family.variant_ids[-1]
        for start, word, direction in ((first, "easiest", "harder"), (last, "hardest", "easier")):
            reached: set[str] = set()
            edge = [start]
            while edge:
                variant_id = edge.pop()
                if variant_id not in reached:
                    reached.add(variant_id)
                    edge += getattr(library.variants[variant_id], direction)
            for variant_id in family.variant_ids:
                if variant_id not in reached:
                    variant = library.variants[variant_id]
                    what = (
                        f"{variant.name} is not reached from the {word} of its family, {library.variants[start].name}"
                    )
                    fix = f"name it in `{direction}` of its neighbour, or leave `easier` and `harder` out"
                    yield Finding("library-unreached", "error", what, why, fix, spans.get(variant_id))


def _uncovered(library: Library) -> Iterator[Finding]:
    why = "a runner without kit could not train it"
    fix = "add an exercise for it that needs at most a mat, a wall or a towel"
    free = [v for v in library.variants.values() if kit_free(v)]
    trained = {v.main.group for v in free if v.main}
    for group in GROUPS:
        if group not in trained:
            what = f"no exercise for the group {group} can be done without kit"
            yield Finding("library-uncovered", "advice", what, why, fix, None)
    patterns = {v.pattern for v in free}
    for pattern in PATTERNS:
        if pattern not in patterns and pattern not in NEEDS_KIT:
            what = f"no exercise of the pattern {pattern} can be done without kit"
            yield Finding("library-uncovered", "advice", what, why, fix, None)


def _needs_kit(library: Library) -> Iterator[Finding]:
    for family in library.families.values():
        if family.kit_note or any(kit_free(library.variants[i]) for i in family.variant_ids):
            continue
        what = f"no exercise of the family {family.name} can be done without kit"
        fix = "add one that needs at most a mat, a wall or a towel, or say in `kit_note` why there is none"
        yield Finding("library-uncovered", "note", what, "a runner without kit could not train it", fix, None)


def _incomplete(variant: Variant, spans: Spans) -> Iterator[Finding]:
    wanted = {
        "cues": bool(variant.cues),
        "faults": bool(variant.faults),
        "setup": bool(variant.setup),
        "muscles": bool(variant.muscles),
        "cautions": not variant.impact or bool(variant.cautions),
        "balance_help": not variant.tags.get("balance") or bool(variant.impact or variant.balance_help),
    }
    lacking = [key for key, there in wanted.items() if not there]
    if lacking:
        what = f"{variant.name} has no {' and no '.join(f'`{key}`' for key in lacking)}"
        why = "a runner at home has only these words"
        fix = "write " + " and ".join(f"`{key}`" for key in lacking)
        yield Finding("library-incomplete", "note", what, why, fix, spans.get(variant.id))


def _figures(variant: Variant, spans: Spans) -> Iterator[Finding]:
    movement = variant.movement
    said = partial(Finding, span=spans.get(variant.id))
    if movement is None:
        what = f"{variant.name} has no figure"
        yield said("library-no-figure", "note", what, "sheet and page show words alone", "write a pose in `hold`")
        return
    try:
        ends = [posture(movement)]
        if movement.other is not None:
            ends.append(posture(movement, at="other"))
            both_ends(movement, title=variant.name)
        for place in (None, *variant.loading):
            figure(movement, load_place=place, title=variant.name)
    except NoSuchPosture as reason:
        what = f"the figure of {variant.name} cannot be drawn: {reason}"
        why = "without it the runner sees no picture"
        yield said("library-no-figure", "error", what, why, "change the angles or the supports of its pose")
        return
    planted = {c.at for p in ends for c in p.contacts}
    if deep := [d for p in ends for d in through_floor(p) if d.split()[0].split(".")[-1] not in planted]:
        what = f"the figure of {variant.name} reaches through the floor: {deep[0]}"
        yield said("library-no-figure", "advice", what, "nobody can do that", "change the angles of its pose")
