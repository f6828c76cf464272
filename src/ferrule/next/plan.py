"""Everything the record makes of one runner's week before it is fitted: who they are now, rulings, bounds, the text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from ferrule.fit.bounds import Own
from ferrule.fit.growth import base_key
from ferrule.fit.runner import weeks_for
from ferrule.model.bound import Bound, Bounds
from ferrule.model.entry import TimeAway
from ferrule.model.exercise import Library
from ferrule.model.fact import Decided, Entry
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme, ProgrammeWeek
from ferrule.model.red_flags import SIGNS
from ferrule.model.squad import Hold, Runner, Sore
from ferrule.next import absence, conditions, decided, pain, taper
from ferrule.next.came import Came, came_of
from ferrule.next.edit import edited
from ferrule.next.ruling import HURT_AT, Key, Ruling
from ferrule.next.touch import lines_on, loads, work_lines
from ferrule.programme.weeks import week_of
from ferrule.record.standing import away_of, decided_of, pains_of, sets_of, standing_of
from ferrule.squad.away import with_away
from ferrule.squad.place import programme_week
from ferrule.squad.sites import site_on

FIRM = frozenset(("pain settled", "pain next morning", "pain stop", "pain told", "condition", "coach"))
"""Rules that hold the printed ways out as well: nobody is told to go heavier where it hurts."""
FLAGGED = "stop, get medical help, tell the coach"
WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Plan:
    """One runner's week as the record makes it.

    runner   with time away, sore places told and red flags;  own: for `fit_squad`
    week     the written week, before the record; None when there is none
    rulings  every rule that says something, in the order of docs/next.md;  words: the coach's own, by line
    notes    of the whole week, in words a coach reads
    """

    runner: Runner
    own: Own
    week: ProgrammeWeek | None
    came: Came | None
    rulings: tuple[Ruling, ...] = ()
    words: Mapping[Key, Decided] = field(default_factory=dict)
    flags: tuple[pain.Flagged, ...] = ()
    hurts: tuple[pain.Hurt, ...] = ()
    notes: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()

    def on(self, key: Key) -> tuple[Ruling, ...]:
        """The rulings on one line; the coach's word on it stands over all others but a red flag, which a named human clears."""
        own = tuple(r for r in self.rulings if r.on(key))
        word = tuple(r for r in own if r.rule == "coach")
        return (*(r for r in own if r.rule == "red flag"), *word) if word else own


def plan_of(
    programme: Programme, runner: Runner, library: Library, house: House, monday: date, *,
    last: FittedWeek | None, entries: Iterable[Entry],
) -> Plan:  # fmt: skip
    """What the record says of the week of `monday`; pure, and the same in any order of arrival.

    last      the newest copy sent before that Monday;  entries: of any runner, corrections among them
    """
    own = standing_of(entries, runner.id)
    aways = away_of(own, runner.id)
    here, findings = with_away(runner, aways)
    missed = absence.missed_weeks(programme, here, own, monday)
    here = absence.waiting(here, missed)
    words = decided_of(own, runner.id)
    pains = tuple(p for p in pains_of(own, runner.id) if p.day < monday)
    flags = pain.flagged(pains, monday, decided.cleared_on(words))
    hurts = pain.hurts(pains, here, house, monday)
    number = programme_week(here, weeks_for(programme, here), monday)
    week = None if number is None else week_of(programme, number)
    came = None if last is None else came_of(last, own, runner.id, house, monday, aways)
    if week is None:
        return Plan(
            _hurting(here, flags, hurts, house), Own(programme), None, came, flags=flags, hurts=hurts, findings=findings
        )
    since = _since(programme, here, week, monday)
    rulings = [
        *_of_flags(flags, week, last, library),
        *_of_pain(hurts, week, last, library, house),
        *absence.of_week_told(came),
        *_of_absence(
            week, came, missed, aways, here, house, monday, same=last is not None and last.cycle_name == week.cycle_name
        ),
        *_of_calendar(programme, week, here, library, house, monday),
        *_of_conditions(week, last, own, here, library, house, since, monday),
        *absence.of_silence(came),
    ]
    said = decided.in_force(words, since, monday)
    rulings += [decided.ruling_of(key, word, monday, house) for key, word in sorted(said.items())]
    here = _hurting(here, flags, _not_overruled(hurts, said, week, last, library), house)
    plan = Plan(
        here,
        Own(programme),
        week,
        came,
        tuple(rulings),
        said,
        flags,
        hurts,
        decided.habits(words, since, monday),
        findings,
    )
    changed, made = edited(
        programme, week, plan.on, sent_lines(last, week), rounds_sent(last, week), before_week(programme, here, last)
    )
    pinned = frozenset(k for k, w in said.items() if w.choice == "as written")
    return replace(plan, own=Own(changed, bounds_of(week, plan), pinned), findings=(*findings, *made))


