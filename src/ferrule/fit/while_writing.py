"""While a programme is being written: for how many of the squad each line is too easy, right or too hard as it stands.

The same verdicts as the read-back of a fitted week (`fit.spread`), without solving anything: what was written is weighed,
not what would be chosen.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from types import MappingProxyType

from ferrule.fit.choices import Setting, written_of
from ferrule.fit.predict import verdict
from ferrule.fit.runner import is_finding_week, setting_of
from ferrule.fit.scope import scopes_of
from ferrule.fit.week import written_words
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.house import House
from ferrule.model.programme import Block, Item, Programme
from ferrule.model.squad import Runner, Squad
from ferrule.programme.reader import read_programme
from ferrule.programme.text import dose_text
from ferrule.programme.weeks import week_of
from ferrule.squad.place import first_monday

MOST_REMEMBERED = 50_000
"""Verdicts kept between two calls; a squad of 200 with a long programme has some 20,000."""


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """One line, done as written in one week.

    line     of the text, from 1;  written: the line in canonical form, as it is in that week
    too_easy, right, too_hard, cannot   runner ids, in the order of the squad (cannot: no kit, a limit, a sore place, a wish)
    not_dosed  ids of those for whom nothing can be said: the exercise or the line is not dosed
    why      runner id -> why they cannot
    known    False when the library does not know the exercise: then nobody is counted
    """

    line: int
    session_key: str
    item_key: str
    written: str
    too_easy: tuple[str, ...]
    right: tuple[str, ...]
    too_hard: tuple[str, ...]
    cannot: tuple[str, ...]
    not_dosed: tuple[str, ...]
    why: tuple[tuple[str, str], ...]
    known: bool

    @property
    def summary(self) -> str:
        """`14 right, 3 too easy, 2 too hard, 1 cannot`, or that nothing can be said."""
        if not self.known:
            return "the exercise is not known"
        counts = (
            (self.right, "right"),
            (self.too_easy, "too easy"),
            (self.too_hard, "too hard"),
            (self.cannot, "cannot"),
        )
        words = [f"{len(ids)} {name}" for ids, name in counts if ids]
        if self.not_dosed:
            words.insert(
                0,
                "not dosed"
                if not (self.right or self.too_easy or self.too_hard)
                else f"{len(self.not_dosed)} not dosed",
            )
        return ", ".join(words) or "nobody to count"


@dataclass(frozen=True, slots=True)
class Spread:
    """How the squad spreads on one week of a programme that is being written.

    week     of the programme, None when the text has no week to look at
    lines    (line of the text, item key) -> how the squad spreads on it, alternatives included, in the order of the text
    counted  ids of the runners who are counted;  left_out: (id, why) of those who are not
    """

    week: int | None
    cycle_name: str
    lines: Mapping[tuple[int, str], WrittenLine]
    counted: tuple[str, ...]
    left_out: tuple[tuple[str, str], ...]


def spread(
    text: str | bytes, squad: Squad, library: Library, house: House, week: int | None = None, *,
    line: int | None = None, monday: date | None = None,
) -> Spread:  # fmt: skip
    """How the squad spreads on each line of one week, done as written.

    text    the programme as it is; what has errors is read as far as it can be
    week    week of the programme; else the first of the cycle that holds line `line` (the cursor), else the first
    monday  calendar week to take for runners whose anchor does not tell; else that of the first runner who has one

    Runners on hold are left out, as the fit leaves them out. What was worked out for a line and a runner is remembered
    for the next call with an equal squad and house and the same library.
    """
    programme, _ = read_programme(text, "programme.md", library)
    return spread_of_programme(programme, squad, library, house, week, line=line, monday=monday)


def spread_of_programme(
    programme: Programme, squad: Squad, library: Library, house: House, week: int | None = None, *,
    line: int | None = None, monday: date | None = None,
) -> Spread:  # fmt: skip
    """The same for a programme that has been read already."""
    number = _week_at(programme, line) if week is None else week
    found = None if number is None else week_of(programme, number)
    if number is None or found is None:
        return Spread(None, "", MappingProxyType({}), (), ())
    memory = _memory(squad, library, house)
    counted, left_out = _who(programme, squad, number, monday)
    settings = [memory.setting(r, day, is_finding_week(number, None)) for r, day in counted]
    lines: dict[tuple[int, str], WrittenLine] = {}
    for session in found.sessions:
        for block in session.blocks:
            for item in _each(block):
                key = (item.span.line, item.key)
                if key not in lines:
                    lines[key] = _line(item, block, session.key, settings, memory)
    return Spread(number, found.cycle_name, MappingProxyType(lines), tuple(r.id for r, _ in counted), left_out)


def _each(block: Block) -> Iterator[Item]:
    """Every item line of a block in the order of the text."""
    for item in block.items:
        yield item
        yield from item.alternatives


def _week_at(programme: Programme, line: int | None) -> int | None:
    """The first week of the cycle that holds a line."""
    cycles = sorted(programme.cycles, key=lambda c: c.span.line)
    above = [c for c in cycles if line is not None and c.span.line <= line]
    cycle = above[-1] if above else cycles[0] if cycles else None
    return None if cycle is None else cycle.first_week


def _who(
    programme: Programme, squad: Squad, week: int, monday: date | None
) -> tuple[list[tuple[Runner, date]], tuple[tuple[str, str], ...]]:
    """(runner, Monday of that week for them) of those who are counted, and (id, why) of the others."""
    starts = {r.id: first_monday(r, programme.weeks) for r in squad.runners}
    usual = (
        next((d + timedelta(weeks=week - 1) for d in starts.values() if d is not None), None)
        if monday is None
        else monday
    )
    counted: list[tuple[Runner, date]] = []
    left_out: list[tuple[str, str]] = []
    for runner in squad.runners:
        start = starts[runner.id]
        day = usual if start is None else start + timedelta(weeks=week - 1)
        held = next((h.reason for h in runner.holds if h.cleared_by is None), None)
        if held is not None:
            left_out.append((runner.id, held))
        elif day is None:
            left_out.append((runner.id, "no anchor: nothing says when the programme begins"))
        else:
            counted.append((runner, day))
    return counted, tuple(left_out)


def _line(item: Item, block: Block, session_key: str, settings: list[Setting], memory: _Memory) -> WrittenLine:
    said: dict[str, list[str]] = {}
    why: list[tuple[str, str]] = []
    bare = replace(item, key="", span=_NOWHERE, alternatives=(), notes=(), coach_notes=(), conditions=())
    frame = replace(block, label="", span=_NOWHERE, items=(), table=None, notes=(), coach_notes=(), conditions=())
    known = True
    for setting in settings:
        words, reason = memory.says(bare, frame, setting)
        known = known and words != "unknown"
        said.setdefault(words, []).append(setting.runner.id)
        why += [(setting.runner.id, reason)] if reason else []

    def ids(words: str) -> tuple[str, ...]:
        return tuple(said.get(words, ()))

    dose = dose_text(item.dose)
    written = f"{written_words(item)}: {dose}" if dose else written_words(item)
    return WrittenLine(
        item.span.line, session_key, item.key, written, ids("too easy"), ids("right"), ids("too hard"), ids("cannot"),
        ids("not dosed"), tuple(why), known,
    )  # fmt: skip


_NOWHERE = Span("", 1)


@dataclass(slots=True)
class _Memory:
    """What was worked out for one squad, library and house: settings (capacities) by runner, verdicts by line."""

    squad: Squad
    library: Library
    house: House
    settings: dict[tuple[str, int, date, bool], Setting] = field(default_factory=dict)
    verdicts: dict[tuple[int, Item, Block], tuple[str, str]] = field(default_factory=dict)

    def setting(self, runner: Runner, monday: date, finding: bool) -> Setting:
        key = (runner.id, id(runner), monday, finding)
        if key not in self.settings:
            self.settings[key] = setting_of(runner, self.library, self.house, monday, finding)
        return self.settings[key]

    def says(self, item: Item, block: Block, setting: Setting) -> tuple[str, str]:
        """The verdict on one line for one runner, and why they cannot."""
        key = (id(setting), item, block)
        if key not in self.verdicts:
            if len(self.verdicts) >= MOST_REMEMBERED:
                self.verdicts.clear()
            self.verdicts[key] = _says(item, block, setting)
        return self.verdicts[key]


def _says(item: Item, block: Block, setting: Setting) -> tuple[str, str]:
    at_each = [written_of(item, block, scope.setting) for scope in scopes_of(setting, 1)]
    written = next((w for w in at_each if w.barred is None), at_each[0])  # the first site where it may be done
    if written.variant is None:
        return "unknown", ""
    if written.barred is not None:
        return "cannot", written.barred.text
    return ("not dosed" if written.possible is None else verdict(written)), ""


_KEPT: list[_Memory] = []


def _memory(squad: Squad, library: Library, house: House) -> _Memory:
    """What is remembered of this squad; the last few are kept."""
    for memory in _KEPT:
        if memory.library is library and memory.squad == squad and memory.house == house:
            return memory
    _KEPT.insert(0, _Memory(squad, library, house))
    del _KEPT[4:]
    return _KEPT[0]


def forget() -> None:
    """Forgets what was worked out for earlier calls; the next one takes as long as the first."""
    _KEPT.clear()
