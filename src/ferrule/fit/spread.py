"""The read-back: how the squad spreads on each written line, and who was moved off it and why."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ferrule.fit.build import Laid
from ferrule.fit.predict import Verdict, verdict
from ferrule.fit.reasons import load_words
from ferrule.fit.week import written_words
from ferrule.model.fitted import FittedWeek, LineSpread
from ferrule.programme.text import dose_text


@dataclass(frozen=True, slots=True)
class LineVerdict:
    """One written line for one runner, done as written. `cannot`: kit, a limit, a sore place or a wish forbids it."""

    cycle_key: str
    session_key: str
    item_key: str
    written: str
    says: Verdict | str
    runner_id: str


def verdicts(laid: Laid) -> tuple[LineVerdict, ...]:
    """How each line, done as written, would be for this runner."""
    out = []
    for ln in laid.lines:
        written = ln.choices.written
        text = f"{written_words(ln.item)}: {dose_text(ln.item.dose)}"
        says = "cannot" if written.barred is not None else verdict(written)
        session = laid.week.sessions[ln.session].key
        out.append(LineVerdict(laid.week.cycle_key, session, ln.item.key, text, says, laid.setting.runner.id))
    return tuple(out)


def spread_of(said: Iterable[LineVerdict], weeks: Iterable[FittedWeek]) -> tuple[LineSpread, ...]:
    """One LineSpread a written line, in the order of the text; runners in the order of the squad."""
    lines: dict[tuple[str, str, str, str], dict[str, list[str]]] = {}
    for one in said:
        key = (one.cycle_key, one.session_key, one.item_key, one.written)
        lines.setdefault(key, {}).setdefault(one.says, []).append(one.runner_id)
    moved = _moved(weeks)
    return tuple(
        LineSpread(
            session_key=session,
            item_key=item,
            written=written,
            too_easy=tuple(by.get("too easy", ())),
            right=tuple(by.get("right", ())),
            too_hard=tuple(by.get("too hard", ())),
            cannot=tuple(by.get("cannot", ())),
            moved=tuple(m for r in [r for rs in by.values() for r in rs] for m in moved.get((r, session, item), ())),
        )
        for (_, session, item, written), by in lines.items()
    )


def _moved(weeks: Iterable[FittedWeek]) -> dict[tuple[str, str, str], list[tuple[str, str, str]]]:
    out: dict[tuple[str, str, str], list[tuple[str, str, str]]] = {}
    for week in weeks:
        for session in week.sessions:
            for item in (i for b in session.blocks for i in b.items):
                why = "; ".join(
                    r.text for r in item.reasons if r.code not in ("open slot", "load chosen", "finding week")
                )
                if why:
                    instead = item.name if item.load is None else f"{item.name}, {load_words(item.load)}"
                    out.setdefault((week.runner_id, session.key, item.item_key), []).append(
                        (week.runner_id, instead, why)
                    )
    return out
