"""What to ask about newly told entries: the same thing told twice in different words, numbers that look like a slip."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from uuid import uuid5

from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry, Fact, RunTold, SessionTold, WeekTold
from ferrule.model.finding import Finding, Span
from ferrule.record.content_id import NAMESPACE
from ferrule.record.sent import Copies, line_of
from ferrule.record.standing import Key, day_of, same_thing, settles, standing, weight

MUCH_MORE = 3.0
MUCH_MORE_REPS = 10
"""A set of at least so many times what was asked, and so many repetitions more, is asked about (ours): 55 for 5."""
MUCH_LOAD = 2.0
MUCH_LOAD_KG = 10.0
"""A load of at least so many times the sent one, and so many kg more, is asked about (ours): 120 kg for 12 kg."""


def in_place(entries: Iterable[Entry], known: Iterable[Entry]) -> tuple[tuple[Entry, ...], int]:
    """(entries, how many of them settle another): the coach's word on what was told, whoever told it and in whatever way.

    Each that tells of a set, session, week, test or run told before, in other words, becomes a correction of what stands of
    it, by the coach. Its id is made of what it says and of what it replaces. What stands in these words already is left so.
    """
    kept = {e.entry_id: e for e in known}
    stand: dict[Key, Entry] = {key: e for e in standing(kept.values()) if (key := same_thing(e)) is not None}
    out, many = [], 0
    for entry in entries:
        key = same_thing(entry)
        before = None if key is None else _told_before(key, stand)
        if before is None:
            out.append(entry)
        elif _same_words(before.fact, entry.fact) and settles(before):
            out.append(kept[before.entry_id])
        else:
            made = str(uuid5(NAMESPACE, f"{entry.entry_id}\n{before.entry_id}"))
            out.append(replace(entry, entry_id=made, source="coach", replaces=before.entry_id))
            many += 1
    return tuple(out), many


def _told_before(key: Key, stand: dict[Key, Entry]) -> Entry | None:
    """What stands of one thing; of a set told for both sides else what stands of a side, and the other way round.

    What a set for a side takes the place of is taken once: two corrections of one entry would leave the last one only.
    """
    if key in stand or key[1] != "set":
        return stand.get(key)
    if key[-1] == "both":
        return stand.get((*key[:-1], "left")) or stand.get((*key[:-1], "right"))
    return stand.pop((*key[:-1], "both"), None)


def as_corrections(entries: Iterable[Entry], known: Iterable[Entry]) -> tuple[tuple[Entry, ...], int]:
    """(entries, how many of them correct another). What is typed or tabled again in other words replaces what it said before.

    Only entries of the same way in are corrected so: what a page told is never replaced by a typed line, it is a question.
    """
    kept = {e.entry_id: e for e in known}
    found = tuple(entries)
    keys = {same_thing(e) for e in found} - {None}
    stand: dict[tuple[object, ...], Entry] = {}
    for entry in standing(e for e in kept.values() if e.source in ("typed", "table") or e.replaces):
        key = same_thing(entry)
        if key is not None and key in keys and entry.source in ("typed", "table"):
            stand[entry.source, *key] = entry
    out, many = [], 0
    for entry in found:
        key = same_thing(entry)
        before = stand.get((entry.source, *key)) if key is not None else None
        if entry.entry_id in kept:
            out.append(kept[entry.entry_id])  # handed over before: as it was kept
        elif before is not None and not entry.replaces and not _same_words(before.fact, entry.fact):
            out.append(replace(entry, replaces=before.entry_id))
            many += 1
        else:
            out.append(entry)
    return tuple(out), many


def clashes(entries: Iterable[Entry], known: Iterable[Entry], file: str, library: Library) -> tuple[Finding, ...]:
    """A question for each session, week or run of `entries` that stands told in other words, here or in the record.

    The sets of one session are one question. What settles a telling is none.
    """
    new = {e.entry_id: e for e in entries}
    keys = {key: [e] for e in new.values() if (key := same_thing(e)) is not None}
    everything = {e.entry_id: e for e in known} | new
    replaced = {(e.runner_id, e.replaces) for e in everything.values() if e.replaces}
    for entry in everything.values():
        key = same_thing(entry)
        if key in keys and keys[key][0] is not entry and (entry.runner_id, entry.entry_id) not in replaced:
            keys[key].append(entry)
    out: dict[tuple[object, ...], list[_Twice]] = defaultdict(list)
    for key, group in keys.items():
        keeps = max(group, key=weight)
        others = [e for e in group if e is not keeps and _contradict(keeps.fact, e.fact)]
        if others and not settles(group[0]) and (keeps.runner_id, group[0].entry_id) not in replaced:
            fact = keeps.fact
            of_one = (keeps.runner_id, day_of(fact), fact.session_key) if isinstance(fact, LoggedSet) else key
            out[of_one].append((keeps, others))
    return tuple(_twice(found, file, library) for found in out.values())


def doubtful(entries: Iterable[Entry], library: Library, copies: Copies, file: str) -> tuple[Finding, ...]:
    """A question for each set whose number or load is far above what was asked for; it is kept as told."""
    out = []
    for entry in entries:
        fact = entry.fact
        if not isinstance(fact, LoggedSet):
            continue
        name = _name(fact, library)
        unit = "s" if fact.unit == "s" else "repetitions"
        if (
            fact.done is not None
            and fact.asked
            and fact.done >= max(MUCH_MORE * fact.asked, fact.asked + MUCH_MORE_REPS)
        ):
            out.append(
                _slip(
                    entry.runner_id, name, fact, f"{fact.done:g} {unit} were told, and {fact.asked:g} asked for", file
                )
            )
        week = copies(fact.copy_id) if fact.copy_id else None
        line = line_of(week, fact.session_key, fact.item_key) if week is not None else None
        sent = line.item.load.kg if line is not None and line.item.load is not None else 0.0
        if sent and fact.band is None and fact.load_kg >= max(MUCH_LOAD * sent, sent + MUCH_LOAD_KG):
            out.append(_slip(entry.runner_id, name, fact, f"{fact.load_kg:g} kg were told, and {sent:g} kg sent", file))
    return tuple(out)


def _same_words(left: Fact, right: Fact) -> bool:
    return _bare(left) == _bare(right)


def _bare(fact: Fact) -> Fact:
    """The fact without what may differ when the same is told again."""
    if isinstance(fact, LoggedSet):
        return replace(fact, entry_id="", recorded_at=None, copy_id="", at=None)
    if isinstance(fact, (SessionTold, WeekTold)):
        return replace(fact, copy_id="")
    return fact


def _contradict(left: Fact, right: Fact) -> bool:
    """Do two tellings of one thing go against each other? A bare tap goes with every count that is not below what was asked."""
    if isinstance(left, LoggedSet) and isinstance(right, LoggedSet):
        counts = [s for s in (left, right) if s.outcome in ("counted", "failed") and s.done is not None]
        if len(counts) == 2:
            told = [(s.done, s.outcome, s.variant_id, s.load_kg) for s in counts]
            reserves = {s.reserve for s in counts if s.reserve is not None}
            return told[0] != told[1] or len(reserves) > 1
        taps = [s for s in (left, right) if s.outcome == "tapped"]
        if len(counts) == 1 and len(taps) == 1:
            return bool(counts[0].asked and (counts[0].done or 0) < counts[0].asked)
        return False
    if isinstance(left, SessionTold) and isinstance(right, SessionTold):
        numbers = ((left.rating, right.rating), (left.minutes, right.minutes))
        return left.outcome != right.outcome or any(None not in pair and pair[0] != pair[1] for pair in numbers)
    if isinstance(left, RunTold) and isinstance(right, RunTold):
        return None not in (left.minutes, right.minutes) and left.minutes != right.minutes
    return _bare(left) != _bare(right)


_Twice = tuple[Entry, list[Entry]]
"""What stands, and what was told of the same thing in other words."""


def _twice(found: Sequence[_Twice], file: str, library: Library) -> Finding:
    """One question: of one thing, or of all sets of one session."""
    fact = found[0][0].fact
    told = []
    for keeps, others in found:
        ways = dict.fromkeys(words_of(e.fact) for e in (keeps, *others))
        told.append(f"{_thing(keeps.fact, library)} as " + ", and as ".join(ways))
    head = f"{found[0][0].runner_id}, {day_of(fact)}"
    if isinstance(fact, LoggedSet) and fact.session_key:
        head += f", session {fact.session_key}"
    many = f"{len(found)} sets were told in two ways: " if len(found) > 1 else "told in two ways: "
    stands = words_of(fact)
    return Finding(
        "log-told-twice", "advice", f"{head}: {many}{'; '.join(told)}.",
        "The first of each stands; the other is kept and not counted." if len(found) > 1
        else f"{stands[:1].upper()}{stands[1:]} stands; the other is kept and not counted.",
        f"Ask the runner which is right. {SETTLE}", Span(file, 1),
    )  # fmt: skip


SETTLE = "Where the other one is, type it with `ferrule log --instead`: that stands over both."


def _slip(runner_id: str, name: str, fact: LoggedSet, what: str, file: str) -> Finding:
    return Finding(
        "log-slip", "advice", f"{runner_id}, {fact.day}, {name}, set {fact.number}: {what}.",
        "It is kept as told; it may be a slip of the finger.", "Ask the runner, and log it again when it was one.", Span(file, 1),
    )  # fmt: skip


def _thing(fact: Fact, library: Library) -> str:
    if isinstance(fact, LoggedSet):
        side = "" if fact.side == "both" else f" {fact.side}"
        return f"{_name(fact, library)}, set {fact.number}{side}"
    if isinstance(fact, SessionTold):
        return f"session {fact.session_key}".strip()
    return {"WeekTold": "the week", "LoggedTest": "a home test", "RunTold": "a run"}.get(
        type(fact).__name__, "an entry"
    )


def _name(fact: LoggedSet, library: Library) -> str:
    known = library.variants.get(fact.variant_id)
    return fact.variant_id if known is None else known.name


_OUTCOMES: Mapping[str, str] = {"tapped": "done", "not said": "nothing", "counted": "", "failed": " and failed"}


def words_of(fact: Fact) -> str:
    """What a set, session or other fact says, in a few words."""
    if isinstance(fact, LoggedSet):
        if fact.outcome in ("tapped", "not said") or fact.done is None:
            said = _OUTCOMES[fact.outcome] or "done"
        else:
            said = f"{fact.done:g}{' s' if fact.unit == 's' else ''}{_OUTCOMES[fact.outcome]}"
        load = f" with the {fact.band} band" if fact.band else f" with {fact.load_kg:g} kg" if fact.load_kg else ""
        left = ""
        if fact.reserve is not None:
            low, high = fact.reserve.low, fact.reserve.high
            left = f", {low}{'+' if high is None else f'-{high}' if high != low else ''} left"
        return said + load + left + (f", stopped: {fact.stopped}" if fact.stopped else "")
    if isinstance(fact, SessionTold):
        parts = [{"did": "done", "part": "done in part", "none": "not done"}[fact.outcome]]
        parts += [f"rating {fact.rating}"] if fact.rating is not None else []
        parts += [f"{fact.minutes:g} min"] if fact.minutes is not None else []
        return ", ".join(parts + ([fact.why] if fact.why else []))
    if isinstance(fact, WeekTold):
        return ", ".join(p for p in (f"did {fact.did}", fact.felt or "", "pain" if fact.pain else "") if p)
    if isinstance(fact, RunTold):
        return f"{fact.distance_km:g} km" + (f" in {fact.minutes:g} min" if fact.minutes is not None else "")
    return getattr(fact, "words", "") or f"{getattr(fact, 'value', '')}"
