"""Family texts -> families and variants with their demands: the slow way, through the statics of every pose."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ferrule.library.asks import Gauge, with_asks
from ferrule.library.draft import DraftFamily
from ferrule.library.family_text import Unplaced, read_family
from ferrule.library.order import order_findings
from ferrule.model.exercise import Family, Variant
from ferrule.model.finding import Finding, Span
from ferrule.model.pose import Movement


@dataclass(frozen=True, slots=True)
class Built:
    """Families and variants that are not yet joined to a library. Neighbours are as written, most of them empty."""

    families: tuple[Family, ...]
    variants: tuple[Variant, ...]


@dataclass(frozen=True, slots=True)
class Read:
    """What the texts held: built families, exercises still to be placed, the variants' places, and the findings."""

    built: Built
    unplaced: tuple[Unplaced, ...]
    spans: Mapping[str, Span]
    findings: tuple[Finding, ...]


def build(texts: Mapping[str, bytes], known: Mapping[str, Movement | None] | None = None) -> Read:
    """Read every text, in the order of the file names.

    known   movements by id from elsewhere, so that the anchors of the built-in library gauge the coach's own families
    """
    drafts: list[DraftFamily] = []
    unplaced: list[Unplaced] = []
    findings: list[Finding] = []
    for name in sorted(texts):
        family, rest, faults = read_family(texts[name], name)
        unplaced.extend(rest)
        findings.extend(faults)
        if family:
            drafts.append(family)
    gauge = Gauge({d.variant.id: d.variant.movement for f in drafts for d in f.drafts} | dict(known or {}))
    families: list[Family] = []
    variants: list[Variant] = []
    spans: dict[str, Span] = {}
    for family in drafts:
        made: Sequence[tuple[Variant, tuple[Finding, ...]]] = [with_asks(d, gauge) for d in family.drafts]
        for (variant, faults), draft in zip(made, family.drafts, strict=True):
            variants.append(variant)
            findings.extend(faults)
            spans.setdefault(variant.id, draft.span)
        findings.extend(order_findings([v for v, _ in made], {d.variant.id: d.span for d in family.drafts}))
        ids = tuple(d.variant.id for d in family.drafts)
        families.append(Family(family.id, family.name, ids, family.order_source, family.kit_note))
    return Read(Built(tuple(families), tuple(variants)), tuple(unplaced), spans, tuple(findings))
