"""When no week exists: the reason from the solver's core, in words, and the smallest ways out, each tried."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from ferrule.fit.build import Laid
from ferrule.fit.constraints import contacts, load_growth, minutes, new_exercises, pair_clash, pair_kit, site_kit
from ferrule.fit.days import DAYS_RULE, GAP_RULE, KEY_RULE, RACE_RULE, RECOVERY_RULE, RUN_RULE
from ferrule.fit.problem import Answer
from ferrule.fit.solve import blame
from ferrule.fit.ways import free_times, is_work, ways_out
from ferrule.model.finding import Finding
from ferrule.model.fitted import Impossible
from ferrule.model.squad import Runner
from ferrule.model.words import DAYS

WORDS: Final = {
    DAYS_RULE: "only {days} are possible",
    KEY_RULE: "leg work stays clear of the hours before a key or long run",
    RACE_RULE: "leg work stays clear of the hours before a race",
    RECOVERY_RULE: "leg work waits for the days after a race",
    RUN_RULE: "leg work and a run on the same day need hours between them",
    GAP_RULE: "sessions need hours between them",
    minutes.NAME: "the session does not fit the runner's minutes",
    contacts.NAME: "the session has too many foot contacts",
    pair_kit.NAME: "one piece cannot have two settings inside a pair",
    pair_clash.NAME: "two exercises of a pair would tire the same group",
    new_exercises.NAME: "more would be new to the runner than one week may bring",
    load_growth.NAME: "it would be more than a step above last week",
    site_kit.NAME: "it needs kit that is not where they train on that day",
}
"""What each rule says to the coach when it is in the way."""


def rule_words(rules: Sequence[str], runner: Runner) -> str:
    """The rules of a core as one sentence for the coach."""
    days = ", ".join(DAYS[d] for d in runner.days) or "no days"
    said = [WORDS.get(rule, rule).format(days=days) for rule in rules]
    return "no time is left: " + "; ".join(said) if said else "another session is kept instead"


def impossible(laid: Laid, answer: Answer) -> Impossible:
    """Why this runner has no week, and up to three smallest ways out that were tried and work."""
    runner = laid.setting.runner
    findings = []
    times = all(t is None for t in answer.slot) and free_times(laid.problem) == 0
    if not answer.proven and all(t is None for t in answer.slot):
        what = "none was found within the limit; that there is none is not proven"
    elif times:
        what = rule_words(blame(laid.problem, [0]), runner)
    else:
        what = "nothing outside the warm-up may be done: " + _why_nothing(laid)
    ways = tuple(w.told for w in ways_out(laid, times))
    findings.append(
        Finding(
            code="no-week",
            level="error",
            what=f"{runner.name} ({runner.id}) has no week: {what}",
            why="Every rule here is one you or the runner set, or one that keeps a key run fresh.",
            fix=ways[0].text
            if ways
            else "Talk to the runner: no one or two changes of a day, a run or a rule were enough.",
            span=runner.span,
        )
    )
    return Impossible(runner.id, runner.name, tuple(findings), ways)


def _why_nothing(laid: Laid) -> str:
    """What bars the lines one by one; else the rules that together keep a first line of work out."""
    work = [i for i in range(len(laid.lines)) if is_work(laid, i)]
    if not work:
        return "nothing is written outside the warm-up"
    why = [laid.lines[i].choices.written.barred for i in work]
    if barred := {w.text for w in why if w is not None}:
        return "; ".join(sorted(barred))
    rules = blame(laid.problem, [laid.problem.lines[work[0]].session], [work[0]])
    said = [WORDS.get(rule, rule) for rule in rules if rule in WORDS]
    return "; ".join(said) if said else rule_words(rules, laid.setting.runner)
