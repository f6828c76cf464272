"""The read-back: how the squad spreads on each written line, and who was moved off it and why."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ferrule.capacity import curves
from ferrule.fit.build import Laid
from ferrule.fit.candidates import SAME_DEMAND
from ferrule.fit.predict import Verdict, predict, verdict
from ferrule.fit.problem import Answer
from ferrule.fit.reasons import load_words
from ferrule.fit.week import written_words
from ferrule.model.exercise import Ask, Library
from ferrule.model.fitted import OPEN, FittedItem, FittedWeek, LineSpread, LoadChoice
from ferrule.programme.text import dose_text


@dataclass(frozen=True, slots=True)
class LineVerdict:
    """One written line for one runner, done as written. `cannot`: kit, a limit, a sore place or a wish forbids it.

    share   share of best that its first set is believed to ask, where it is dosed
    """

    cycle_key: str
    session_key: str
    item_key: str
    written: str
    says: Verdict | str
    runner_id: str
    variant_id: str = ""
    load: LoadChoice | None = None
    mass_kg: float = 65.0
    share: float | None = None


def verdicts(laid: Laid, answer: Answer | None = None) -> tuple[LineVerdict, ...]:
    """How each line, done as written, would be for this runner.

    answer   tells at which site each line is done; without it, or there, that of the first site where it may be done
    """
    out = []
    for i, ln in enumerate(laid.lines):
        chosen = None if answer is None else answer.option[i]
        written = ln.choices.written if chosen is None else ln.part(chosen).choices.written
        text = f"{written_words(ln.item)}: {dose_text(ln.item.dose)}"
        says = "cannot" if written.barred is not None else verdict(written)
        session = laid.week.sessions[ln.session].key
        foretold = predict(written, 1, laid.setting.capacity)
        out.append(LineVerdict(laid.week.cycle_key, session, ln.item.key, text, says, laid.setting.runner.id,
            "" if written.variant is None else written.variant.id, written.load, laid.setting.mass_kg,
            None if foretold is None else foretold.share,
        ))  # fmt: skip
    return tuple(out)


def spread_of(
    said: Iterable[LineVerdict], weeks: Iterable[FittedWeek], library: Library | None = None
) -> tuple[LineSpread, ...]:
    """One LineSpread a written line, in the order of the text; runners in the order of the squad.

    library   tells which way each was moved; without it nothing is said of that
    """
    said, weeks = list(said), list(weeks)
    ways = {} if library is None else _ways(said, weeks, library)
    lines: dict[tuple[str, str, str, str], dict[str, list[str]]] = {}
    for one in said:
        key = (one.cycle_key, one.session_key, one.item_key, one.written)
        lines.setdefault(key, {}).setdefault(one.says, []).append(one.runner_id)
    moved = _moved(weeks)
    out = []
    for (cycle, session, item, written), by in lines.items():
        here = {r for runners in by.values() for r in runners}
        changed = [m for r in here for m in moved.get((r, session, item), ())]
        changed += [(r, "left out", why) for r, why in _left_out(weeks, cycle, session, item, written) if r in here]
        order = {w.runner_id: n for n, w in enumerate(weeks)}
        out.append(
            LineSpread(
                session_key=session,
                item_key=item,
                written=written,
                too_easy=tuple(by.get("too easy", ())),
                right=tuple(by.get("right", ())),
                too_hard=tuple(by.get("too hard", ())),
                cannot=tuple(by.get("cannot", ())),
                moved=tuple(sorted(changed, key=lambda m: order[m[0]])),
                ways=tuple(
                    sorted(
                        ((r, ways.get((r, session, item), "left out")) for r, _, _ in changed if library is not None),
                        key=lambda w: order[w[0]],
                    )
                ),
            )
        )
    return tuple(out)


def _ways(
    said: Iterable[LineVerdict], weeks: Iterable[FittedWeek], library: Library
) -> dict[tuple[str, str, str], str]:
    """(runner, session, line) -> which way what is done lies from what is written."""
    done = {
        (w.runner_id, s.key.split(" (")[0], i.item_key): i
        for w in weeks for s in reversed(w.sessions) for b in s.blocks for i in b.items
    }  # fmt: skip
    written = {(v.runner_id, v.session_key, v.item_key): v for v in said}
    return {k: which_way(v, done[k], library) for k, v in written.items() if k in done}


def which_way(written: LineVerdict, item: FittedItem, library: Library) -> str:
    """`easier`, `harder`, `as hard`, `more weight`, `less weight`, `other weight`, or `another exercise` where the two work
    different groups or are no dose. What is believed of this runner counts, else the demand as computed. Within 5 % two
    exercises are as hard (`candidates.SAME_DEMAND`)."""
    if item.variant_id == written.variant_id:
        was, now = (0.0 if load is None else load.kg for load in (written.load, item.load))
        return "more weight" if now > was else "less weight" if now < was else "other weight"
    before, after = library.variants.get(written.variant_id), library.variants.get(item.variant_id)
    old, new = (None if v is None else v.main for v in (before, after))
    if old is None or new is None or old.group != new.group:
        return "another exercise"
    ratio = _demand(new, item.load, written.mass_kg) / _demand(old, written.load, written.mass_kg)
    if written.share and item.prediction is not None:
        ratio = item.prediction.share * math.exp(-curves.SET_FATIGUE_LOG * (item.sets - 1)) / written.share
    return "harder" if ratio > 1 + SAME_DEMAND else "easier" if ratio < 1 - SAME_DEMAND else "as hard"


def _demand(ask: Ask, load: LoadChoice | None, mass_kg: float) -> float:
    return ask.base if load is None else ask.demand(load.kg, load.place, mass_kg)


def _left_out(
    weeks: Iterable[FittedWeek], _cycle: str, session: str, item: str, written: str
) -> Iterator[tuple[str, str]]:
    """(runner, reason) for each fitted session that does not hold the line and says why."""
    name = written.split(": ")[0]
    for week in weeks:
        for s in week.sessions:
            if s.key == session and all(i.item_key != item for b in s.blocks for i in b.items):
                yield from ((week.runner_id, r.text) for r in s.reasons if r.text.startswith(f"{name} left out"))


def _moved(weeks: Iterable[FittedWeek]) -> dict[tuple[str, str, str], list[tuple[str, str, str]]]:
    out: dict[tuple[str, str, str], list[tuple[str, str, str]]] = {}
    for week in weeks:
        for session in week.sessions:
            for item in (i for b in session.blocks for i in b.items):
                why = "; ".join(r.text for r in item.reasons if r.code not in OPEN - {"first that fits"})
                if why:
                    instead = item.name if item.load is None else f"{item.name}, {load_words(item.load)}"
                    out.setdefault((week.runner_id, session.key, item.item_key), []).append(
                        (week.runner_id, instead, why)
                    )
    return out
