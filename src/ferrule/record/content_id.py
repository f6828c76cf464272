"""Ids of entries that arise here, from typed lines and tables: made of what they say, so that twice the same is one entry."""

from __future__ import annotations

import dataclasses
from datetime import datetime
from typing import get_args
from uuid import UUID, uuid5

from ferrule.model.fact import Entry, Fact, Source

NAMESPACE = UUID("6c2f1f0e-4f0c-5d7e-9a51-7a1b0f3d9c25")
"""A namespace of our own (RFC 9562, section 5.5: UUID version 5)."""
_NOT_SAID = frozenset(("entry_id", "recorded_at"))
"""What the envelope says."""


_FIELDS: dict[type, tuple[tuple[str, object], ...]] = {
    kind: tuple((f.name, f.default) for f in dataclasses.fields(kind) if f.name not in _NOT_SAID)
    for kind in get_args(Fact)
}
"""Names and defaults of what a fact of each kind says itself."""


def content_id(runner_id: str, fact: Fact) -> str:
    """UUID version 5 of the runner, the kind of the fact, and each field that is not its default.

    A field added to a fact later, with a default, leaves the ids of older entries as they were.
    """
    said = [type(fact).__name__, runner_id]
    for name, default in _FIELDS[type(fact)]:
        value = getattr(fact, name)
        if value != default:
            said.append(f"{name}={value!r}")
    return str(uuid5(NAMESPACE, "\n".join(said)))


def entry_of(runner_id: str, fact: Fact, recorded_at: datetime, source: Source) -> Entry:
    """The fact in an envelope with an id of its content."""
    return Entry(content_id(runner_id, fact), runner_id, recorded_at, source, fact)
