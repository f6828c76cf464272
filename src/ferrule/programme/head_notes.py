"""What heads say that the fit does not act on, told at the head."""

from __future__ import annotations

from ferrule.programme.head import Head
from ferrule.programme.head_text import block_words, cycle_words, session_words
from ferrule.programme.markdown import Line
from ferrule.programme.report import Report

_BLOCK = ("max_sets", "exercises", "reps_in_all", "intensity")
_SESSION = ("level", "choose", "contacts", "contacts_open", "supervised")
_CYCLE = ("start",)


def tell_unfitted(head: Head, line: Line, report: Report) -> None:
    """Finding not-fitted, a note, where a head holds forms that are read and printed only."""
    names = {"block": _BLOCK, "session": _SESSION}.get(head.kind, _CYCLE)
    more = {n: v for n, v in head.more.items() if n in names}
    if not more:
        return
    if head.kind == "block":
        words = block_words(head.block, more)
    else:
        words = session_words(more) if head.kind == "session" else cycle_words(more)
    if not words:
        return
    forms = ", ".join(f"`{w}`" for w in words)
    if "choose" in more or "level" in more:
        why, fix = "The fit lays the first one written, and names the others.", "Put first what suits most."
    else:
        why, fix = (
            "The fit leaves these as written for every runner.",
            "Nothing has to be done; check that it suits everyone.",
        )
    report.add(
        "not-fitted", "note", line.number, line.column, line.column + len(line.text), f"{forms}: read and printed, not fitted.", why, fix,
    )  # fmt: skip
