"""Reads the built-in families and the coach's own files into one Library."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from ferrule.library.asks import ANCHORS, with_asks
from ferrule.library.assemble import assemble
from ferrule.library.draft import Draft, DraftFamily
from ferrule.library.family_text import read_family
from ferrule.model.exercise import Family, Library, Variant
from ferrule.model.finding import Finding, Span, in_order
from ferrule.model.words import Group


def load_library(own: Mapping[str, bytes] | None = None) -> tuple[Library, tuple[Finding, ...]]:
    """The built-in families and the coach's own TOML files (bytes by file name), and what was wrong in them.

    The built-in part is read once in a process. Nothing raises: a fault is a finding with file, line and key.
    """
    return built_in()


@cache
def built_in() -> tuple[Library, tuple[Finding, ...]]:
    """The library that Ferrule brings along."""
    folder = files("ferrule.library") / "families"
    texts = {f.name: f.read_bytes() for f in folder.iterdir() if f.name.endswith(".toml")}
    families: list[DraftFamily] = []
    findings: list[Finding] = []
    for name in sorted(texts):
        family, _, faults = read_family(texts[name], name)
        findings.extend(faults)
        if family:
            families.append(family)
    library, faults = _library(families)
    return library, in_order([*findings, *faults])


def _library(families: list[DraftFamily]) -> tuple[Library, tuple[Finding, ...]]:
    drafts = {d.variant.id: d for f in families for d in f.drafts}
    anchors: dict[Group, Draft] = {g: drafts[i] for g, i in ANCHORS.items() if i in drafts}
    findings: list[Finding] = []
    variants: list[Variant] = []
    spans: dict[str, Span] = {}
    for family in families:
        for draft in family.drafts:
            variant, faults = with_asks(draft, anchors)
            variants.append(variant)
            findings.extend(faults)
            spans[variant.id] = draft.span
    made = [Family(f.id, f.name, tuple(d.variant.id for d in f.drafts), f.order_source) for f in families]
    library, faults = assemble(made, variants, spans)
    return library, (*findings, *faults)
