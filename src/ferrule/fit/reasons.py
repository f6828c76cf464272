"""Why a line differs from the text, in the words a coach reads."""

from __future__ import annotations

import numpy as np

from ferrule.fit.choices import Choice
from ferrule.fit.effort import TOO_EASY, TOO_HARD
from ferrule.fit.predict import possible_words
from ferrule.fit.settings import settings_of
from ferrule.model.fitted import LoadChoice, Reason, ReasonCode
from ferrule.model.programme import Item


def load_words(load: LoadChoice | None) -> str:
    """`12 kg`, `medium band`, or `no weight`."""
    if load is None:
        return "no weight"
    return f"{load.kg:g} kg" if load.band is None else f"{load.band} band"


def reasons_of(
    item: Item, written: Choice, chosen: Choice, choices: tuple[Choice, ...], band: float,
    only: frozenset[str] | None = None, where: str = "",
) -> tuple[Reason, ...]:  # fmt: skip
    """Reasons of one line: empty when it is done as written.

    written  the line as the coach wrote it (perhaps barred);  choices: all that might be done
    band     the expected loss the text is priced from (`choice.text_price`), repetitions: up to it the written line would
             have stayed but for other lines
    only     the lanes of the line, when the squad is held to lanes
    where    the site it is done at, when there are several
    """
    if _off_lane(written, chosen, band, only):
        return (Reason("lane", f"{written.name}: not one of the versions the squad keeps to on this line"),)
    if chosen.origin == "slot":
        words = possible_words(chosen)
        return (Reason("open slot", f"the slot is open; {chosen.name}{', ' + words if words else ''}"),)
    if chosen.origin == "written":
        return _load_reasons(written, chosen, choices, band, where)
    if chosen.origin == "alternative":
        why = _why_not(written, chosen, choices, band, where)
        return (Reason("first that fits", f"{written.name}: {why.text}"),) if not item.runner_picks else ()
    why = _why_not(written, chosen, choices, band, where)
    return (Reason(why.code, f"{written.name}: {why.text}"),)


def _off_lane(written: Choice, chosen: Choice, band: float, only: frozenset[str] | None) -> bool:
    """Would the written exercise have stayed but for the lanes?"""
    if only is None or written.variant is None or written.barred is not None or written.origin == "slot":
        return False
    other = chosen.variant is not None and chosen.variant.id != written.variant.id
    return other and written.variant.id not in only and written.expected_loss <= band


def _load_reasons(
    written: Choice, chosen: Choice, choices: tuple[Choice, ...], band: float, where: str
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
    why = _why_not(exact[0], chosen, choices, band, where)
    return (Reason(why.code, f"{load_words(chosen.load)} instead of {load_words(exact[0].load)}: {why.text}"),)


def _why_not(written: Choice, chosen: Choice, choices: tuple[Choice, ...], band: float, where: str) -> Reason:
    """Why the written choice was not taken."""
    if written.barred is not None:
        return written.barred
    if written.dose.load is not None and not any(c.origin == "written" and c.distance == 0 for c in choices):
        return Reason("kit", _not_made(where))
    if written.expected_loss > band:
        code: ReasonCode = "too hard" if _too_hard(written, chosen) else "too easy"
        return Reason(code, f"{code}: {possible_words(written)}")
    if chosen.contacts < written.contacts:
        return Reason("contacts", "too many foot contacts in one session")
    if chosen.set_s + chosen.setup_s < written.set_s + written.setup_s:
        return Reason("minutes", "the session would run over its minutes")
    if settings_of(written.load):
        return Reason("kit", "one piece cannot have two settings inside a pair")
    return Reason("other lines", "it does not go with the other lines of the week")


def _not_made(where: str) -> str:
    return f"the written load cannot be made of what is {f'at {where}' if where else 'owned'}"


def _too_hard(written: Choice, chosen: Choice) -> bool:
    """What the move mends more of: the written line being too hard, or being too easy."""
    hard, easy = _off(written)
    if chosen.possible is not None and chosen.group == written.group:
        left_hard, left_easy = _off(chosen)
        hard, easy = hard - left_hard, easy - left_easy
    return hard >= easy


def _off(choice: Choice) -> tuple[float, float]:
    """Mean cost of a choice by being too hard and by being too easy, repetitions."""
    assert choice.possible is not None  # it has a loss
    hard = np.maximum(0.0, choice.intent.low - choice.possible).mean()
    easy = np.maximum(0.0, choice.possible - choice.intent.high).mean()
    return float(TOO_HARD * hard), float(TOO_EASY * easy)
