"""Blocks and sessions in plain words: titles, rests, what to fetch, what may go, and the whole as plain lines."""

from __future__ import annotations

from ferrule.deliver import amounts
from ferrule.deliver.plain import clean, sentence
from ferrule.deliver.wording import item_words
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession


def block_title(block: FittedBlock) -> str:
    """`Pair A, 4 rounds`, `Warm-up`, `Straight, 3 sets`."""
    kind = block.kind.capitalize()
    label = clean(block.label)
    name = label if label.lower().startswith(block.kind) else f"{kind} {label}".strip()
    if block.kind == "warm-up" and block.rounds == 1:
        return name
    noun = "set" if block.kind == "straight" else "round"
    if block.kind == "straight" and len({i.sets for i in block.items}) > 1:
        return name
    return f"{name}, {block.rounds} {noun}{'' if block.rounds == 1 else 's'}"


def counted_by_block(item: FittedItem, block: FittedBlock) -> bool:
    """Whether the block's title already says how many sets or rounds of `item` there are."""
    if block.kind == "straight":
        return not item.per_set and {i.sets for i in block.items} == {block.rounds}
    return not item.per_set and item.sets == block.rounds


def block_rest(block: FittedBlock) -> str:
    """The rests of a block in words; empty when none is stated."""
    after = "set" if block.kind == "straight" else "round"
    said = [amounts.rest_words(block.rest_s, after)] if block.rounds > 1 or len(block.items) > 1 else []
    if block.between_s is not None and len(block.items) > 1:
        if block.between_s.high == 0:
            said.append("Straight from one exercise to the next.")
        else:
            said.append(f"{amounts.seconds(block.between_s)} between the exercises.")
    return " ".join(s for s in said if s)


def session_title(session: FittedSession) -> str:
    """`Session 1: calf and hip`."""
    name, key = clean(session.name), clean(session.key)
    head = f"Session {key}" if key else "Session"
    if not name or name.lower() == head.lower():
        return head
    return name if name.lower().startswith(head.lower()) else f"{head}: {name}"


def session_when(session: FittedSession) -> str:
    """`Monday 19 January, 18:30, about 34 min`."""
    start = "" if session.start is None else f", {amounts.clock(session.start)}"
    return f"{amounts.day(session.day)}{start}, {amounts.minutes(session.minutes)}"


def short_of_time(session: FittedSession) -> str:
    """`Short of time? Leave out Press-up first, then Plank.`; empty when nothing may go."""
    names = {i.item_key: clean(i.name) for b in session.blocks for i in b.items}
    gone = [names[k] for k in session.leave_out if k in names]
    if not gone:
        return ""
    first = f"{gone[0]} first" if len(gone) > 1 else gone[0]
    return f"Short of time? Leave out {', then '.join([first, *gone[1:]])}."


def fetch_words(session: FittedSession) -> str:
    """`Fetch now: 12 kg dumbbell, 30 cm step, mat`."""
    things = [clean(f) for f in session.fetch if clean(f)]
    return "Fetch now: " + (", ".join(things) if things else "nothing, only a clear floor")


def session_lines(session: FittedSession, library: Library) -> tuple[str, ...]:
    """The whole session as plain lines, for calendar and terminal."""
    lines = [fetch_words(session), *([short_of_time(session)] if session.leave_out else [])]
    lines += [s for s in map(sentence, session.notes) if s]
    for block in session.blocks:
        lines += ["", block_title(block)]
        lines += [s for s in (block_rest(block), *map(sentence, block.notes)) if s]
        for item in block.items:
            words = item_words(item, block, library.variants.get(item.variant_id))
            key = f"{words.key} " if words.key else ""
            may_go = " (if there is time)" if words.optional else ""
            lines.append(f"- {key}{words.title}{may_go}")
            lines.append(f"  {sentence(words.dose)}" + (f" {sentence(', '.join(words.how))}" if words.how else ""))
            more = [*words.notes, words.rest, words.too_hard, words.too_easy, words.ask]
            lines += [f"  {m}" for m in more if m]
    return tuple(line for line in lines)
