"""The built-in families and the coach's own files as one Library."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from ferrule.library.assemble import assemble
from ferrule.library.build import Built, build
from ferrule.library.computed import built_in_texts, fresh_or_stored
from ferrule.library.family_text import Unplaced
from ferrule.library.place import neighbours_known, ordered, place
from ferrule.model.exercise import Family, Library, Variant
from ferrule.model.finding import Finding, Span, in_order


def load_library(own: Mapping[str, bytes] | None = None) -> tuple[Library, tuple[Finding, ...]]:
    """The built-in families and the coach's own TOML files (bytes by file name), and what was wrong in them.

    The built-in part is read once in a process. Nothing raises: a fault is a finding with file, line and key, and the
    rest is still read. The built-in names win over the coach's.
    """
    return _with_own(own)[:2] if own else built_in()


def load_with_places(
    own: Mapping[str, bytes] | None = None,
) -> tuple[Library, tuple[Finding, ...], dict[str, Span]]:
    """As load_library, and the place of every variant by id: in the coach's file, or in `families/` of the program."""
    library, findings, spans = _with_own(own) if own else (*built_in(), {})
    return library, findings, built_in_places() | spans


@cache
def built_in_places() -> dict[str, Span]:
    """Where each built-in variant is written."""
    spans: dict[str, Span] = {}
    for name, data in built_in_texts().items():
        for number, line in enumerate(data.decode().splitlines(), start=1):
            if line.startswith('id = "'):
                spans.setdefault(line[6:-1], Span(f"families/{name}", number))
    return {i: span for i, span in spans.items() if i in built_in()[0].variants}


@cache
def built_in() -> tuple[Library, tuple[Finding, ...]]:
    """The library that Ferrule brings along; its findings are faults of ours (a test holds them empty)."""
    built, findings = stored_built()
    library, more = assemble(built.families, built.variants, {})
    return library, in_order([*findings, *more])


@cache
def stored_built() -> tuple[Built, tuple[Finding, ...]]:
    """The built-in families and variants before they are joined, read once in a process."""
    return fresh_or_stored(built_in_texts())


def _with_own(own: Mapping[str, bytes]) -> tuple[Library, tuple[Finding, ...], dict[str, Span]]:
    built, findings = stored_built()
    movements = {v.id: v.movement for v in built.variants}
    read = build(own, movements)
    families = {f.id: f for f in built.families}
    findings = (*findings, *read.findings)
    for family in read.built.families:
        name = family.id
        while name in families:
            name = f"own-{name}"
        families[name] = replace(family, id=name)
    renamed = {i: f.id for f in families.values() for i in f.variant_ids}
    variants = [*built.variants, *(replace(v, family=renamed.get(v.id, v.family)) for v in read.built.variants)]
    spans: dict[str, Span] = dict(read.spans)
    library, more = assemble(families.values(), variants, spans)
    waiting = list(read.unplaced)
    placed_findings: list[Finding] = []
    while waiting:
        ready = next((u for u in waiting if neighbours_known(u, library)), waiting[0])
        waiting.remove(ready)
        library, more = _placed(ready, library, families, variants, spans, placed_findings, more)
    return library, in_order([*findings, *placed_findings, *more]), spans


def _placed(
    unplaced: Unplaced,
    library: Library,
    families: dict[str, Family],
    variants: list[Variant],
    spans: dict[str, Span],
    findings: list[Finding],
    more: tuple[Finding, ...],
) -> tuple[Library, tuple[Finding, ...]]:
    """The library with one more exercise in it, and the clashes of names so far."""
    found, faults = place(unplaced, library)
    findings.extend(faults)
    if found is None:
        return library, more
    variant = found.variant
    variants.append(variant)
    spans.setdefault(variant.id, found.draft.span)
    if variant.id not in library.variants:
        families[found.family] = replace(
            families[found.family], variant_ids=ordered(families[found.family].variant_ids, found, library.variants)
        )
    return assemble(families.values(), variants, spans)
