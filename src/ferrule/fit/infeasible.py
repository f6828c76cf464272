"""When no week exists: the reason from the solver's core, in words, and the smallest ways out, each tried."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ferrule.fit.build import Laid, build, rebuild
from ferrule.fit.constraints import contacts, minutes, pair_kit
from ferrule.fit.days import DAYS_RULE, GAP_RULE, KEY_RULE, RACE_RULE, RUN_RULE
from ferrule.fit.problem import Answer
from ferrule.fit.solve import blame, solve
from ferrule.model.finding import Finding
from ferrule.model.fitted import Impossible, WayOut
from ferrule.model.house import House
from ferrule.model.programme import LIGHT
from ferrule.model.squad import Runner
from ferrule.model.words import DAYS

MOST_WAYS = 3
GAPS = {KEY_RULE: "key-run-gap-h", GAP_RULE: "session-gap-h", RACE_RULE: "race-gap-h", RUN_RULE: "same-day-run-gap-h"}
_WORDS = {
    DAYS_RULE: "only {days} are possible",
    KEY_RULE: "leg work stays clear of the hours before a key or long run",
    RACE_RULE: "leg work stays clear of the hours before a race",
    RUN_RULE: "leg work and a run on the same day need hours between them",
    GAP_RULE: "sessions need hours between them",
    minutes.NAME: "the session does not fit the runner's minutes",
    contacts.NAME: "the session has too many foot contacts",
    pair_kit.NAME: "one piece cannot have two settings inside a pair",
}


def rule_words(rules: Sequence[str], runner: Runner) -> str:
    """The rules of a core as one sentence for the coach."""
    days = ", ".join(DAYS[d] for d in runner.days) or "no days"
    said = [_WORDS.get(rule, rule).format(days=days) for rule in rules]
    return "no time is left: " + "; ".join(said) if said else "another session is kept instead"


def impossible(laid: Laid, answer: Answer) -> Impossible:
    """Why this runner has no week, and up to three smallest ways out that were tried and work."""
    runner = laid.setting.runner
    findings = []
    times = all(t is None for t in answer.slot)
    if times:
        rules = blame(laid.problem, [0])
        what = rule_words(rules, runner)
    else:
        barred = {ln.choices.written.barred.text for ln in laid.lines if ln.choices.written.barred is not None}
        rules = blame(laid.problem, [s for s, t in enumerate(answer.slot) if t is not None])
        what = "nothing outside the warm-up may be done: " + "; ".join(sorted(barred) or [rule_words(rules, runner)])
    ways = tuple(_ways(laid, times))
    findings.append(
        Finding(
            code="no-week",
            level="error",
            what=f"{runner.name} ({runner.id}) has no week: {what}",
            why="Every rule here is one you or the runner set, or one that keeps a key run fresh.",
            fix=ways[0].text if ways else "Talk to the runner: no single change of day, run or rule was enough.",
            span=runner.span,
        )
    )
    return Impossible(runner.id, runner.name, tuple(findings), ways)


def _ways(laid: Laid, times: bool) -> Iterator[WayOut]:
    """Single changes that work, the most useful first: more sessions placed, then the order they are thought of.

    times   it is the days and hours that fail: only changes of those are tried, first on the times alone
    """
    found = []
    for order, (text, runner, house) in enumerate(_time_changes(laid) if times else _line_changes(laid)):
        setting = replace(laid.setting, runner=runner, house=house, _screened={}, _loads={})
        again = rebuild(laid, setting) if times else build(laid.programme, laid.week, setting, laid.last)
        small = replace(again.problem, lines=(), blocks=(), cover=()) if times else again.problem
        placed = sum(t is not None for t in solve(small, time_limit_s=5.0).slot)
        if placed:
            found.append((-placed, order, text, again))
    told = 0
    for _, _, text, again in sorted(found, key=lambda f: f[:2]):
        answer = solve(again.problem, time_limit_s=5.0)  # the whole week, so that what is told was tried
        placed = sum(t is not None for t in answer.slot)
        if placed and any(a is not None and is_work(again, i) for i, a in enumerate(answer.option)):
            yield WayOut(f"{text}: {placed} of {len(answer.slot)} sessions then have a day", tried=True)
            told += 1
        if told == MOST_WAYS:
            return


def is_work(laid: Laid, line: int) -> bool:
    """True for a line outside the warm-up."""
    return laid.problem.blocks[laid.problem.lines[line].block].kind not in LIGHT


Change = tuple[str, Runner, House]


def _time_changes(laid: Laid) -> Iterator[Change]:
    """One change at a time: a day more, a run moved, a rule of hours lowered."""
    runner, house = laid.setting.runner, laid.setting.house
    for day in range(7):
        if day not in runner.days:
            days = tuple(sorted((*runner.days, day)))
            yield f"{DAYS[day]} becomes possible", replace(runner, days=days), house
    for i, run in enumerate(runner.runs):
        if run.kind != "easy":
            for day in range(7):
                if all(r.day != day for r in runner.runs):
                    moved = tuple(replace(r, day=day) if j == i else r for j, r in enumerate(runner.runs))
                    text = f"the {run.kind} run moves from {DAYS[run.day]} to {DAYS[day]}"
                    yield text, replace(runner, runs=moved), house
    for rule, key in GAPS.items():
        now = house.value(key)
        for part in (0.75, 0.5):
            lower = replace(house, changed={**house.changed, key: now * part})
            yield f"{rule}: {now * part:g} instead of {now:g}", runner, lower


def _line_changes(laid: Laid) -> Iterator[Change]:
    """One change at a time: more minutes, a limit or a note lifted by whoever set it."""
    runner, house = laid.setting.runner, laid.setting.house
    if runner.minutes is not None:
        yield (
            f"{runner.minutes + 15} minutes instead of {runner.minutes}",
            replace(runner, minutes=runner.minutes + 15),
            house,
        )
    for i, limit in enumerate(runner.limits):
        rest = tuple(x for j, x in enumerate(runner.limits) if j != i)
        yield f"whoever set it lifts the limit {limit.text!r}", replace(runner, limits=rest), house
    for i, wish in enumerate(runner.wishes):
        rest_of = tuple(x for j, x in enumerate(runner.wishes) if j != i)
        yield f"the note {wish.text!r} is taken back", replace(runner, wishes=rest_of), house
