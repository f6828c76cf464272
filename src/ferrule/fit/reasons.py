"""Why a line differs from the text, in the words a coach reads."""

from __future__ import annotations

import numpy as np

from ferrule.fit.choices import Choice
from ferrule.fit.effort import TOO_EASY, TOO_HARD
from ferrule.fit.predict import possible_words
from ferrule.model.fitted import LoadChoice, Reason, ReasonCode
from ferrule.model.programme import Item


def load_words(load: LoadChoice | None) -> str:
    """`12 kg`, `medium band`, or `no weight`."""
    if load is None:
        return "no weight"
    return f"{load.kg:g} kg" if load.band is None else f"{load.band} band"


def reasons_of(
    item: Item, written: Choice, chosen: Choice, choices: tuple[Choice, ...], margin: float,
    only: frozenset[str] | None = None, where: str = "",
) -> tuple[Reason, ...]:  # fmt: skip
    """Reasons of one line: empty when it is done as written.

    written  the line as the coach wrote it (perhaps barred);  choices: all that might be done
    margin   the house's hysteresis, repetitions: within it the written line would have stayed but for other lines
    only     the lanes of the line, when the squad is held to lanes
    where    the site it is done at, when there are several
    """
    if _off_lane(written, chosen, choices, margin, only):
        return (Reason("lane", f"{written.name}: not one of the versions the squad keeps to on this line"),)
    if chosen.origin == "slot":
        words = possible_words(chosen)
        return (Reason("open slot", f"the slot is open; {chosen.name}{', ' + words if words else ''}"),)
    if chosen.origin == "written":
        return _load_reasons(written, chosen, choices, margin, where)
    if chosen.origin == "alternative":
        why = _why_not(written, chosen, choices, margin, where)
        return (Reason("first that fits", f"{written.name}: {why.text}"),) if not item.runner_picks else ()
    why = _why_not(written, chosen, choices, margin, where)
    return (Reason(why.code, f"{written.name}: {why.text}"),)


def _off_lane(
    written: Choice, chosen: Choice, choices: tuple[Choice, ...], margin: float, only: frozenset[str] | None
) -> bool:
    """Would the written exercise have stayed but for the lanes?"""
    if only is None or written.variant is None or written.barred is not None or written.origin == "slot":
        return False
    best = min((c.expected_loss for c in choices), default=0.0)
    other = chosen.variant is not None and chosen.variant.id != written.variant.id
    return other and written.variant.id not in only and written.expected_loss <= best + margin


def _load_reasons(
    written: Choice, chosen: Choice, choices: tuple[Choice, ...], margin: float, where: str
) -> tuple[Reason, ...]:
    asked = chosen.dose.load
    if asked is None or chosen.distance == 0:
        if chosen.load is None or asked is not None:
            return ()
        return (Reason("load chosen", f"{load_words(chosen.load)}: {possible_words(chosen)}"),)
    exact = [c for c in choices if c.origin == "written" and c.distance == 0]
    if not exact and written.barred is not None:
        return (Reason(written.barred.code, f"{load_words(chosen.load)} instead: {written.barred.text}"),)
    if not exact:
        return (Reason("kit", f"{load_words(chosen.load)} instead: {_not_made(where)}"),)
    why = _why_not(exact[0], chosen, choices, margin, where)
    return (Reason(why.code, f"{load_words(chosen.load)} instead of {load_words(exact[0].load)}: {why.text}"),)


def _why_not(written: Choice, chosen: Choice, choices: tuple[Choice, ...], margin: float, where: str) -> Reason:
    """Why the written choice was not taken."""
    if written.barred is not None:
        return written.barred
    if written.dose.load is not None and not any(c.origin == "written" and c.distance == 0 for c in choices):
        return Reason("kit", _not_made(where))
    best = min((c.expected_loss for c in choices), default=0.0)
    if written.expected_loss > best + margin:
        code: ReasonCode = "too hard" if _too_hard(written) else "too easy"
        return Reason(code, f"{code}: {possible_words(written)}")
    if chosen.contacts < written.contacts:
        return Reason("contacts", "too many foot contacts in one session")
    if chosen.set_s + chosen.setup_s < written.set_s + written.setup_s:
        return Reason("minutes", "the session would run over its minutes")
    return Reason("kit", "one piece cannot have two settings inside a pair")


def _not_made(where: str) -> str:
    return f"the written load cannot be made of what is {f'at {where}' if where else 'owned'}"


def _too_hard(written: Choice) -> bool:
    """Which of the two the written line costs more by: being too hard, or being too easy."""
    assert written.possible is not None  # it has a loss
    assert written.intent is not None
    hard = np.maximum(0.0, written.intent.low - written.possible).mean()
    easy = np.maximum(0.0, written.possible - written.intent.high).mean()
    return bool(TOO_HARD * hard >= TOO_EASY * easy)
