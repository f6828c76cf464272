"""How long a set, a block and a session take. The one timing used by the checks, the fit and the sheet.

    set      sides x (reps x rep_s + hold_s) + (sides - 1) x side_rest_s
    straight sum of setup + sets x set + (sets - 1) x rest, and `between` from one exercise to the next
    others   setups + rounds x (sum of sets + betweens) + (rounds - 1) x rest
    session  sum of blocks + a minute from one block to the next

Every default here is common practice, no source; the default rest of straight sets is the middle of Grgic 2018's
60-120 s for the untrained (seen). All sums are linear in each exercise's own time, so that the fit can use them.
"""

from __future__ import annotations

from collections.abc import Sequence

from ferrule.model.exercise import Library, Variant
from ferrule.model.fitted import FittedBlock
from ferrule.model.programme import Block, BlockKind, Dose, Item, Named, Session
from ferrule.model.quantity import Range

REST_S: dict[BlockKind, float] = {"warm-up": 0.0, "straight": 90.0, "pair": 60.0, "circuit": 60.0, "cool-down": 0.0}
"""Rest after a set or round when none is written."""
BETWEEN_S: dict[BlockKind, float] = {
    "warm-up": 5.0, "straight": 60.0, "pair": 10.0, "circuit": 10.0, "cool-down": 5.0,
}  # fmt: skip
"""From one exercise of the block to the next when nothing is written: a breath and the walk."""
SIDE_S = 5.0
"""Changing sides when no side rest is written."""
WALK_S = 60.0
"""From one block to the next."""
REP_S = 3.0
SETUP_S = 20.0
PACE_M_PER_S = 1.0
"""Carries, walks and skips counted in metres."""
CONTACT_S = 0.7
"""One foot contact of a jump, hop or skip counted in contacts."""
CLUSTER_S = 15.0
"""Rest between the parts of a cluster."""
UNSTATED_S = 30.0
"""A set of a line that states no amount at all."""

TimedItem = tuple[float, float, float | None]
"""Seconds of one set, seconds of setup, own rest in seconds (None: the block's)."""


def set_seconds(
    reps: float | None,
    rep_s: float,
    sides: int = 1,
    hold_s: float | None = None,
    side_rest_s: float | None = None,
) -> float:
    """Seconds of one set.

    reps         repetitions, each side when `sides` is 2; None when the set is a hold
    rep_s        seconds a repetition, the pause inside it included
    hold_s       seconds held (or worked) each side; None when the set is repetitions
    side_rest_s  rest between the two sides; None counts SIDE_S
    """
    one_side = (reps or 0.0) * rep_s + (hold_s or 0.0)
    change = SIDE_S if side_rest_s is None else side_rest_s
    return sides * one_side + (sides - 1) * change


def block_minutes(
    kind: BlockKind,
    rounds: float | Sequence[float],
    items: Sequence[TimedItem],
    rest_s: float | None = None,
    between_s: float | None = None,
) -> float:
    """Minutes of a block; 0 when it has no items.

    rounds     sets of a straight block, rounds of the others; one number, or one for each item of a straight block
    rest_s     after a set or round;  between_s: from one exercise to the next. None counts the defaults above.
    """
    if not items:
        return 0.0
    rest = REST_S[kind] if rest_s is None else rest_s
    between = BETWEEN_S[kind] if between_s is None else between_s
    setup = sum(setup_s for _, setup_s, _ in items)
    if kind == "straight":
        counts = [rounds] * len(items) if isinstance(rounds, int | float) else list(rounds)
        work = sum(
            n * set_s + max(n - 1, 0) * (rest if own is None else own)
            for n, (set_s, _, own) in zip(counts, items, strict=True)
        )
        return (setup + work + (len(items) - 1) * between) / 60
    n = rounds if isinstance(rounds, int | float) else max(rounds)
    gaps = sum(between if own is None else own for _, _, own in items[:-1])
    last = items[-1][2]
    rest = rest if last is None or rest_s is not None else last
    one_round = sum(set_s for set_s, _, _ in items) + gaps
    return (setup + n * one_round + max(n - 1, 0) * rest) / 60


