"""Sessions of one week in two versions: which is which, what moved between them, and what each says otherwise."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass, field

from ferrule.model.programme import Block, Item, Session
from ferrule.programme.align import Pairs, anywhere, in_gaps, in_order, matched, reordered, unmatched
from ferrule.programme.change import Change, Where
from ferrule.programme.compare_lines import alike, line_changes, said_with_alternatives, swap_changes
from ferrule.programme.compare_texts import text_changes
from ferrule.programme.head_text import head_of_block, head_of_session
from ferrule.programme.meaning import COMPARED_ELSEWHERE, field_changes, meaning
from ferrule.programme.text import name_text


@dataclass(frozen=True, slots=True)
class Spot:
    """A line and where it stands: session and block by number."""

    session: int
    block: int
    item: Item

    @property
    def what(self) -> Hashable:
        return meaning(self.item.exercise)


At = tuple[int, int]
"""Session and block by number."""


@dataclass(slots=True)
class _Pairing:
    """Which old part is which new one: lines by their number in the flat lists, blocks by session and block.

    old_at, new_at      the lines of each block
    from_new, from_old  line -> its partner;  swapped: new line -> the old one whose place it took
    blocks              new block -> old block
    """

    old: list[Spot]
    new: list[Spot]
    sessions: Pairs
    old_at: dict[At, list[int]]
    new_at: dict[At, list[int]]
    from_new: dict[int, int] = field(default_factory=dict)
    from_old: dict[int, int] = field(default_factory=dict)
    swapped: dict[int, int] = field(default_factory=dict)
    blocks: dict[At, At] = field(default_factory=dict)

    def add(self, pairs: Pairs) -> None:
        """More lines that are the same."""
        for a, b in pairs:
            self.from_new[b], self.from_old[a] = a, b

    @property
    def lines(self) -> Pairs:
        return [(a, b) for b, a in self.from_new.items()]


def session_title(session: Session) -> str:
    """`Session 1: step and calf`."""
    head = f"Session {session.key}".rstrip()
    return f"{head}: {session.name}" if session.name else head


def block_title(block: Block) -> str:
    """`Pair A`, `Warm-up`; a straight block without a letter by its first exercise: `Straight, Press-up`."""
    head = head_of_block(block).split(",")[0]
    if block.kind == "warm-up" or block.label or not block.items:
        return head
    return f"{head}, {name_text(block.items[0].exercise)}"


def sessions_changes(old: Sequence[Session], new: Sequence[Session]) -> Iterator[Change]:
    """Every change of the sessions of one week, in the order of the new text."""
    if meaning(tuple(old)) == meaning(tuple(new)):
        return
    pairing = _pair(old, new)
    partner = {b: a for a, b in pairing.sessions}
    kept = sorted(partner)
    if reordered(pairing.sessions):
        was = "; ".join(session_title(old[a]) for a in sorted(partner.values()))
        yield Change("order", Where(), "sessions", was, "; ".join(session_title(new[b]) for b in kept))
    for place, session in enumerate(new):
        where = Where(session_title(session))
        if place not in partner:
            yield Change("added", where, "session", "", _in_full(session))
        else:
            yield from _session(old[partner[place]], session, where)
        yield from _blocks(old, new, place, partner.get(place), pairing)
    for place in unmatched(len(old), [a for a, _ in pairing.sessions]):
        yield Change("gone", Where(session_title(old[place])), "session", _in_full(old[place]), "")


def _session(old: Session, new: Session, where: Where) -> Iterator[Change]:
    if (old.key, old.name) != (new.key, new.name):
        yield Change("changed", where, "called", session_title(old), session_title(new))
    for what, was, now in field_changes(old, new, besides=COMPARED_ELSEWHERE[Session]):
        yield Change("changed", where, what, was, now)
    yield from text_changes("note", old.notes, new.notes, where)
    yield from text_changes("condition", [c.text for c in old.conditions], [c.text for c in new.conditions], where)


def _in_full(session: Session) -> str:
    """Head and exercises of a session that came or went: `Session 3: circuit, 30 min: Squat, Towel row`."""
    names = ", ".join(name_text(i.exercise) for b in session.blocks for i in b.items)
    return head_of_session(session).lstrip("# ") + (f": {names}" if names else "")


def _blocks(
    old: Sequence[Session], new: Sequence[Session], place: int, before: int | None, pairing: _Pairing
) -> Iterator[Change]:  # fmt: skip
    """Changes inside one new session: its blocks, their lines, and what is gone from the old one."""
    title = session_title(new[place])
    mine = [(a, b) for b, a in pairing.blocks.items() if b[0] == place]
    if before is not None and reordered([(a[1], b[1]) for a, b in mine if a[0] == before]):
        was = [block_title(old[before].blocks[a[1]]) for a, _ in sorted(mine) if a[0] == before]
        now = [block_title(new[place].blocks[b[1]]) for a, b in sorted(mine, key=lambda m: m[1]) if a[0] == before]
        yield Change("order", Where(title), "blocks", "; ".join(was), "; ".join(now))
    for k, block in enumerate(new[place].blocks):
        where = Where(title, block_title(block))
        source = pairing.blocks.get((place, k))
        lines = _lines(old, pairing, (place, k), source, where)
        if source is not None:
            yield from _block(old[source[0]].blocks[source[1]], block, where)
        elif before is not None:
            yield Change("added", where, "block", "", _block_in_full(block, pairing, (place, k)))
            lines = (c for c in lines if c.kind != "added" or c.where.alternative or c.what != "line")
        else:  # a new session says its own exercises
            lines = (c for c in lines if c.kind == "moved")
        yield from lines
    if before is None:
        return
    known = set(pairing.blocks.values())
    for k, block in enumerate(old[before].blocks):
        if (before, k) not in known:
            gone = Where(title, block_title(block))
            yield Change("gone", gone, "block", _block_in_full(block, pairing, (before, k), old=True), "")


def _block(old: Block, new: Block, where: Where) -> Iterator[Change]:
    rounds = "sets" if new.kind == "straight" else "rounds"
    for what, was, now in field_changes(old, new, besides=COMPARED_ELSEWHERE[Block]):
        yield Change("changed", where, rounds if what == "sets" else what, was, now)
    yield from text_changes("note", old.notes, new.notes, where)
    yield from text_changes("condition", [c.text for c in old.conditions], [c.text for c in new.conditions], where)


def _block_in_full(block: Block, pairing: _Pairing, spot: At, *, old: bool = False) -> str:
    """The head and those lines that stand in no other block of the other version."""
    if old:
        swapped = set(pairing.swapped.values())
        lines = pairing.old_at.get(spot, [])
        own = [pairing.old[k].item for k in lines if k not in pairing.from_old and k not in swapped]
    else:
        lines = pairing.new_at.get(spot, [])
        own = [pairing.new[k].item for k in lines if k not in pairing.from_new and k not in pairing.swapped]
    return ": ".join(p for p in (head_of_block(block), "; ".join(map(said_with_alternatives, own))) if p)


def _lines(
    old: Sequence[Session], pairing: _Pairing, spot: At, source: At | None, where: Where
) -> Iterator[Change]:  # fmt: skip
    from_new, swapped = pairing.from_new, pairing.swapped
    here = pairing.new_at.get(spot, [])
    stayed = [(from_new[k], k) for k in here if k in from_new and _at(pairing.old[from_new[k]]) == source]
    if reordered(stayed):
        was = [name_text(pairing.old[a].item.exercise) for a, _ in sorted(stayed)]
        now = [name_text(pairing.new[b].item.exercise) for _, b in stayed]
        yield Change("order", where, "lines", "; ".join(was), "; ".join(now))
    for k in here:
        item = pairing.new[k].item
        at = Where(where.session, where.block, name_text(item.exercise))
        if k in from_new:
            spot_before = pairing.old[from_new[k]]
            if _at(spot_before) != source:
                yield Change("moved", at, "line", _place(old, spot_before, spot[0], pairing), where.block)
            yield from line_changes(spot_before.item, item, at)
        elif k in swapped:
            yield from swap_changes(pairing.old[swapped[k]].item, item, at)
        else:
            yield Change("added", at, "line", "", said_with_alternatives(item))
    if source is not None:
        replaced = {swapped[k] for k in here if k in swapped}
        for k in pairing.old_at.get(source, []):
            if k not in pairing.from_old and k not in replaced:
                name = name_text(pairing.old[k].item.exercise)
                yield Change("gone", Where(where.session, where.block, name), "line", name, "")


def _at(spot: Spot) -> At:
    return (spot.session, spot.block)


def _place(old: Sequence[Session], spot: Spot, now: int, pairing: _Pairing) -> str:
    """The old place of a line that moved: its block, with the session when that is another one."""
    block = block_title(old[spot.session].blocks[spot.block])
    return block if (spot.session, now) in pairing.sessions else f"{session_title(old[spot.session])}, {block}"


def _pair(old: Sequence[Session], new: Sequence[Session]) -> _Pairing:
    """Sessions, then lines inside them, then lines that moved between them, then blocks, then swapped exercises."""
    before, after = _spots(old), _spots(new)
    pairing = _Pairing(before, after, _sessions(old, new), _by(before), _by(after))
    left_of = [[k for b in range(len(s.blocks)) for k in pairing.old_at.get((n, b), [])] for n, s in enumerate(old)]
    right_of = [[k for b in range(len(s.blocks)) for k in pairing.new_at.get((n, b), [])] for n, s in enumerate(new)]
    for a, b in pairing.sessions:
        left, right = left_of[a], right_of[b]
        inside = in_order([_key(old, before[k]) for k in left], [_key(new, after[k]) for k in right])
        inside += anywhere([before[k].what for k in left], [after[k].what for k in right], inside)
        pairing.add([(left[p], right[q]) for p, q in inside])
    pairing.add(anywhere([s.what for s in before], [s.what for s in after], pairing.lines))
    _pair_blocks(old, new, pairing)
    _pair_swaps(pairing)
    return pairing


def _by(spots: Sequence[Spot]) -> dict[At, list[int]]:
    out: dict[At, list[int]] = {}
    for k, spot in enumerate(spots):
        out.setdefault(_at(spot), []).append(k)
    return out


def _spots(sessions: Sequence[Session]) -> list[Spot]:
    return [Spot(s, b, i) for s, x in enumerate(sessions) for b, block in enumerate(x.blocks) for i in block.items]


def _key(sessions: Sequence[Session], spot: Spot) -> Hashable:
    """What a line is in its order: a movement of the warm-up is not the same one of the work."""
    return (sessions[spot.session].blocks[spot.block].kind == "warm-up", spot.what)


def _sessions(old: Sequence[Session], new: Sequence[Session]) -> Pairs:
    """By number and name, by name, by number where some exercise is shared, else where half of the exercises are."""
    pairs = matched([(s.key, s.name) for s in old], [(s.key, s.name) for s in new])
    held = [[{meaning(i.exercise) for b in s.blocks for i in b.items} for s in part] for part in (old, new)]

    def shared(a: int, b: int) -> float:
        both = held[0][a] | held[1][b]
        return len(held[0][a] & held[1][b]) / len(both) if both else 1.0

    tests: tuple[Callable[[int, int], bool], ...] = (
        lambda a, b: old[a].name != "" and old[a].name == new[b].name,
        lambda a, b: old[a].key == new[b].key and shared(a, b) > 0,
        lambda a, b: shared(a, b) >= 1 / 2,
    )
    for test in tests:
        for b in unmatched(len(new), [q for _, q in pairs]):
            left = [a for a in unmatched(len(old), [p for p, _ in pairs]) if test(a, b)]
            if left:
                pairs.append((max(left, key=lambda a: (shared(a, b), -abs(a - b))), b))
    return pairs


def _pair_blocks(old: Sequence[Session], new: Sequence[Session], pairing: _Pairing) -> None:
    """Blocks that share most lines; then those of one kind that stand after the same block."""
    counts: dict[tuple[At, At], int] = {}
    same_session = set(pairing.sessions)
    for a, b in pairing.lines:
        was, now = _at(pairing.old[a]), _at(pairing.new[b])
        if (was[0], now[0]) in same_session:
            counts[was, now] = counts.get((was, now), 0) + 1

    def kind(sessions: Sequence[Session], spot: At) -> str:
        return sessions[spot[0]].blocks[spot[1]].kind

    used: set[At] = set()
    ranked = sorted(
        counts, key=lambda p: (kind(old, p[0]) != kind(new, p[1]), -counts[p], abs(p[0][1] - p[1][1]), p)
    )  # fmt: skip
    for was, now in ranked:
        if was not in used and now not in pairing.blocks:
            pairing.blocks[now] = was
            used.add(was)
    inside: dict[At, Pairs] = {}
    for now, was in pairing.blocks.items():
        inside.setdefault((was[0], now[0]), []).append((was[1], now[1]))
    for s, t in pairing.sessions:

        def one_kind(a: int, b: int, s: int = s, t: int = t) -> float:
            return float(kind(old, (s, a)) == kind(new, (t, b)))

        more = in_gaps(len(old[s].blocks), len(new[t].blocks), inside.get((s, t), []), one_kind)
        pairing.blocks |= {(t, b): (s, a) for a, b in more}


def _pair_swaps(pairing: _Pairing) -> None:
    """In each pair of blocks: what is left over on both sides after the same line."""
    for now, was in pairing.blocks.items():
        left, right = pairing.old_at.get(was, []), pairing.new_at.get(now, [])
        here = set(right)
        # a line that moved away or came from elsewhere is no neighbour and no candidate
        left = [k for k in left if pairing.from_old.get(k, -1) in here or k not in pairing.from_old]
        there = set(left)
        right = [k for k in right if pairing.from_new.get(k, -1) in there or k not in pairing.from_new]
        place = {k: i for i, k in enumerate(left)}
        pairs = [(place[pairing.from_new[k]], i) for i, k in enumerate(right) if k in pairing.from_new]

        def how(a: int, b: int, left: list[int] = left, right: list[int] = right) -> float:
            return alike(pairing.old[left[a]].item, pairing.new[right[b]].item)

        pairing.swapped |= {right[b]: left[a] for a, b in in_gaps(len(left), len(right), pairs, how)}
