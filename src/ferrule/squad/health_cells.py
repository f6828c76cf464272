"""Cells that hold sending: a yes to a health question or a status, its clearance, and a guardian's consent."""

from __future__ import annotations

import re
from datetime import date, timedelta

from ferrule.model.finding import Finding
from ferrule.model.squad import Anchor, Hold, HoldReason
from ferrule.squad.cell import Cell, entries, fault, shown
from ferrule.squad.dates import read_date
from ferrule.squad.young import may_be_under_18

HOLD_WORDS: dict[HoldReason, tuple[str, ...]] = {
    "health question": ("yes", "y", "health question", "a yes to a health question", "yes to a health question"),
    "pregnant": ("pregnant", "pregnancy", "expecting"),
    "after birth": ("after birth", "birth", "postnatal", "post-natal", "after childbirth", "after a birth"),
    "after surgery": ("after surgery", "surgery", "operation", "after an operation", "after operation"),
    "bone stress": ("bone stress", "stress fracture", "bone stress injury", "stress reaction", "bone injury"),
    "under 18 without consent": ("under 18", "under 18 without consent", "minor"),
}
"""What may be written for each status."""
_HOLDS: dict[str, HoldReason] = {word: reason for reason, words in HOLD_WORDS.items() for word in words}
_NO = frozenset({"no to all", "none of these", "all no", "no to all questions", "clear", "ok"})
_YES = re.compile(r"(yes\b|y\b|given\b|signed\b|by \S|adult\b|18 already\b|over 18\b)")
LONGEST_PROGRAMME = timedelta(weeks=26)
"""How long before a race its programme may begin, when only the race is known."""


def read_health(cell: Cell, anchor: Anchor | None) -> tuple[tuple[Hold, ...], list[Finding]]:
    """Statuses parted by semicolons, each with its clearance: `after birth, cleared by NAME on DATE`.

    What is not known counts as a yes to a health question, the careful end. A clearance needs a name and a day.
    """
    if cell.empty or cell.key in _NO:
        return (), []
    holds: list[Hold] = []
    findings: list[Finding] = []
    for part in entries(cell, commas=False):
        status, by, on, trouble = _clearance(cell, part, anchor)
        findings += trouble
        reason = _HOLDS.get(status) or _HOLDS.get(re.sub(r"^health question:? ?|: ?yes$", "", status).strip())
        if reason is None and re.fullmatch(r"health question:? ?no|no", status):
            continue
        if reason is None:
            reason = "health question"
            if not re.match(r"(yes|health question)\b", status):
                findings.append(
                    fault(
                        cell,
                        "unknown-status",
                        f"{shown(part)} is not a status this reader knows",
                        "It counts as a yes to a health question: nothing is fitted until a named person clears it.",
                        f"Write one of: {', '.join(HOLD_WORDS)}; or leave it empty.",
                    )
                )
        holds.append(Hold(reason, by, on, cell.span))
    return tuple(holds), findings


def _clearance(cell: Cell, part: str, anchor: Anchor | None) -> tuple[str, str | None, date | None, list[Finding]]:
    """(status in lower case, who, when, findings). Who and when are both given or both None."""
    found = re.search(r"[,:(]? ?\bcleared\b(.*)$", part, re.IGNORECASE)
    if not found:
        return part.lower().strip(" ,."), None, None, []
    status = part[: found.start()].lower().strip(" ,.")
    told = re.fullmatch(r"(?: by (.+?))?(?:,? on (.+?))?", found[1].rstrip(" ).,"))
    who, when = (told[1], told[2]) if told else (None, None)
    if not who or not when:
        missing = " and ".join(w for w, there in (("who", who), ("which day", when)) if not there)
        what = f"the clearance in {shown(part)} does not say {missing}"
        fix = 'Write ", cleared by NAME on 2026-01-02".'
        return status, None, None, [fault(cell, "clearance", what, "The status goes on holding the runner.", fix)]
    day = read_date(when, anchor, "behind")
    if isinstance(day, date):
        return status, who.strip(), day, []
    what = f"{shown(when, 30)} in {shown(part)} cannot be read as a day"
    return (
        status,
        None,
        None,
        [fault(cell, day.code, what, f"{day.why} The status goes on holding the runner.", day.fix)],
    )


def read_consent(
    cell: Cell, birth_cell: Cell, birth_year: int | None, anchor: Anchor | None
) -> tuple[tuple[Hold, ...], list[Finding]]:
    """A hold for a runner who may be under 18 while training and has no consent of a guardian.

    Only the year of birth is known, so the year in which somebody turns 18 counts as under 18; `18 already` says
    otherwise. The first year of training is the anchor's, for a race the year 26 weeks before it. A birth year that
    cannot be read counts as under 18.
    """
    unreadable = birth_year is None and not birth_cell.empty
    if anchor is None or (birth_year is None and not unreadable):
        return (), []
    start = anchor.day if anchor.kind == "from" else anchor.day - LONGEST_PROGRAMME
    if birth_year is not None and not may_be_under_18(birth_year, start.year):
        return (), []
    if _YES.match(cell.key):
        return (), []
    hold = Hold("under 18 without consent", None, None, cell.span if not cell.empty else birth_cell.span)
    if unreadable:
        return (hold,), []  # the birth year has its own finding
    written = "there is no consent of a guardian" if cell.empty else f"{shown(cell.text)} is not a consent"
    finding = fault(
        cell,
        "no-consent",
        f"born in {birth_year}, this runner may be under 18 in {start.year}, and {written}",
        "Nothing is fitted or sent for a runner under 18 without it.",
        'Write "yes, NAME on 2026-01-02" in `consent`, or "18 already".',
        level="advice" if cell.empty else "error",
    )
    return (hold,), [finding]
