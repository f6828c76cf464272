"""Sessions in plain words: title, what to fetch, what may go, and the whole as plain lines."""

from __future__ import annotations

from ferrule.deliver.block_words import block_notes, block_rest, block_title
from ferrule.deliver.plain import clean, sentence
from ferrule.deliver.wording import item_words
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedSession


def session_title(session: FittedSession) -> str:
    """`Session 1: calf and hip`."""
    name, key = clean(session.name), clean(session.key)
    head = f"Session {key}" if key else "Session"
    if not name or name.lower() == head.lower():
        return head
    return name if name.lower().startswith(head.lower()) else f"{head}: {name}"


def short_of_time(session: FittedSession) -> str:
    """`Short of time? Leave out Press-up first, then Plank.`; empty when nothing may go."""
    names = {i.item_key: clean(i.name) for b in session.blocks for i in b.items}
    gone = [names[k] for k in session.leave_out if k in names]
    if not gone:
        return ""
    first = f"{gone[0]} first" if len(gone) > 1 else gone[0]
    return f"Short of time? Leave out {', then '.join([first, *gone[1:]])}."


def fetch_words(session: FittedSession) -> str:
    """`Fetch now: 12 kg dumbbell, 30 cm step, mat`; `Where: club. Fetch now: ...` when the squad list names the site."""
    things = [clean(f) for f in session.fetch if clean(f)]
    where = f"Where: {clean(session.where)}. " if clean(session.where) else ""
    return f"{where}Fetch now: " + (", ".join(things) if things else "nothing, only a clear floor")


def session_lines(session: FittedSession, library: Library) -> tuple[str, ...]:
    """The whole session as plain lines, for calendar and terminal."""
    lines = [fetch_words(session), *([short_of_time(session)] if session.leave_out else [])]
    lines += [s for s in map(sentence, session.notes) if s]
    for block in session.blocks:
        lines += ["", block_title(block)]
        lines += [s for s in (block_rest(block), *block_notes(block)) if s]
        for item in block.items:
            words = item_words(item, block, library.variants.get(item.variant_id))
            key = f"{words.key} " if words.key else ""
            may_go = " (if there is time)" if words.optional else ""
            lines.append(f"- {key}{words.title}{may_go}")
            lines.append(
                "  " + " ".join(s for s in (sentence(words.dose), words.forms, sentence(", ".join(words.how))) if s)
            )
            more = [*words.notes, words.rest, words.too_hard, words.too_easy, words.ask]
            lines += [f"  {m}" for m in more if m]
    return tuple(line for line in lines)