def clock_seconds(block: Block | FittedBlock, rounds: float, items: int) -> float | None:
    """Seconds of a block that runs by the clock; None when it does not.

    `minutes` go round for that time. `on_s` and `off_s`: rounds x items x (on + off) + (rounds - 1) x rest. `every_s`: a
    round (straight: a set of each exercise) begins each time so many seconds have gone.
    """
    if block.minutes is not None:
        return 60.0 * block.minutes
    rest = 0.0 if block.rest_s is None else block.rest_s.middle
    if block.on_s is not None:
        station = block.on_s.middle + (0.0 if block.off_s is None else block.off_s.middle)
        return rounds * items * station + max(rounds - 1, 0) * rest
    if block.every_s is not None:
        return rounds * block.every_s * (items if block.kind == "straight" else 1)
    return None


def session_minutes(blocks: Sequence[float]) -> float:
    """Minutes of a session from the minutes of its blocks."""
    return sum(blocks) + max(len(blocks) - 1, 0) * WALK_S / 60


def dose_seconds(dose: Dose, variant: Variant | None) -> float:
    """Seconds of one set of a written dose: the middle of every range; an open dose counts its written number."""
    sided = dose.sides == "each" or (dose.sides is None and variant is not None and variant.sided)
    rep_s = dose.tempo.rep_s() if dose.tempo else (variant.rep_s if variant else REP_S)
    rep_s += _middle(dose.pause_s) or 0.0
    side_rest = _middle(dose.side_rest_s)
    if dose.left is not None or dose.right is not None:
        both = (dose.left or 0) + (dose.right or 0)
        return both * rep_s + (SIDE_S if side_rest is None else side_rest)
    held = _middle(dose.hold_s) if dose.hold_s else _middle(dose.work_s)
    if held is None and dose.distance_m:
        held = dose.distance_m.middle / PACE_M_PER_S
    if held is None and dose.contacts:
        one = variant.rep_s if variant and variant.dose_kind == "contacts" else CONTACT_S
        return set_seconds(dose.contacts.middle, one, 2 if sided else 1, None, side_rest)
    reps = _reps(dose)
    if reps is None and held is None:
        held = UNSTATED_S
    if dose.cluster:
        held = (held or 0.0) + (len(dose.cluster) - 1) * CLUSTER_S
    return set_seconds(reps, rep_s, 2 if sided else 1, held, side_rest)


def sets_of(item: Item, block: Block) -> float:
    """Sets of a line: its own, else its per-set list, else the block's sets or rounds; 1 when nothing is written."""
    if item.dose.sets:
        return item.dose.sets.middle
    if item.dose.per_set:
        return float(len(item.dose.per_set))
    return block.sets.middle if block.sets else 1.0


def variant_of(item: Item, library: Library) -> Variant | None:
    """The variant a line names; None for an open slot or an unknown name."""
    if isinstance(item.exercise, Named) and item.exercise.variant_id is not None:
        return library.variants.get(item.exercise.variant_id)
    return None


def block_seconds(block: Block, library: Library) -> float:
    """Seconds of a written block (by-week table already applied), the middle of every range."""
    clock = clock_seconds(block, block.sets.middle if block.sets else 1.0, len(block.items))
    if clock is not None:
        return clock
    items: list[TimedItem] = []
    for item in block.items:
        variant = variant_of(item, library)
        setup_s = variant.setup_s if variant else SETUP_S
        items.append((dose_seconds(item.dose, variant), setup_s, _middle(item.dose.rest_s)))
    counts = [sets_of(item, block) for item in block.items]
    return 60 * block_minutes(block.kind, counts, items, _middle(block.rest_s), _middle(block.between_s))


def written_minutes(session: Session, library: Library) -> float:
    """Minutes of a written session, the middle of every range."""
    return session_minutes([block_seconds(b, library) / 60 for b in session.blocks if b.items])


def _middle(value: Range | None) -> float | None:
    return None if value is None else value.middle


def _reps(dose: Dose) -> float | None:
    if dose.per_set:
        return sum(dose.per_set) / len(dose.per_set) if not (dose.hold_s or dose.work_s) else None
    reps = float(sum(dose.cluster)) if dose.cluster else _middle(dose.reps or dose.rm)
    return reps if dose.drop is None else (reps or 0.0) + dose.drop
