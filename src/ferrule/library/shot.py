"""How an exercise is filmed: as its author wrote it, the rest from its pose, its cues and its faults.

`shot = { view = "front", side = "either side", see = "knees over the toes", say = "..." }`; any part may be left out, and
what `[shared]` says counts for every exercise of the file that does not say otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from ferrule.library.fields import Fields
from ferrule.model.exercise import Shot, Variant

View = Literal["side", "front", "behind"]
CameraSide = Literal["working side", "other side", "either side"]
VIEWS: tuple[View, ...] = ("side", "front", "behind")
SIDES: tuple[CameraSide, ...] = ("working side", "other side", "either side")
KEYS = ("view", "side", "see", "say")


def read_shot(fields: Fields, variant: Variant, like: Shot | None) -> Shot:
    """The shot of a variant that is otherwise read. `like` is that of the neighbour it was placed by."""
    written: dict[str, object] = {}
    for part in (fields.shared, fields.raw):
        table = part.get("shot")
        if isinstance(table, Mapping):
            written |= {key: table[key] for key in table if key in KEYS and isinstance(table[key], str)}
    _faults(fields)
    made = shot_of(variant)
    return Shot(
        view=next((v for v in VIEWS if v == written.get("view")), like.view if like else made.view),
        side=next((s for s in SIDES if s == written.get("side")), made.side),
        see=str(written.get("see") or (like.see if like and not variant.faults else made.see)),
        say=str(written.get("say") or made.say or (like.say if like else "")),
    )


def shot_of(variant: Variant) -> Shot:
    """The shot of a variant; where it has none: the view of its figure, its first fault and its first cue."""
    if variant.shot is not None:
        return variant.shot
    front = variant.movement is not None and variant.movement.view == "front"
    fault = variant.faults[0].seen.rstrip(".") if variant.faults else ""
    return Shot(
        view="front" if front else "side",
        side="either side" if front or not variant.sided else "working side",
        see=f"no sign of this: {fault[:1].lower()}{fault[1:]}" if fault else "the whole way, start to end",
        say=variant.cues[0] if variant.cues else "",
    )


def _faults(fields: Fields) -> None:
    """Tell what is no table, no known key or no known word in `shot`."""
    value = fields.value("shot")
    if value is None:
        return
    if not isinstance(value, Mapping):
        fix = 'write `shot = { view = "side", see = "..." }`'
        fields.fault("library-bad-value", "shot", "`shot` is not a table", fix)
        return
    for key, word in value.items():
        allowed = {"view": VIEWS, "side": SIDES}.get(key)
        if key not in KEYS:
            fix = f"write one of: {', '.join(KEYS)}"
            fields.fault("library-unknown-key", "shot", f"`shot` has `{key}`, which is not known", fix)
        elif not isinstance(word, str) or not word.strip():
            fields.fault("library-bad-value", "shot", f"`shot.{key}` is not a text", "write a text in quotes")
        elif allowed is not None and word not in allowed:
            fix = f"write one of: {', '.join(allowed)}"
            fields.fault("library-bad-value", "shot", f"`{word}` is not known for `shot.{key}`", fix)
