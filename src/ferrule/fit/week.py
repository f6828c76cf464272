"""From an Answer back to a FittedWeek: the plan, its reasons and recourses, its minutes, what to fetch."""

from __future__ import annotations

import re
from datetime import time, timedelta

from ferrule.check import minutes
from ferrule.fit.bounds import bound_reason
from ferrule.fit.build import Laid, LaidLine, sets_at
from ferrule.fit.cautions import cautions_of
from ferrule.fit.choices import Choice, Step, best_loss
from ferrule.fit.days import DAY, HOUR, hours_to_key, run_times
from ferrule.fit.given import line_text
from ferrule.fit.growth import growth_reasons, sent_before
from ferrule.fit.predict import predict
from ferrule.fit.problem import LEVELS, Answer, times_of
from ferrule.fit.reasons import load_words, reasons_of
from ferrule.fit.scope import Part
from ferrule.fit.sides import each_side
from ferrule.fit.stability import kept
from ferrule.model.fitted import (
    FittedBlock,
    FittedItem,
    FittedSession,
    FittedWeek,
    LevelPrice,
    Reason,
    Recourse,
)
from ferrule.model.programme import LIGHT, Block, Condition, Dose, Item, Named, Session
from ferrule.model.quantity import Range
from ferrule.model.words import DAYS
from ferrule.squad.loads import pieces_for
from ferrule.squad.sites import site_on


def week_from(laid: Laid, answer: Answer, dropped: dict[int, Reason]) -> FittedWeek:
    """The week `answer` describes. dropped: why each session without a time has none, by index."""
    setting, runner = laid.setting, laid.setting.runner
    sessions: list[FittedSession] = []
    rest: list[tuple[str, Reason]] = []
    done = {} if laid.given is None else laid.given.done()
    for s, session in enumerate(t.session for t in laid.times):
        if answer.slot[s] is None:
            rest.append(
                (f"Session {session.key}: {session.name}" if session.name else f"Session {session.key}", dropped[s])
            )
        elif session.key in done:
            sessions.append(done[session.key])
        else:
            sessions.append(_session(laid, answer, s, session))
    if laid.given is not None:  # a session that was lost may come after the one that follows it in the text
        sessions.sort(key=lambda x: (x.day, x.start or time(18)))
    prices = tuple(
        LevelPrice(
            name, value / 100 if name == "effort" else value, "reps" if name == "effort" else unit, answer.proven
        )
        for (name, unit), value in zip(LEVELS, answer.levels, strict=True)
        if name != "fixed order" and (name != "as given" or laid.given is not None)
    )
    return FittedWeek(
        runner_id=runner.id, runner_name=runner.name, programme=laid.week.programme, programme_week=laid.week.week,
        cycle_name=laid.week.cycle_name, monday=setting.monday, sessions=tuple(sessions), prices=prices,
        rest_sessions=tuple(rest), finding_week=setting.margin_rir > 0,
        cautions=cautions_of(runner, setting.monday), aim=laid.week.aim,
        notes=laid.week.notes, conditions=tuple(condition_words(c) for c in laid.week.conditions),
    )  # fmt: skip


def session_uid(runner_id: str, programme: str, programme_week: int, session_key: str) -> str:
    """A calendar UID that stays the same across refits (RFC 5545 asks for global uniqueness: the programme is in it)."""
    slug = re.sub(r"[^a-z0-9]+", "-", programme.lower()).strip("-") or "programme"
    key = re.sub(r"[^a-z0-9]+", "-", session_key.lower()).strip("-")
    return f"{runner_id}.{slug}.week{programme_week}.session{key}@ferrule".lower().replace(" ", "-")


