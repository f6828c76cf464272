"""What heads say once, laid out for one week: sessions done several times, fields that a block gives all its items."""

from __future__ import annotations

from dataclasses import replace

from ferrule.model.programme import Block, Cycle, Dose, Item, Programme, Session
from ferrule.model.quantity import Range
from ferrule.programme.head_text import (
    CYCLE_MORE,
    block_words,
    cycle_words,
    more_of,
    session_words,
    times_text,
)  # fmt: skip
from ferrule.programme.text import free_forms, marked

_AMOUNTS = ("reps", "per_set", "hold_s", "work_s", "distance_m", "contacts", "cluster", "left", "right")


def shared(block: Block) -> Block:
    """The block with its tempo, intensity and station time in every item that states none, the rest of it as words."""
    words = block_words(block.kind, more_of(block, ("reps_in_all",)))
    between = block.off_s if block.off_s is not None and block.between_s is None else block.between_s
    if (
        not words
        and between == block.between_s
        and block.tempo is None
        and block.intensity is None
        and block.on_s is None
    ):
        return block
    items = tuple(_given(i, block) for i in block.items)
    return replace(block, items=items, between_s=between, notes=(*words, *block.notes))


def _given(item: Item, block: Block) -> Item:
    new = _dose_given(item.dose, block)
    if new is item.dose and not item.alternatives:
        return item
    return replace(item, dose=new, alternatives=tuple(_given(a, block) for a in item.alternatives))


def _dose_given(dose: Dose, block: Block) -> Dose:
    changes: dict[str, object] = {}
    if block.tempo is not None and dose.tempo is None and dose.down_s is None and dose.up_s is None:
        changes["tempo"] = block.tempo
    if block.intensity is not None and dose.intensity is None:
        changes["intensity"] = block.intensity
    if block.on_s is not None and not any(getattr(dose, n) for n in _AMOUNTS):
        changes["work_s"] = block.on_s
    if not changes:
        return dose
    return marked(replace(dose, **changes), free_forms(dose))  # type: ignore[arg-type]


def laid(
    sessions: list[Session], cycle: Cycle, programme: Programme, week: int, *, every_version: bool = False
) -> tuple[Session, ...]:
    """The sessions of one week: one of those to choose from, one of the levels, those of the week's numbers.

    every_version   all of those to choose from and all levels, as they are written

    How often each is done in the week stays in its fields (see `occurrences`).
    """
    sessions = [_said(s) for s in (sessions if every_version else _chosen(_levels(sessions)))]
    if cycle.sessions_span is not None:
        return _numbered(sessions, cycle, programme, week)
    return tuple(sessions)


_IN_WORDS = ("level", "supervised", "contacts", "contacts_open", "beside_run", "choose")
"""Fields of a session that the runner reads as words."""


def _said(session: Session) -> Session:
    words = session_words(more_of(session, _IN_WORDS))
    return replace(session, notes=(*words, *session.notes)) if words else session


def _numbered(sessions: list[Session], cycle: Cycle, programme: Programme, week: int) -> tuple[Session, ...]:
    """A cycle counted in sessions: those of its numbers that fall into the week, and of the cycle that follows in it."""
    rate = rate_of(programme)
    numbers = range((week - 1) * rate + 1, week * rate + 1)
    found = _share(sessions, cycle, numbers)
    for other in programme.cycles:
        if other is not cycle and other.sessions_span is not None and other.sessions_span[0] in numbers:
            taken = _share([_said(s) for s in other.sessions], other, numbers)
            found += [replace(s, key=f"{s.key} of cycle {other.key}") for s in taken]
    return tuple(found)


def _share(sessions: list[Session], cycle: Cycle, numbers: range) -> list[Session]:
    """Sessions of a cycle that are among `numbers`, taken in turn, each with how often it comes."""
    first, last = cycle.sessions_span or (1, 1)
    order = [(n - first) % len(sessions) for n in numbers if first <= n <= last] if sessions else []
    return [
        replace(s, times_a_week=Range.of(order.count(k)), at_least=False) for k, s in enumerate(sessions) if k in order
    ]


def rate_of(programme: Programme) -> int:
    """Sessions a week by the front matter, the low end of a range; 1 when it does not say."""
    return int(programme.sessions_per_week.low) if programme.sessions_per_week else 1


def _levels(sessions: list[Session]) -> list[Session]:
    """Of the versions of one session the first; the others are named in its words."""
    found: list[Session] = []
    for session in sessions:
        same = next(
            (k for k, s in enumerate(found) if session.level and s.level and _number(s) == _number(session)), None
        )
        if same is None:
            found.append(session)
        else:
            kept = found[same]
            found[same] = replace(
                kept, notes=(*kept.notes, f"There is also a version of this session for level {session.level}.")
            )
    return found


def _number(session: Session) -> str:
    return session.key.removesuffix(f" {session.level}")


def _chosen(sessions: list[Session]) -> list[Session]:
    """In place of a session that is a choice stands the first of those to choose from; the others are named."""
    every = {s.key: s for s in sessions}
    offered = {key for s in sessions for key in s.choose}
    found: list[Session] = []
    for session in sessions:
        options = [every[k] for k in session.choose if k in every]
        if session.key in offered:
            continue
        if not options:
            found.append(session)
            continue
        first, names = options[0], [f"{o.key} {o.name}".strip() for o in options[1:]]
        words = (f"Or one of these instead: {'; '.join(names)}.",) if names else ()
        name = ": ".join(p for p in (session.name, first.name) if p)
        found.append(
            replace(
                session, name=name, blocks=first.blocks, choose=(), minutes=first.minutes or session.minutes,
                notes=(*session.notes, *words, *first.notes), conditions=(*session.conditions, *first.conditions),
            )
        )  # fmt: skip
    return found


def cycle_notes(cycle: Cycle) -> tuple[str, ...]:
    """What the head of a cycle says that a week of it does not show by itself."""
    more = more_of(
        cycle, tuple(n for n in CYCLE_MORE if n not in ("times_a_week", "at_least", "sessions_span", "repeat_to"))
    )
    words = cycle_words(more)
    times = cycle.times_a_week
    if times is not None and (not times.single or cycle.at_least):
        words.append(times_text(times, cycle.at_least))
    return tuple(words)
