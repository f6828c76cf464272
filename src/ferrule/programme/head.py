"""A structure line as it was read."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

from ferrule.model.programme import BlockKind
from ferrule.model.quantity import Range
from ferrule.programme.amounts import Slip

HeadKind = Literal["cycle", "week", "session", "block"]


@dataclass(slots=True)
class Head:
    """A structure line as read. `whole` is False when some of it could not be read (then `slips` say what).

    more         fields of the part beyond these, under their names in the model
    only_named   a block head that says nothing but a name, which prose may do as well: in lower case it needs its list
    """

    kind: HeadKind
    first_word: str
    label: str = ""
    name: str = ""
    weeks: tuple[int, int] | None = None
    minutes: int | None = None
    day: int | None = None
    block: BlockKind = "straight"
    sets: Range | None = None
    rest_s: Range | None = None
    between_s: Range | None = None
    whole: bool = True
    looks_like_prose: bool = False
    slips: tuple[Slip, ...] = ()
    more: dict[str, Any] = field(default_factory=dict)
    only_named: bool = False