def _session(laid: Laid, answer: Answer, s: int, session: Session) -> FittedSession:
    setting, runner = laid.setting, laid.setting.runner
    t = answer.slot[s]
    assert t is not None  # dropped sessions are not laid out
    slot = laid.problem.sessions[s].slots[t]
    blocks, reasons, chosen = [], [], []
    base = laid.times[s].base
    sites = sites_done(laid, answer, base)
    for b, block in enumerate(laid.blocks):
        if laid.problem.blocks[b].session != base:
            continue
        rounds = laid.rounds[b][answer.reduction[b]]
        lines = [(ln, answer.option[i]) for i, ln in enumerate(laid.lines) if ln.block == b]
        left = [ln for ln, a in lines if a is None]
        reasons += [_omitted(ln, ln.part(None, sites)) for ln in left]
        kept = [(ln, ln.part(a), ln.choices.choices[a]) for ln, a in lines if a is not None]
        written = int((block.sets or Range.of(laid.rounds[b][0])).low)
        if rounds < written:
            words = ("set" if block.kind == "straight" else "round") + ("" if rounds == 1 else "s")
            title = f"{block.kind.capitalize()} {block.label}".strip()
            reasons.append(
                Reason("minutes", f"{title}: {rounds} {words} instead of {written}, to stay within the minutes")
            )
        if kept:
            chosen += [(c, part) for _, part, c in kept]
            items = tuple(_item(ln, part, c, block, rounds, laid.rounds[b][0], laid) for ln, part, c in kept)
            blocks.append(FittedBlock(
                block.kind, block.label, rounds, block.rest_s, block.between_s, items, block.notes, block.name,
                block.minutes, block.every_s, block.on_s, block.off_s, block.max_sets, block.exercises,
            ))  # fmt: skip
    if s == 0 and (why := _no_rest_day(laid, answer)):
        reasons.append(why)
    if laid.times[s].number == 1 and laid.times[s].track and len(runner.days) < 7:
        reasons.append(Reason("days", "written for nearly every day: laid on other days than the possible ones too"))
    planned = fitted_minutes(laid, answer, s)
    if session.beside_run is not None and all(r.day != slot.day for r in runner.runs):
        beside = "the day of a run" if session.beside_run == "same day" else f"{session.beside_run} the run"
        reasons.append(Reason("days", f"written for {beside}; none is told for {DAYS[slot.day]}"))
    start = slot.at_min % DAY
    p = laid.problem
    free = [x for x in p.sessions[s].slots if x.day == slot.day and not x.blocked]
    shared = any(o != s and t is not None and p.sessions[o].slots[t].day == slot.day for o, t in enumerate(answer.slot))
    joined = session.beside_run is not None
    either = len(free) > 1 and laid.times[s].of <= 7 and not shared and not joined  # the runner chooses the time
    # and then the hours are told from the latest one
    end = (max(x.at_min for x in free) if either else slot.at_min) + round(planned)
    return FittedSession(
        uid=session_uid(runner.id, laid.week.programme, laid.week.week, session.key),
        key=session.key, name=session.name, day=setting.monday + timedelta(days=slot.day),
        start=None if either else time(start // HOUR, start % HOUR), minutes=round(planned, 1),
        blocks=tuple(blocks), fetch=_fetch(chosen), leave_out=_leave_out(blocks),
        hours_to_key=_rounded(hours_to_key(end, run_times(runner, setting.monday))), reasons=tuple(reasons), notes=session.notes,
        where=site_on(runner, slot.day).name,
    )  # fmt: skip


def _no_rest_day(laid: Laid, answer: Answer) -> Reason | None:
    """Said once a week, on its first session."""
    p = laid.problem
    used = sum(
        p.sessions[s].slots[t].day in p.free_days
        for s, t in enumerate(answer.slot)
        if t is not None and not p.sessions[s].track
    )
    if not p.free_days or p.rest_days <= 0 or used <= max(0, len(p.free_days) - p.rest_days):
        return None
    return Reason("days", "the possible days leave no day with neither a run nor a session")


def _rounded(hours: float | None) -> float | None:
    return None if hours is None else round(hours, 1)


def fitted_minutes(laid: Laid, answer: Answer, s: int) -> float:
    """Minutes of session `s` as chosen, by the same timing as the checks and the sheet (`check.minutes`)."""
    blocks = []
    for b, block in enumerate(laid.blocks):
        if laid.problem.blocks[b].session != laid.times[s].base:
            continue
        rounds = laid.rounds[b][answer.reduction[b]]
        clock = minutes.clock_seconds(block, rounds, len(block.items))
        if clock is not None:
            blocks.append(clock / 60)
            continue
        items, counts = [], []
        for i, ln in enumerate(laid.lines):
            a = answer.option[i]
            if ln.block == b and a is not None:
                choice = ln.choices.choices[a]
                own = ln.item.dose.rest_s.middle if ln.item.dose.rest_s else None
                items.append((choice.set_s, choice.setup_s, own))
                counts.append(sets_at(ln.item, block, rounds, laid.rounds[b][0]))
        if items:
            blocks.append(minutes.block_minutes(
                block.kind, counts if block.kind == "straight" else rounds, items,
                None if block.rest_s is None else block.rest_s.middle,
                None if block.between_s is None else block.between_s.middle,
            ))  # fmt: skip
    return minutes.session_minutes(blocks)


def sites_done(laid: Laid, answer: Answer, base: int) -> tuple[int, ...]:
    """The sites a written session is done at, by number, over all its times; none where the kit is the same everywhere."""
    p = laid.problem
    at = {p.sessions[s].slots[t].site for s in times_of(p, base) if (t := answer.slot[s]) is not None}
    return tuple(sorted(at - {-1}))


def _omitted(ln: LaidLine, part: Part) -> Reason:
    written = part.choices.written
    if not part.choices.choices and written.barred is not None:
        return Reason(written.barred.code, f"{written_words(ln.item)} left out: {written.barred.text}")
    return Reason("minutes", f"{written_words(ln.item)} left out, to stay within the minutes or the foot contacts")


def written_words(item: Item) -> str:
    """What the line says, without its dose: a name, or `any hinge, one leg`."""
    if isinstance(item.exercise, Named):
        return item.exercise.text
    legs = {None: "", 1: ", one leg", 2: ", two legs"}[item.exercise.legs]
    return f"any {item.exercise.pattern}{legs}"


def condition_words(condition: Condition) -> str:
    """A written condition as the runner reads it: "If pain above 4: stop."."""
    text = condition.text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


def _item(ln: LaidLine, part: Part, c: Choice, block: Block, rounds: int, most: int, laid: Laid) -> FittedItem:
    setting, dose, variant = part.scope.setting, c.dose, c.variant
    sets = sets_at(ln.item, block, rounds, most)
    prediction = predict(c, sets, setting.capacity)
    mine = part.choices
    band = (best_loss(mine.choices) if mine.best is None else mine.best) + setting.house.value("hysteresis")
    reasons = reasons_of(ln.item, mine.written, c, mine.choices, band, mine.only, part.scope.setting.where)
    reasons = (*reasons, *growth_reasons(c, mine.choices))
    key = laid.week.sessions[ln.session].key
    before = sent_before(laid.last, laid.week.cycle_name, key, ln.item)
    reasons = (
        *reasons,
        *bound_reason(setting.bounds.get((key, ln.item.key)), c.demand, before, setting, grouped=c.group is not None),
    )
    finding = setting.margin_rir > 0 and prediction is not None
    rir = dose.rir
    if finding and rir is not None:
        rir = Range(rir.low + setting.margin_rir, rir.high + setting.margin_rir)
        reasons = (
            *reasons,
            Reason("finding week", "finding week: stop a little earlier, and say how many more there were"),
        )
    was = kept(laid, ln, c)
    if was is not None:
        reasons = was.reasons
    elif dose.unfitted:
        reasons = (*reasons, Reason("not fitted", f"left as written, not fitted: {'; '.join(dose.unfitted)}"))
    held = dose.hold_s or dose.work_s
    return FittedItem(
        item_key=ln.item.key, written=written_words(ln.item), variant_id="" if variant is None else variant.id,
        name=c.name, sets=sets, reps=_reps(dose), hold_s=held if _reps(dose) is None else None,
        distance_m=dose.distance_m, contacts=dose.contacts, per_side=each_side(dose, variant), alternating=dose.sides == "alternating",
        rir=rir, load=c.load, tempo=dose.tempo, pause_s=_middle(dose.pause_s), rest_s=dose.rest_s,
        side_rest_s=_middle(dose.side_rest_s), notes=(*ln.item.notes, *(condition_words(c) for c in ln.item.conditions)), optional=ln.item.optional, open_reps=dose.reps_open,
        extra=_extra(ln.item, dose), per_set=dose.per_set,
        left_right=None if dose.left is None and dose.right is None else (dose.left or 0, dose.right or 0),
        reasons=reasons, prediction=prediction,
        too_hard=_recourse(c, c.easier), too_easy=_recourse(c, c.harder),
        ask_effort=prediction is not None and block.kind not in LIGHT and (finding or c.intent.stated),
        work=_reps(dose) is None and dose.hold_s is None and dose.work_s is not None,
        line=line_text(ln.item),
    )  # fmt: skip


def _reps(dose: Dose) -> Range | None:
    if dose.reps is not None:
        return dose.reps
    if dose.cluster:
        return Range.of(float(sum(dose.cluster)))
    if dose.hold_s is None and dose.work_s is None and dose.distance_m is None and dose.contacts is None:
        return dose.rm
    return None


def _middle(value: Range | None) -> float | None:
    return None if value is None else value.middle


def _extra(item: Item, dose: Dose) -> tuple[str, ...]:
    out = []
    if dose.rm is not None:
        out.append(f"a load you could lift {dose.rm} times")
    if dose.percent is not None:
        least = "at least " if dose.percent.at_least else ""
        out.append(f"{least}{dose.percent.percent} % of {dose.percent.of}")
    if dose.cluster:
        out.append("in parts of " + " + ".join(str(n) for n in dose.cluster))
    if dose.drop is not None:
        out.append(f"then {dose.drop} more with less load")
    out += dose.unfitted
    if item.runner_picks and item.alternatives:
        out.append("or, as you like: " + "; ".join(written_words(a) for a in item.alternatives))
    return tuple(out)


def _recourse(mine: Choice, other: Step | None) -> Recourse | None:
    if other is None:
        return None
    same = mine.variant is not None and other.variant.id == mine.variant.id
    name, load = other.variant.name, load_words(other.load)
    text = load if same else name if other.load is None else f"{name}, {load}"
    each = each_side(other.dose, other.variant)
    turned = each != each_side(mine.dose, mine.variant)  # to an exercise with sides, or back: the amount is told again
    if turned or other.dose != mine.dose:
        amount = other.dose.hold_s or other.dose.reps
        side = " each side" if turned and each else ""
        text += "" if amount is None else f": {amount}{' s' if other.dose.hold_s else ''}{side}"
    return Recourse(other.variant.id, name, other.load, text)


def _fetch(choices: list[tuple[Choice, Part]]) -> tuple[str, ...]:
    """Loads first, then what each exercise needs of the kit that is there; each once."""
    loads = [piece for c, _ in choices if c.load is not None for piece in c.load.pieces]
    kit = [
        w
        for c, part in choices
        if c.variant is not None
        for w in pieces_for(part.scope.setting.runner.kit, c.variant)
        if c.load is None or c.load.band is None or not w.endswith("band")
    ]
    return tuple(dict.fromkeys([*loads, *kit]))


def _leave_out(blocks: list[FittedBlock]) -> tuple[str, ...]:
    """First to go first: optional lines, else the last block of a session that has more than one after the warm-up."""
    optional = tuple(i.item_key for b in blocks for i in b.items if i.optional)
    work = [b for b in blocks if b.kind not in LIGHT]
    if optional or len(work) < 2:
        return optional
    return tuple(i.item_key for i in work[-1].items)
