"""Families of variants -> one Library: names looked up, neighbours joined, clashes told."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from ferrule.library.asks import ANCHORS
from ferrule.model.exercise import Family, Library, Variant
from ferrule.model.finding import Finding, Span


def key(name: str) -> str:
    """A name as `Library.find` looks it up: lower case, single spaces."""
    return " ".join(name.lower().split())


def plain(name: str) -> str:
    """A name without commas and hyphens: `Step-up, high` -> `step up high`."""
    return key(name.replace(",", " ").replace("-", " "))


def assemble(
    families: Iterable[Family], variants: Iterable[Variant], spans: Mapping[str, Span]
) -> tuple[Library, tuple[Finding, ...]]:
    """The library of these families. The first to take a name keeps it; the second is told.

    spans   place of each variant by id, for the findings
    """
    findings: list[Finding] = []
    by_id: dict[str, Variant] = {}
    names: dict[str, str] = {}
    for variant in variants:
        span = spans.get(variant.id)
        if variant.id in by_id:
            findings.append(_taken(variant.id, variant, by_id[variant.id], span))
            continue
        by_id[variant.id] = variant
    for written in (lambda v: (v.id, v.name), lambda v: v.aliases):
        for variant in by_id.values():
            for name in written(variant):
                owner = names.setdefault(key(name), variant.id)
                if owner != variant.id:
                    findings.append(_taken(name, variant, by_id[owner], spans.get(variant.id)))
    for variant in by_id.values():
        for name in (variant.name, *variant.aliases):
            names.setdefault(plain(name), variant.id)
    kept = {f.id: replace(f, variant_ids=tuple(i for i in f.variant_ids if i in by_id)) for f in families}
    for family in kept.values():
        ids = family.variant_ids
        for rank, variant_id in enumerate(ids):
            old = by_id[variant_id]
            by_id[variant_id] = replace(
                old,
                rank=rank,
                easier=_known(old, old.easier, by_id, spans, findings) or ids[max(rank - 1, 0) : rank],
                harder=_known(old, old.harder, by_id, spans, findings) or ids[rank + 1 : rank + 2],
            )
    anchors = {group: i for group, i in ANCHORS.items() if i in by_id}
    return Library(by_id, kept, anchors, names), tuple(findings)


def _known(
    variant: Variant,
    ids: tuple[str, ...],
    by_id: Mapping[str, Variant],
    spans: Mapping[str, Span],
    findings: list[Finding],
) -> tuple[str, ...]:
    for unknown in (i for i in ids if i not in by_id):
        what = f"{variant.name} names a neighbour `{unknown}` that is not in the library"
        fix = "write the id of an exercise, such as `step-up`"
        findings.append(
            Finding("library-unknown-neighbour", "error", what, "it cannot be reached", fix, spans.get(variant.id))
        )
    return tuple(i for i in ids if i in by_id)


def _taken(name: str, variant: Variant, owner: Variant, span: Span | None) -> Finding:
    what = f"the name `{name}` of {variant.name} already belongs to {owner.name} ({owner.id})"
    why = "a line of a programme must mean one exercise"
    return Finding("library-name-taken", "error", what, why, "choose another name or take it out", span)
