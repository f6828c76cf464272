"""What differs from the text over the squad, in the text's own order: equal changes of several runners are one entry."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from ferrule.deliver import amounts
from ferrule.deliver.plain import clean, sentence
from ferrule.deliver.readback import kind_and_numbers, weeks, who
from ferrule.deliver.repeats import base_key, repeated
from ferrule.deliver.session_words import session_title
from ferrule.deliver.wording import item_words
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedBlock, FittedItem, FittedWeek, SquadWeek

_PLACE: Mapping[str, int] = {"warm-up": 0, "cool-down": 2}
"""Where the lines of a block come inside a session; the work between them."""


@dataclass(frozen=True, slots=True)
class Mover:
    """One runner of a change. own: their load and the numbers behind the reason; dose: what they are asked to do."""

    runner_id: str
    who: str
    own: str
    dose: str
    item: FittedItem


@dataclass(frozen=True, slots=True)
class Change:
    """The same exercise instead, for the same reason."""

    now: str
    why: str
    movers: tuple[Mover, ...]


@dataclass(frozen=True, slots=True)
class LineChanges:
    """A written line that somebody does otherwise. where: `Session 3, A1`; written: its exercise in the coach's words."""

    where: str
    written: str
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class SessionChange:
    """A day or a left-out line, and everybody it holds for."""

    text: str
    who: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotFitted:
    """Forms of a line that the fit leaves as the coach wrote them, and everybody who is given them."""

    where: str
    written: str
    forms: str
    who: tuple[str, ...]


def line_changes(squad: SquadWeek, library: Library) -> tuple[LineChanges, ...]:
    """Every departing line, in the text's order; inside a line in the order of the squad."""
    lines: dict[tuple[int, str, int, str, str, str], dict[tuple[str, str], list[Mover]]] = {}
    for week in weeks(squad):
        for key, title, block, item in _departing(week):
            line = (len(key), key, _PLACE.get(block.kind, 1), clean(item.item_key), title, clean(item.written))
            kind, numbers = kind_and_numbers(_why(item))
            words = item_words(item, block, library.variants.get(item.variant_id))
            dose = " ".join(s for s in (sentence(words.dose), words.forms) if s)
            mover = Mover(week.runner_id, who(week), numbers, dose, item)
            lines.setdefault(line, {}).setdefault((words.name, kind), []).append(mover)
    return tuple(
        LineChanges(
            f"{title}, {item_key}",
            written,
            tuple(_change(now, why, movers) for (now, why), movers in changes.items()),
        )
        for (_, _, _, item_key, title, written), changes in sorted(lines.items(), key=lambda line: line[0])
    )


def _change(now: str, why: str, movers: list[Mover]) -> Change:
    """What all of them share of the numbers (`11-13 meant`) goes to the reason; their loads come before the rest."""
    ends = {m.own.rpartition(", ")[2] for m in movers if ", " in m.own}
    shared = ends.pop() if len(ends) == 1 and all(", " in m.own for m in movers) else ""
    own = (m.own.removesuffix(f", {shared}") if shared else m.own for m in movers)
    told = ("; ".join(p for p in (amounts.load_brief(m.item.load), o) if p) for m, o in zip(movers, own, strict=True))
    reason = sentence(f"{why}, {shared}" if shared else why)
    return Change(now, reason, tuple(replace(m, own=t) for m, t in zip(movers, told, strict=True)))


def _departing(week: FittedWeek) -> Iterator[tuple[str, str, FittedBlock, FittedItem]]:
    """Each written line once, however often its session is done."""
    for told in repeated(week.sessions):
        for block in told.first.blocks:
            for item in block.items:
                if item.departs:
                    yield told.key, told.title.split(":")[0], block, item


def _why(item: FittedItem) -> str:
    """The departing reasons, without the exercise's name that stands above them."""
    name = clean(item.written).split(":")[0] + ": "
    said = (clean(r.text) for r in item.reasons if r.departs)
    return "; ".join(s.removeprefix(name) for s in said)


def session_changes(squad: SquadWeek) -> tuple[SessionChange, ...]:
    """Sessions on another day than written, and lines left out; equal ones together, session by session."""
    told: dict[tuple[str, str], list[str]] = {}
    for week in weeks(squad):
        for key, text in _session_reasons(week):
            told.setdefault((key, text), []).append(who(week))
    return tuple(
        SessionChange(text, tuple(names))
        for (_, text), names in sorted(told.items(), key=lambda t: (len(t[0][0]), t[0][0]))
    )


def _session_reasons(week: FittedWeek) -> Iterator[tuple[str, str]]:
    """A moved time is its own; what holds for all times of a session is said once."""
    said: set[tuple[str, str]] = set()
    for session in week.sessions:
        key = base_key(session.key)
        for reason in session.reasons:
            if not reason.departs:
                continue
            if reason.code == "days":
                title = session_title(session).split(":")[0]
                yield session.key, f"{title} on {amounts.day(session.day)}: {sentence(reason.text)}"
            elif (key, reason.text) not in said:
                said.add((key, reason.text))
                yield key, f"{session_title(replace(session, key=key)).split(':')[0]}: {sentence(reason.text)}"


def not_fitted(squad: SquadWeek) -> tuple[NotFitted, ...]:
    """Lines with forms that are printed but not fitted, in the text's order; each line once."""
    lines: dict[tuple[int, str, int, str, str, str, str], list[str]] = {}
    for week in weeks(squad):
        for told in repeated(week.sessions):
            title = told.title.split(":")[0]
            for block in told.first.blocks:
                for item in block.items:
                    for forms in (clean(r.text) for r in item.reasons if r.code == "not fitted"):
                        place = (len(told.key), told.key, _PLACE.get(block.kind, 1), clean(item.item_key))
                        said = forms.rpartition("not fitted: ")[2]
                        names = lines.setdefault((*place, title, clean(item.written), said), [])
                        names += [n for n in (who(week),) if n not in names]
    return tuple(
        NotFitted(f"{title}, {key}", written, forms, tuple(names))
        for (_, _, _, key, title, written, forms), names in sorted(lines.items(), key=lambda line: line[0])
    )


def differs(week: FittedWeek) -> str:
    """`4 changes`, for the runner's own entry; empty when the week is as written."""
    n = sum(1 for _ in _departing(week)) + sum(1 for _ in _session_reasons(week))
    return "" if not n else f"{n} {'change' if n == 1 else 'changes'}"


def as_written(squad: SquadWeek) -> tuple[str, ...]:
    """Runners whose week is the text as it stands."""
    return tuple(who(w) for w in weeks(squad) if not differs(w))
