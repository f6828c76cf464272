"""What may stand in for a piece of kit that is not owned, and what is still missing for a variant."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.model.exercise import Variant
from ferrule.model.quantity import number
from ferrule.model.squad import KitItem
from ferrule.model.words import KitKind, Pattern

OWNED_BY_ALL: frozenset[KitKind] = frozenset({"wall", "towel"})
HEIGHT_CM: dict[KitKind, float] = {"step": 20, "stair": 18, "chair": 45, "bench": 45, "box": 40, "sofa": 42}
"""Heights taken when none is told, cm (common practice, no source: usual furniture and stair building)."""
RAISED: tuple[KitKind, ...] = ("step", "stair", "box", "bench", "chair", "sofa")
"""What has a height to stand, sit or lean on."""


@dataclass(frozen=True, slots=True)
class StandIn:
    """`owned` may stand in for `wanted`. `patterns` empty: for any exercise; else only for those."""

    wanted: KitKind
    owned: KitKind
    reason: str
    patterns: tuple[Pattern, ...] = ()


_SIT_OR_LEAN: tuple[Pattern, ...] = ("push", "squat", "split squat", "trunk front", "trunk side", "hip adduction")
_PRACTICE = "common practice, no source"
STAND_INS: tuple[StandIn, ...] = (
    StandIn("step", "stair", "the lowest stair is a step of 18 cm that cannot slide"),
    StandIn("step", "box", "a box of the right height is a step"),
    StandIn("step", "chair", "a chair against a wall holds the hands; nobody steps on it", ("push",)),
    StandIn("step", "sofa", "a sofa against a wall holds the hands; nobody steps on it", ("push",)),
    StandIn("stair", "step", "a step with an edge is used as a stair is"),
    StandIn("box", "step", "a step of the right height is a low box"),
    StandIn("box", "bench", "a firm bench carries a standing person"),
    StandIn("bench", "box", "a box of the right height is a bench"),
    StandIn("bench", "chair", "a chair against a wall holds hands or a rear foot; nobody steps on it", _SIT_OR_LEAN),
    StandIn("box", "chair", "a chair against a wall can be sat down to or leaned on; nobody steps on it", _SIT_OR_LEAN),
    StandIn(
        "bench",
        "sofa",
        "a sofa against a wall holds the upper back, the hands or a rear foot; it is too soft to step on",
        (*_SIT_OR_LEAN, "bridge", "knee flexion"),
    ),
    StandIn("chair", "bench", "a bench is sat on and leaned on as a chair is"),
    StandIn("chair", "box", "a box of a chair's height is sat on and leaned on as a chair is"),
    StandIn("chair", "sofa", "a sofa is sat down to as a chair is", ("squat", "split squat", "bridge", "knee flexion")),
    StandIn("mat", "towel", "a folded towel softens the floor under knees, elbows and back"),
)
"""Every substitution the fit may make (all: common practice, no source)."""


def missing_kit(kit: tuple[KitItem, ...], variant: Variant) -> tuple[str, ...]:
    """What is missing for this variant, in words ("mat", "step of 20-30 cm"); empty when all is there.

    A wall and a towel are owned by everybody. STAND_INS apply. When the variant asks for a height (`step_cm`), the
    piece, or what stands in for it, must have it; a height that is not told is HEIGHT_CM.
    """
    return tuple(words for words, piece in _needs(kit, variant) if piece is None)


def pieces_for(kit: tuple[KitItem, ...], variant: Variant) -> tuple[str, ...]:
    """What to fetch for this variant besides its load, in words: the pieces of `kit` that serve; walls are not told."""
    found = (piece for _, piece in _needs(kit, variant) if piece is not None)
    return tuple(dict.fromkeys(piece_words(piece) for piece in found if piece.kind != "wall"))


def piece_words(piece: KitItem) -> str:
    """A piece of kit as it is fetched: "20 cm step", "thin band", "mat"."""
    if piece.height_cm is not None:
        return f"{number(piece.height_cm)} cm {piece.kind}"
    return f"{piece.band} band" if piece.band is not None else piece.kind


_TO_STAND_ON: tuple[KitKind, ...] = ("step", "stair", "box", "bench")


def _needs(kit: tuple[KitItem, ...], variant: Variant) -> list[tuple[str, KitItem | None]]:
    """(what is needed, in words; the piece that serves, or None) for each kind the variant needs.

    The height belongs to the first kind that is stood on, else to the first that is sat or leaned on.
    """
    kinds = list(variant.kit)
    high = next((k for some in (_TO_STAND_ON, RAISED) for k in kinds if k in some), None)
    if variant.step_cm is not None and high is None:
        kinds.append(high := "step")
    return [(_need_words(k, variant, k == high), _serving(kit, k, variant, k == high)) for k in kinds]


def _need_words(kind: KitKind, variant: Variant, high: bool) -> str:
    if variant.step_cm is None or not high:
        return kind
    low, top = variant.step_cm
    return f"{kind} of {number(low)} cm" if low == top else f"{kind} of {number(low)}-{number(top)} cm"


def _serving(kit: tuple[KitItem, ...], kind: KitKind, variant: Variant, high: bool) -> KitItem | None:
    stand_ins = [s.owned for s in STAND_INS if s.wanted == kind and (not s.patterns or variant.pattern in s.patterns)]
    for wanted in (kind, *stand_ins):
        if wanted in OWNED_BY_ALL:
            return KitItem(wanted)
        for piece in kit:
            if piece.kind == wanted and (not high or _high_enough(piece, variant)):
                return piece
    return None


def _high_enough(piece: KitItem, variant: Variant) -> bool:
    if variant.step_cm is None or piece.kind not in RAISED:
        return True
    height = piece.height_cm if piece.height_cm is not None else HEIGHT_CM[piece.kind]
    return variant.step_cm[0] <= height <= variant.step_cm[1]
