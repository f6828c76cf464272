"""Notes and conditions for the runner in two versions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher

from ferrule.programme.change import Change, Where


def text_changes(what: str, old: Sequence[str], new: Sequence[str], where: Where) -> Iterator[Change]:
    """Texts that came, went or were put otherwise, in the order of the new ones; `what` is "note" or "condition"."""
    if tuple(old) == tuple(new):
        return
    if sorted(old) == sorted(new):
        yield Change("order", where, f"{what}s", "; ".join(old), "; ".join(new))
        return
    for _, a, b, c, d in (o for o in SequenceMatcher(None, old, new, autojunk=False).get_opcodes() if o[0] != "equal"):
        gone, came = list(old[a:b]), list(new[c:d])
        both = min(len(gone), len(came))
        for was, now in zip(gone[:both], came[:both], strict=True):
            yield Change("changed", where, what, was, now)
        for now in came[both:]:
            yield Change("added", where, what, "", now)
        for was in gone[both:]:
            yield Change("gone", where, what, was, "")