def _since(programme: Programme, runner: Runner, week: ProgrammeWeek, monday: date) -> date:
    """The first Monday of this cycle for this runner; weeks that waited lie inside it."""
    weeks, first = weeks_for(programme, runner), monday
    for n in range(1, 60):
        day = monday - n * WEEK
        number = programme_week(runner, weeks, day)
        if number is None and day < (runner.anchor.day if runner.anchor is not None else day):
            break
        if number is not None:
            there = week_of(programme, number)
            if there is None or there.cycle_key != week.cycle_key:
                break
            first = day
    return first


def _of_flags(
    flags: Iterable[pain.Flagged], week: ProgrammeWeek, last: FittedWeek | None, library: Library
) -> list[Ruling]:
    """Nothing at all of what loads the region, and nothing in its place."""
    out = []
    for f in flags:
        if f.region is not None:
            where = pain.where_words(f.region, f.side)
            reason = f"{where}: {flag_words(f)}: {FLAGGED}; nothing is proposed for it"
            out.append(Ruling("red flag", reason, "stop", lines_on(week, last, library, (f.region,), touching=True)))
    return out


def flag_words(flag: pain.Flagged) -> str:
    """The signs as they are said to a runner."""
    return "; ".join(sign for f in flag.flags for sign in SIGNS[f])


def _of_pain(
    hurts: Iterable[pain.Hurt], week: ProgrammeWeek, last: FittedWeek | None, library: Library, house: House
) -> list[Ruling]:
    out = []
    for h in hurts:
        lines = lines_on(week, last, library, (h.region,)) | h.items
        if h.tier == pain.HOLD:
            move = "ask" if h.morning is None else "hold"
            out.append(Ruling("pain settled", h.reason, move, lines, most=1.0, keep=True))  # type: ignore[arg-type]
        elif h.tier == pain.CUT:
            most = 1 - house.value("pain-cut-percent") / 100
            reason = f"{h.reason}; another exercise is an offer for this week only"
            out.append(Ruling("pain next morning", reason, "back off", lines, most=most, keep=True))
        else:
            out.append(Ruling("pain stop", h.reason, "stop", lines, most=1.0, keep=True))
            at = _hurt_at(h, week, last, library)
            if at:
                out.append(
                    Ruling(
                        HURT_AT, "it hurt at this very exercise: left out until you say otherwise", "stop", at, most=1.0
                    )
                )
    return out


def _hurt_at(
    hurt: pain.Hurt, week: ProgrammeWeek, last: FittedWeek | None, library: Library
) -> frozenset[tuple[str, str]]:
    """Lines where it was told to hurt at an exercise that the library does not know to load the region, and all other lines
    sent with that exercise: nobody repeats what hurt because a table says that it should not have."""
    sent = {k: i.variant_id for k, i in sent_lines(last, week).items()}
    done = {(s, i): v or sent.get((s, i), "") for s, i, v in hurt.at}
    odd = {k: v for k, v in done.items() if not v or not loads(library.variants.get(v), hurt.region)}
    names = {v for v in odd.values() if v}
    return frozenset((*odd, *(k for k, v in sent.items() if v in names and k in work_lines(week))))


def _of_absence(
    week: ProgrammeWeek, came: Came | None, missed: tuple[date, ...], aways: tuple[TimeAway, ...], runner: Runner,
    house: House, monday: date, *, same: bool,
) -> list[Ruling]:  # fmt: skip
    """same: last week was in the same cycle; else its sessions are other ones."""
    lines = work_lines(week)
    return [
        *absence.of_missed(week, came if same else None, missed, runner, house, monday),
        *absence.of_return(aways, house, monday, lines),
    ]


def _of_calendar(
    programme: Programme, week: ProgrammeWeek, runner: Runner, library: Library, house: House, monday: date
) -> list[Ruling]:
    course = taper.course_of(programme, library, house)
    race = taper.of_race(course, week, runner, house, monday, work_lines(week))
    return [*taper.of_easier_week(course, week.week), *race]


