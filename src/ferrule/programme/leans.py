"""Sessions and cycles that lean on others in words, which nothing acts on: `same as session B but 5 rounds`."""

from __future__ import annotations

import re

from ferrule.programme.drafts import CycleDraft, SessionDraft
from ferrule.programme.lines import Said
from ferrule.programme.report import Report, short

_AS = re.compile(
    r"(?:same again|as before|repeat(?: of)? (?:it|that|all)|(?P<lead>(?:the )?same (?:as )?|(?:just )?as |like |repeat )(?:in |for )?(?:the )?(?P<what>session|day|workout|cycle|phase|weeks?|block|last|above|before)"
    r"\s*(?P<key>[A-Za-z]?\d{1,2}[A-Za-z]?\b|[A-Z]\b)?)",
    re.IGNORECASE,
)


def tell_leans(draft: SessionDraft, key: str, report: Report) -> None:
    """A session that holds nothing. Finding: session-empty, an error where its words say it is as another one."""
    head = draft.head
    if draft.blocks or head.more.get("same_as") or head.more.get("choose"):
        return
    found = _leaning(draft.said)
    if found is None:
        return
    words, match = found
    other = match["key"] if (match["what"] or "").lower() in ("session", "day", "workout") and match["key"] else key
    report.add(
        "session-empty", "error", draft.span.line, draft.span.column, draft.span.end_column,
        f"Session {key} holds no exercise; `{short(words)}` is a note, and takes nothing over.",
        "A runner is given an empty session.",
        f"Write `### Session {key}, as session {other}{_where(words)}` where it is the same; where something changes, write its blocks again.",
    )  # fmt: skip


def tell_empty_cycle(draft: CycleDraft, key: str, report: Report) -> None:
    """A cycle without sessions whose words say it is as another one. Finding: cycle-empty."""
    found = None if draft.sessions or draft.implied else _leaning(draft.said)
    if found is None or "table-outside-block" in report.codes_since(0):
        return
    name = key[:1].upper() + key[1:] if key.startswith("week") else f"Cycle {key}"
    report.add(
        "cycle-empty", "error", draft.span.line, draft.span.column, draft.span.end_column,
        f"{name} has no session; `{short(found[0])}` is a note, and takes nothing over.",
        "In its weeks runners are given nothing.",
        f"Write `### Session 1, as session 1{_where(found[0])}` for each session that is the same, and write those that change again.",
    )  # fmt: skip


def _where(words: str) -> str:
    found = re.search(r"\b(?:(?:cycle|phase) (\w{1,3})|(weeks? \d+(?: ?- ?\d+)?))\b", words, re.IGNORECASE)
    return " of cycle 1" if found is None else f" of cycle {found[1]}" if found[1] else f" of {found[2].lower()}"


def _leaning(said: Said) -> tuple[str, re.Match[str]] | None:
    for note in said.notes:
        found = _AS.match(note.strip("*_ "))
        if found:
            return note, found
    return None
