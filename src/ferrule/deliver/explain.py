"""What is believed of one runner, for the coach: in words for the terminal, and as a page with one picture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from markupsafe import Markup

from ferrule.capacity import curves
from ferrule.capacity.explain import GROUP_WORDS, ExerciseBelief, GroupBelief, possible_words
from ferrule.capacity.telling import AskedSet, Telling
from ferrule.deliver import amounts, cautions
from ferrule.deliver.explain_picture import explain_picture
from ferrule.deliver.html import environment, inline
from ferrule.deliver.plain import clean, sentence
from ferrule.model.quantity import Range, number
from ferrule.model.words import Group

USUAL_REPS, USUAL_LEFT = Range(8, 12), Range(1, 3)
USUAL_HOLD_S = Range(30, 45)
"""The band that is shown where the week does not ask for the exercise (common practice, no source)."""
TOLD_SHOWN = 6
"""Lines of logged sets, the newest; sets of one day that say the same are one line."""


@dataclass(frozen=True, slots=True)
class Explanation:
    """Everything `ferrule explain` says of one runner.

    week       the week the lines are from, in words;  logged: sets and dated tests that were read
    band       shares of best at which the line leaves what the coach meant;  band_words: that in words
    tellings   the lines of the week, the most telling first;  doubts: questions about sets that were set aside
    """

    runner_id: str
    runner_name: str
    day: date
    week: str
    logged: int
    groups: tuple[GroupBelief, ...]
    exercise: ExerciseBelief | None
    band: Range | None
    band_words: str
    tellings: tuple[Telling, ...]
    doubts: tuple[str, ...] = ()


def usual_band(group: Group, *, hold: bool) -> tuple[Range, str]:
    """Shares of best of the usual band, and the band in words."""
    if hold:
        near, far = (curves.share_at_hold(s * f, group) for s, f in ((USUAL_HOLD_S.low, 1.1), (USUAL_HOLD_S.high, 1.3)))
        return Range(min(near, far), max(near, far)), f"{USUAL_HOLD_S} s with some left (the week does not ask for it)"
    k = curves.k_of(group)
    ends = (
        curves.share_at(USUAL_REPS.high + USUAL_LEFT.high, k),
        curves.share_at(USUAL_REPS.low + USUAL_LEFT.low, k),
    )
    return Range(*ends), f"{USUAL_REPS} repetitions, {USUAL_LEFT} left (the week does not ask for it)"


def first_words(e: Explanation) -> str:
    """What the belief rests on."""
    if e.logged:
        return f"From {e.logged} {'entry' if e.logged == 1 else 'entries'} of what was done before {amounts.short_date(e.day)}."
    told = [g for g in e.groups if g.informed]
    if told:
        return "No sets are logged yet: norms, level of training and home tests."
    return "Nothing is logged yet: only what is usual for a runner like this (norms and level of training)."


def group_words(g: GroupBelief) -> str:
    """One group in a sentence."""
    many = possible_words(g.possible, hold=g.hold)
    said = f"{GROUP_WORDS[g.group]}: {clean(g.exercise)}, likely {many}; {g.sure}"
    if not g.informed:
        return f"{said}. No information on it yet: what is usual."
    if g.sets:
        last = "" if g.last is None else f", last {amounts.short_date(g.last)}"
        return f"{said}, from {g.sets} {'set' if g.sets == 1 else 'sets'}{last}."
    return f"{said}, from a home test."


def exercise_words(x: ExerciseBelief) -> tuple[str, ...]:
    """What is believed of the exercise, from which sets, and what one more would teach."""
    load = f" with {number(x.load_kg)} kg" if x.load_kg else ""
    unit = "" if x.hold else " repetitions"
    lines = [f"{clean(x.name)}{load}: likely {possible_words(x.possible, hold=x.hold)}{unit}; {x.sure}."]
    if x.told:
        alike = [(key, len(list(same))) for key, same in groupby(x.told, key=lambda t: (t.day, clean(t.said)))]
        shown = alike[-TOLD_SHOWN:]
        lines += [
            f"{amounts.short_date(day)}: {said}{f' ({count} sets)' if count > 1 else ''}"
            for (day, said), count in shown
        ]
        if earlier := len(x.told) - sum(count for _, count in shown):
            lines.append(f"and {earlier} earlier")
    else:
        lines.append(
            f"No set of it is logged: told by other exercises of the group ({GROUP_WORDS[x.group]}) and by norms."
        )
    if x.after is not None:
        now, then = (possible_words(p, hold=x.hold) for p in (x.possible, x.after))
        lines.append(
            f'One more set, with an answer to "how many more?", would leave a range about as wide as {then}.'
            if then != now
            else "One more set would not narrow it by a whole repetition."
        )
    if x.corrected:
        lines.append(f"The chance of completing a set is {x.corrected}.")
    return tuple(lines)


def telling_words(t: Telling) -> str:
    """What one set would tell."""
    a = t.asked
    said = f"session {clean(a.session_key)}, {clean(a.name)} ({_dose(a)}): takes away {t.part:.0%} of the doubt that matters this week"
    if t.p_four > 0.5:
        said += '; the answer will likely be "4 or more", which tells less'
    if t.others:
        shown = ", ".join(clean(n) for n in t.others[:3])
        said += f"; also narrows {shown}" + (f" and {len(t.others) - 3} more" if len(t.others) > 3 else "")
    return said + "."


def _dose(a: AskedSet) -> str:
    load = "" if not a.load_kg else f" with {number(a.load_kg)} kg"
    left = "" if a.reserve is None or a.hold else f", about {round(a.reserve)} left"
    return f"{round(a.amount)} {'s' if a.hold else 'reps'}{load}{left}"


def explain_text(e: Explanation, *, only_next: bool = False) -> str:
    """The whole of it as lines of text. only_next: what to ask next, alone."""
    out = [f"{clean(e.runner_id)} {clean(e.runner_name)}", sentence(first_words(e))]
    if not only_next:
        out += ["", "How much is likely possible once rested (8 times of 10):"]
        out += [f"  {group_words(g)}" for g in e.groups]
        if e.exercise is not None:
            out += ["", *(f"  {line}" if i else line for i, line in enumerate(exercise_words(e.exercise)))]
            if e.band is not None:
                out.append(f"  What is meant: {e.band_words}: {e.band.low:.0%} to {e.band.high:.0%} of best.")
    if e.tellings:
        out += ["", f"The set that would tell most ({clean(e.week)}), when the runner says how many more were left:"]
        shown = e.tellings if only_next else e.tellings[:3]
        out += [f"  {n}. {telling_words(t)}" for n, t in enumerate(shown, 1)]
    elif e.week:
        out += ["", sentence(e.week)]
    if e.doubts:
        out += ["", "Set aside until the runner says more:", *(f"  {clean(d)}" for d in e.doubts)]
    return "\n".join(out)


@dataclass(frozen=True, slots=True)
class ExplainView:
    """What the template needs; every text in it is escaped there, the picture we drew ourselves."""

    title: str
    lead: str
    week: str
    groups: Sequence[str]
    exercise: Sequence[str]
    picture: Markup
    band: str
    tellings: Sequence[str]
    sources: Sequence[tuple[str, Sequence[str]]]
    doubts: Sequence[str]
    purpose: str
    style: Markup
    style_hash: str


def explain_page(e: Explanation) -> str:
    """One HTML page, for the coach alone."""
    style, style_hash = inline(
        "paper.css", "written.css", more=".scroll { overflow-x: auto; } .scroll svg { max-width: none; }"
    )
    band = "" if e.band is None else f"Shaded: {e.band_words}. Its edges are blurred by what we do not know."
    view = ExplainView(
        f"{clean(e.runner_id)} {clean(e.runner_name)}", first_words(e), sentence(e.week),
        tuple(sentence(group_words(g)) for g in e.groups),
        () if e.exercise is None else exercise_words(e.exercise), Markup(picture_of(e)), band,
        tuple(sentence(telling_words(t)) for t in e.tellings),
        tuple((GROUP_WORDS[g.group], tuple(map(clean, g.sources))) for g in e.groups if g.sources),
        tuple(map(clean, e.doubts)), cautions.PURPOSE, style, style_hash,
    )  # fmt: skip
    return environment().get_template("explain.html").render(page=view)


def picture_of(e: Explanation) -> str:
    """The family on the axis of share of best; empty without an exercise."""
    if e.exercise is None or e.band is None:
        return ""
    return explain_picture(e.exercise, e.band, e.band_words)
