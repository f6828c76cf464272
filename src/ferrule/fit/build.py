"""From one runner and one programme week to a Problem, with what is needed to read the answer back."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ferrule.check import minutes
from ferrule.fit.choice import text_price
from ferrule.fit.choices import OPEN_LOAD, Choice, LineChoices, Setting, best_loss, choices_of
from ferrule.fit.days import HOUR, slots_of
from ferrule.fit.given import Given
from ferrule.fit.growth import Before, base_key, sent_before
from ferrule.fit.lanes import Allowed, LineKey
from ferrule.fit.problem import BlockOfWeek, Line, Option, Problem, SessionOfWeek
from ferrule.fit.scope import Part, Scope, joined, scopes_of, site_number
from ferrule.fit.settings import settings_of
from ferrule.model.bound import Bound
from ferrule.model.fitted import FittedWeek
from ferrule.model.programme import LIGHT, Block, Item, Programme, ProgrammeWeek
from ferrule.model.quantity import Range
from ferrule.model.words import Group
from ferrule.programme.occurrences import TWICE_A_DAY_H, Occurrence, occurrences

OMIT, OMIT_OPTIONAL, DROP_SESSION, EARLIER, FEWER_ROUNDS, BELOW_TOP = 2000, 40, 5000, 500, 45, 1
"""Prices of the elastic: optional lines first, then rounds, then lines, then whole sessions, later ones before earlier (design; numbers ours)."""
OPTIONAL_TIME = 300
"""Price of leaving out a time beyond the least the coach wrote ("2-3 a week"): less than a rest day (ours)."""
LEG_GROUPS: frozenset[Group] = frozenset(
    ("calf straight", "calf bent", "knee and hip", "hinge", "bridge and knee flexion")
)
NO_PROMISE_MIN = 180
DEFAULT_MINUTES = 40


@dataclass(frozen=True, slots=True)
class LaidLine:
    """One written line with its choices; `block` and `session` index the problem's.

    choices   of all sites together, in the order of the options;  parts: the same by site
    """

    session: int
    block: int
    item: Item
    choices: LineChoices
    parts: tuple[Part, ...]

    def part(self, option: int | None, sites: tuple[int, ...] = ()) -> Part:
        """The part that an option belongs to; of a line that is left out that of the sites its session is done at."""
        if option is None:
            return next((p for p in self.parts if p.scope.sites == sites), self.parts[0])
        return next(p for p in reversed(self.parts) if p.first <= option)


@dataclass(frozen=True, slots=True)
class Laid:
    """A Problem and the lines it was made from, in the same order."""

    problem: Problem
    programme: Programme
    week: ProgrammeWeek
    setting: Setting
    blocks: tuple[Block, ...]
    lines: tuple[LaidLine, ...]
    rounds: tuple[tuple[int, ...], ...]
    times: tuple[Occurrence, ...]
    last: FittedWeek | None = None
    given: Given | None = None


def build(
    programme: Programme,
    week: ProgrammeWeek,
    setting: Setting,
    last: FittedWeek | None = None,
    pinned: frozenset[tuple[str, str]] = frozenset(),
    allowed: Allowed | None = None,
) -> Laid:
    """Lay out the week.

    last    the runner's week before, when it was sent: keeps days and variants, bounds what is new
    pinned  (session key, line key) that keep the text whatever the effort (the squad's change budget)
    allowed (cycle key, session key, line key) -> the variants that line is held to (the squad's lanes)
    """
    held = allowed or {}
    blocks: list[Block] = []
    lines: list[LaidLine] = []
    problem_blocks: list[BlockOfWeek] = []
    problem_lines: list[Line] = []
    rounds: list[tuple[int, ...]] = []
    before = _last_variants(last)
    times = occurrences(programme, week)
    many = [sum(t.base == s for t in times) for s in range(len(week.sessions))]
    scopes = {n: scopes_of(setting, n) for n in set(many)}
    for s, session in enumerate(week.sessions):
        for block in session.blocks:
            if not block.items:
                continue
            b = len(blocks)
            blocks.append(block)
            lanes = [held.get((week.cycle_key, session.key, item.key)) for item in block.items]
            laid = []
            for item, only in zip(block.items, lanes, strict=True):
                was = sent_before(last, week.cycle_name, session.key, item)
                bound = setting.bounds.get((session.key, item.key))
                parts = _parts(item, block, scopes[many[s]], only, was, bound)
                laid.append(LaidLine(s, b, item, joined(parts), parts))
            cuts = _cuts(block, setting.margin_rir > 0)
            rounds.append(tuple(n for n, _ in cuts))
            problem_blocks.append(_block(s, block, laid, cuts))
            for ln in laid:
                pin = (session.key, ln.item.key) in pinned
                problem_lines.append(_line(session.key, ln, block, cuts, setting, before, pin))
            lines += laid
    empty = Problem((), tuple(problem_blocks), tuple(problem_lines), (), 0, _cover(lines, times), 0)
    problem = _with_sessions(empty, times, setting, lines, last)
    return Laid(problem, programme, week, setting, tuple(blocks), tuple(lines), tuple(rounds), times, last)


def _parts(
    item: Item, block: Block, scopes: Sequence[Scope], only: frozenset[str] | None, before: Before | None,
    bound: Bound | None,
) -> tuple[Part, ...]:  # fmt: skip
    """The choices of a line in each scope, one after the other."""
    parts: list[Part] = []
    first = 0
    for scope in scopes:
        choices = choices_of(item, block, scope.setting, only, before, bound)
        parts.append(Part(scope, choices, first))
        first += len(choices.choices)
    return tuple(parts)


def rebuild(laid: Laid, setting: Setting) -> Laid:
    """The same lines under another runner's week or other house rules: days, runs, minutes and gaps are laid out again.

    Only for changes that do not touch what may be done (kit, limits, wishes, capacity): those need `build`.
    """
    problem = _with_sessions(laid.problem, laid.times, setting, laid.lines, laid.last)
    return replace(laid, problem=problem, setting=setting)


def _with_sessions(
    problem: Problem, times: Sequence[Occurrence], setting: Setting, lines: Sequence[LaidLine], last: FittedWeek | None
) -> Problem:
    """The problem with its sessions. The first times of the written sessions come first, so that a line's session is
    also the index of its first time."""
    runner, house = setting.runner, setting.house
    return replace(
        problem,
        sessions=tuple(
            _session(t, times, lines, is_heavy(t.base, lines, problem.blocks), setting, last) for t in times
        ),
        free_days=tuple(d for d in range(7) if all(r.day != d for r in runner.runs)),
        rest_days=int(house.value("rest-days-a-week")),
        contacts=int(house.value("contacts-a-session")),
        new_cap=None if last is None else int(house.value("new-exercises-a-week")),
    )


def _cuts(block: Block, finding: bool) -> tuple[tuple[int, int], ...]:
    """(rounds or sets of the block, price): the top of a written range is free, below it cheap, below the range dear.

    In the finding week the bottom of a written range is free instead. A straight block whose lines have sets of their
    own counts sets taken away from each line.
    """
    written = block.sets or _own_sets(block) or Range.of(1)
    high, low = int(written.high), int(written.low)
    counts = range(high, 0, -1) if block.kind not in LIGHT else range(high, max(low, 1) - 1, -1)
    free = low if finding else high
    return tuple(
        (n, BELOW_TOP * abs(free - n) if n >= low else BELOW_TOP * abs(free - low) + FEWER_ROUNDS * (low - n))
        for n in counts
    )


def _own_sets(block: Block) -> Range | None:
    most = [i.dose.sets.high for i in block.items if i.dose.sets] + [
        len(i.dose.per_set) for i in block.items if i.dose.per_set
    ]
    return Range.of(float(max(most))) if most else None


def sets_at(item: Item, block: Block, rounds: int, most: int) -> int:
    """Sets of a line when the block does `rounds` instead of `most`: own sets are cut by as many, never below one."""
    if item.dose.per_set:
        own = len(item.dose.per_set)
    elif item.dose.sets:
        own = int(item.dose.sets.high)
    else:
        return rounds
    return max(1, own - (most - rounds)) if block.kind == "straight" else rounds


def _line_s(
    choice: Choice, item: Item, block: Block, cuts: tuple[tuple[int, int], ...], last_line: bool
) -> tuple[int, ...]:
    """Seconds a choice takes in its block for each cut, rounded up; the block's own part is in `_block`."""
    most = cuts[0][0]
    if minutes.clock_seconds(block, most, len(block.items)) is not None:
        return (0,) * len(cuts)  # the clock rules, not the exercise
    own_rest = item.dose.rest_s.middle if item.dose.rest_s else None
    rest = minutes.REST_S[block.kind] if block.rest_s is None else block.rest_s.middle
    between = minutes.BETWEEN_S[block.kind] if block.between_s is None else block.between_s.middle
    out = []
    for n, _ in cuts:
        sets = sets_at(item, block, n, most)
        if block.kind == "straight":
            seconds = choice.setup_s + sets * choice.set_s + max(sets - 1, 0) * (rest if own_rest is None else own_rest)
        else:
            gap = 0.0 if last_line else between if own_rest is None else own_rest
            seconds = choice.setup_s + n * (choice.set_s + gap)
        out.append(_ceil(seconds))
    return tuple(out)


def _ceil(seconds: float) -> int:
    return int(-(-seconds // 1))


def _block(session: int, block: Block, laid: list[LaidLine], cuts: tuple[tuple[int, int], ...]) -> BlockOfWeek:
    rest = minutes.REST_S[block.kind] if block.rest_s is None else block.rest_s.middle
    if block.rest_s is None and block.kind != "straight" and block.items[-1].dose.rest_s is not None:
        rest = block.items[-1].dose.rest_s.middle
    between = minutes.BETWEEN_S[block.kind] if block.between_s is None else block.between_s.middle
    own = [(len(block.items) - 1) * between if block.kind == "straight" else max(n - 1, 0) * rest for n, _ in cuts]
    clock = [minutes.clock_seconds(block, n, len(block.items)) for n, _ in cuts]
    own = [mine if c is None else c for mine, c in zip(own, clock, strict=True)]
    groups = [ln.choices.written.group for ln in laid]
    clash = len(set(groups)) < len(groups) and None not in groups
    reductions = tuple((price, _ceil(s + minutes.WALK_S)) for (_, price), s in zip(cuts, own, strict=True))
    return BlockOfWeek(session, block.kind, reductions, clash)


def _line(
    session: str, ln: LaidLine, block: Block, cuts: tuple[tuple[int, int], ...], setting: Setting,
    before: dict[tuple[str, str], str], pinned: bool,
) -> Line:  # fmt: skip
    margin = setting.house.value("hysteresis")
    last_line = ln.item is block.items[-1]
    known = before.get((session, ln.item.key))
    options = []
    for a, c in enumerate(ln.choices.choices):
        part = ln.part(a)
        best = best_loss(part.choices.choices) if part.choices.best is None else part.choices.best
        band = best + margin
        keep_text = pinned and c.origin in ("written", "slot") and c.distance <= OPEN_LOAD
        text = c.distance if keep_text else text_price(c.distance, c.expected_loss, band)
        contacts = tuple(c.contacts * sets_at(ln.item, block, n, cuts[0][0]) for n, _ in cuts)
        variant_id = "" if c.variant is None else c.variant.id
        new = bool(before) and variant_id not in before.values() and c.origin not in ("written", "alternative")
        options.append(
            Option(
                c.id,
                text,
                round(100 * c.expected_loss),
                0 if known is None or known == variant_id else 1,
                _tie(session, ln.item.key, a, c.id),
                _line_s(c, ln.item, block, cuts, last_line),
                contacts,
                settings_of(c.load),
                c.group,
                new,
                c.grown,
                sites=part.scope.sites,
            )
        )
    omit = OMIT_OPTIONAL if ln.item.optional else OMIT
    return Line(f"{session}/{ln.item.key}", ln.session, ln.block, tuple(options), omit)


def offered(laid: Laid) -> dict[LineKey, dict[str, tuple[int, int]]]:
    """What each variant would cost this runner on each line: line -> variant id -> (price of the text, effort in
    hundredths of a repetition), the best load of each; lines the library cannot name have no entry."""
    margin = laid.setting.house.value("hysteresis")
    out: dict[LineKey, dict[str, tuple[int, int]]] = {}
    for ln in laid.lines:
        by_part = [_prices(p.choices, margin) for p in ln.parts if len(p.scope.sites) < 2]
        # with several sites what can be done at each of them, at the dearest: the day is chosen later
        shared = [v for v in by_part[0] if all(v in prices for prices in by_part)]
        some = shared or [v for prices in by_part for v in prices]
        out[laid.week.cycle_key, laid.week.sessions[ln.session].key, ln.item.key] = {
            v: max(prices[v] for prices in by_part if v in prices) for v in some
        }
    return out


def _prices(choices: LineChoices, margin: float) -> dict[str, tuple[int, int]]:
    band = (choices.best or 0.0) + margin
    prices: dict[str, tuple[int, int]] = {}
    for o in choices.offers:
        price = (text_price(o.distance, o.expected_loss, band), round(100 * o.expected_loss))
        if o.variant_id and price < prices.get(o.variant_id, (price[0] + 1, 0)):
            prices[o.variant_id] = price
    return prices


def _tie(session: str, key: str, place: int, option: str) -> int:
    """Fixed order: place in the list, then a fixed number of the option's own, so that no two sums are alike."""
    digest = hashlib.blake2b(f"{session}/{key}/{option}".encode(), digest_size=3).digest()
    return (place << 24) + int.from_bytes(digest, "big")


def is_heavy(session: int, lines: Sequence[LaidLine], blocks: Sequence[BlockOfWeek]) -> bool:
    """A session is heavy when a line outside the warm-up works the legs or lands, as the coach wrote it."""
    for ln in lines:
        if ln.session == session and blocks[ln.block].kind not in LIGHT:
            written = ln.choices.written
            if written.group in LEG_GROUPS or (written.variant is not None and written.variant.impact > 1):
                return True
    return False


def _session(
    time: Occurrence, times: Sequence[Occurrence], lines: Sequence[LaidLine], heavy: bool, setting: Setting,
    last: FittedWeek | None,
) -> SessionOfWeek:  # fmt: skip
    runner, house, session = setting.runner, setting.house, time.session
    promised = min(session.minutes or NO_PROMISE_MIN, runner.minutes or NO_PROMISE_MIN)
    limit = promised + house.value("minutes-over")
    planned = min(session.minutes or DEFAULT_MINUTES, runner.minutes or NO_PROMISE_MIN)
    same_track = [t for t in times if t.track == time.track]
    place = same_track.index(time)
    # what the coach wrote for nearly every day is not held to the hours between heavy sessions and key runs
    hard = heavy and not time.track
    slots = slots_of(
        runner,
        setting.monday,
        planned,
        hard,
        place * 7 / len(same_track),
        session,
        house,
        _last_time(last, session.key),
        every_day=bool(time.track),
    )
    if any(ln.parts[0].scope.sites for ln in lines):
        slots = tuple(replace(slot, site=site_number(runner, slot.day)) for slot in slots)
    # every block's own seconds hold the walk from it to the next; the last one has none
    walk = round(minutes.WALK_S)
    drop = OPTIONAL_TIME if time.optional else DROP_SESSION + EARLIER * (len(same_track) - 1 - place)
    gap_h = house.value("session-gap-h") if time.gap_h is None else time.gap_h
    following = same_track[place + 1].session if place + 1 < len(same_track) else None
    if following is not None and session.day is not None and following.day is not None:
        # the coach's own days rule: two sessions written for one day stand hours apart, for neighbouring days a day
        gap_h = min(gap_h, max(24 * (following.day - session.day), TWICE_A_DAY_H))
    return SessionOfWeek(
        session.key, promised * 60 + walk, round(limit * 60) + walk, drop, slots, time.track, round(gap_h * HOUR),
        None if times[time.base] is time else time.base,
    )  # fmt: skip


def _cover(lines: list[LaidLine], times: Sequence[Occurrence]) -> tuple[Group, ...]:
    """Groups worked in two written sessions or more; a session done several times a week keeps its groups by itself."""
    where: dict[Group, set[int]] = {}
    for ln in lines:
        group = ln.choices.written.group
        if group is not None:
            where.setdefault(group, set()).add(ln.session)
    again = {t.base for t in times if t.of > 1}
    return tuple(g for g, sessions in where.items() if len(sessions) >= 2 and not sessions & again)


def _last_variants(last: FittedWeek | None) -> dict[tuple[str, str], str]:
    if last is None:
        return {}
    return {(base_key(s.key), i.item_key): i.variant_id for s in last.sessions for b in s.blocks for i in b.items}


def _last_time(last: FittedWeek | None, key: str) -> tuple[int, int] | None:
    found = next((s for s in last.sessions if s.key == key), None) if last else None
    if found is None:
        return None
    at = 18 * HOUR if found.start is None else found.start.hour * HOUR
    return found.day.weekday(), at
