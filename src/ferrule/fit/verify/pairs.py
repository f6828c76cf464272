"""Two exercises of a pair do not tire one group, unless the coach wrote it so."""

from __future__ import annotations

from ferrule.fit.verify.refused import refused
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek
from ferrule.model.programme import Named, ProgrammeWeek
from ferrule.model.words import Group


def check_pairs(week: FittedWeek, written: ProgrammeWeek, library: Library) -> tuple[Finding, ...]:
    """Pairs whose written exercises are known and on groups of their own keep them apart."""
    out = []
    lines = {(s.key, i.key): i for s in written.sessions for b in s.blocks for i in b.items}
    whole = {(s.key, i.key): tuple(x.key for x in b.items) for s in written.sessions for b in s.blocks for i in b.items}
    for session in week.sessions:
        for block in session.blocks:
            if block.kind != "pair" or not block.items or (session.key, block.items[0].item_key) not in whole:
                continue
            exercises = [lines[session.key, k].exercise for k in whole[session.key, block.items[0].item_key]]
            meant = [_group(e.variant_id or "", library) for e in exercises if isinstance(e, Named)]
            apart = len(meant) == len(exercises) and None not in meant and len(set(meant)) == len(meant)
            done = [g for i in block.items if (g := _group(i.variant_id, library)) is not None]
            if apart and len(set(done)) < len(done):
                names = " and ".join(i.name for i in block.items)
                out.append(refused("pair-clash", week, f"session {session.key}: {names} tire one group in a pair"))
    return tuple(out)


def _group(variant_id: str, library: Library) -> Group | None:
    variant = library.variants.get(variant_id)
    return next((a.group for a in variant.asks if a.main), None) if variant is not None else None