def _of_conditions(
    week: ProgrammeWeek, last: FittedWeek | None, own: tuple[Entry, ...], runner: Runner, library: Library, house: House,
    since: date, monday: date,
) -> list[Ruling]:  # fmt: skip
    sent = sent_lines(last, week)
    if not any(i.conditions for s in week.sessions for b in s.blocks for i in b.items) or not sent:
        return []
    sets, pains = sets_of(own, runner.id), pains_of(own, runner.id)
    mass = 65.0 if runner.mass_kg is None else runner.mass_kg
    days = {base_key(s.key): s.day for s in (() if last is None else last.sessions)}
    out: list[Ruling] = []
    for session in week.sessions:
        for item in (i for b in session.blocks for i in b.items):
            key = (session.key, item.key)
            if item.conditions and key in sent:
                log = conditions.log_of(key, sent[key], sets, pains, since, monday)
                there = site_on(runner, days[session.key].weekday()).kit
                kit = conditions.kit_of(library.variants.get(sent[key].variant_id), there, mass)
                out += conditions.of_conditions(key, item, log, library, house, kit)
    return out


def sent_lines(last: FittedWeek | None, week: ProgrammeWeek) -> dict[Key, FittedItem]:
    """What was sent for each line of this cycle, the heaviest time of the week."""
    if last is None or last.cycle_name != week.cycle_name:
        return {}
    every = [(base_key(s.key), i) for s in last.sessions for b in s.blocks for i in b.items]
    every.sort(key=lambda e: 0.0 if e[1].load is None else e[1].load.kg)
    return {(key, i.item_key): i for key, i in every}


def rounds_sent(last: FittedWeek | None, week: ProgrammeWeek) -> dict[tuple[str, str], int]:
    """Rounds or sets that each block was sent with, by session key and the key of its first line."""
    if last is None or last.cycle_name != week.cycle_name:
        return {}
    return {(base_key(s.key), i.item_key): b.rounds for s in last.sessions for b in s.blocks for i in b.items}


def before_week(programme: Programme, runner: Runner, last: FittedWeek | None) -> ProgrammeWeek | None:
    """The text of the week that was sent last."""
    del runner
    return None if last is None else week_of(programme, last.programme_week)


def _not_overruled(
    hurts: tuple[pain.Hurt, ...],
    said: Mapping[Key, Decided],
    week: ProgrammeWeek,
    last: FittedWeek | None,
    library: Library,
) -> tuple[pain.Hurt, ...]:
    """Without the regions of lines that the coach set to be done as written, or on, all the same."""
    free = {key for key, word in said.items() if word.choice in ("as written", "progress")}
    return tuple(h for h in hurts if not free & lines_on(week, last, library, (h.region,)))


def _hurting(runner: Runner, flags: Iterable[pain.Flagged], hurts: Iterable[pain.Hurt], house: House) -> Runner:
    """The runner with the sore places that were told, and on hold for a flag that concerns the whole of them."""
    sores = [s for h in hurts if (s := pain.sore_of(h, runner, house)) is not None]
    sores += [Sore(f.region, f.side, 10, runner.span) for f in flags if f.region is not None]
    holds = [Hold("red flag", None, None, runner.span) for f in flags if f.region is None][:1]
    if not sores and not holds:
        return runner
    return replace(runner, sore=(*runner.sore, *dict.fromkeys(sores)), holds=(*runner.holds, *holds))


def bounds_of(week: ProgrammeWeek, plan: Plan) -> Bounds:
    """Every bound on the lines outside the warm-up."""
    out: dict[Key, Bound] = {}
    told = frozenset() if plan.came is None else plan.came.told
    for key in sorted(work_lines(week)):
        held = [r for r in plan.on(key) if r.most is not None or r.step]
        if not held:
            if key[0] in told and not any(r.binds for r in plan.on(key)):
                out[key] = Bound("sets were told", quiet=True, climb=True)
            continue
        loud = [r for r in held if r.lines is not None] or held
        tight = [r.most for r in held if r.most is not None]
        out[key] = Bound(
            "; ".join(dict.fromkeys(r.reason for r in loud)), min(tight, default=None),
            any(r.strict for r in held), step=any(r.step for r in held), quiet=all(r.lines is None for r in held),
            firm=any(r.rule in FIRM for r in held),
        )  # fmt: skip
    return out
