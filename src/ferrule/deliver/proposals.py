"""Next week's proposals for the coach: who waits for an answer first, then each runner's lines with their reasons."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Sequence
from datetime import date

from ferrule.deliver.document import Block, Box, Document, Item, Items, Para, Section, Table
from ferrule.model.fitted import Away, FittedWeek, Held, Impossible
from ferrule.model.red_flags import RED_FLAG_HEAD, RED_FLAG_TAIL
from ferrule.next.propose import GOES_ON, Proposal, Proposals
from ferrule.next.ruling import ORDER

ASK_WORDS = {
    "did and did not say": "did it and did not say how",
    "did not do": "did not do it",
    "gone": "has gone silent",
    "never told": "has told nothing yet",
    "": "",
}


def proposals_document(proposals: Sequence[Proposals], monday: date, programme: str) -> Document:
    """Everything before signing: flags, questions, then each runner. For the coach only."""
    shared = _shared(proposals)
    sections = [_first(proposals), _goes_on(shared), *(_runner(p, shared) for p in proposals)]
    counts = Counter(line.move for p in proposals for line in p.lines)
    said = ", ".join(f"{counts[m]} {m}" for m in reversed(ORDER) if counts[m])
    lead = (
        f"{programme}. Proposed from what was told; nothing leaves until you sign.",
        f"{len(proposals)} runner{'' if len(proposals) == 1 else 's'}; lines: {said or 'none'}.",
    )
    return Document(
        f"Next week, from {monday.day} {monday:%B %Y}", lead, tuple(s for s in sections if s is not None),
        ("Sign what you agree with, or set a line otherwise with `ferrule next ... --set`. It says what was told and what "
         "follows by the house rules; it does not diagnose.",),
    )  # fmt: skip


def _first(proposals: Sequence[Proposals]) -> Section | None:
    """Red flags, then questions, by runner."""
    blocks: list[Block] = []
    flagged = [p for p in proposals if p.plan is not None and p.plan.flags]
    if flagged:
        points = tuple(f"{_who(p)}: {a}" for p in flagged for a in p.asks if a.startswith("Stop,"))
        blocks.append(
            Box(RED_FLAG_HEAD.removesuffix(" for any of these:").removesuffix(",") + ".", points, RED_FLAG_TAIL)
        )
    asks = [Item(_who(p), tuple(a for a in p.asks if not a.startswith("Stop,"))) for p in proposals]
    asks = [i for i in asks if i.texts]
    if asks:
        blocks.append(Items(tuple(asks)))
    silent = [Item(_who(p), (ASK_WORDS[p.silence] + ".",)) for p in proposals if p.silence not in ("", "never told")]
    if silent:
        blocks.append(Para("Silences:", "note"))
        blocks.append(Items(tuple(silent)))
    return Section("A word first", tuple(blocks)) if blocks else None


_Key = tuple[str, str, str, tuple[str, ...]]
"""A line of the text and why it is as it is."""


def _key(line: Proposal) -> _Key:
    return line.session_key, line.item_key, line.written, line.reasons


def _shared(proposals: Sequence[Proposals]) -> dict[_Key, list[str]]:
    """Lines that only go on with the text, the same for more than one runner, and whose they are."""
    found: dict[_Key, list[str]] = {}
    for p in proposals:
        for line in p.lines:
            if line.move == "as written" and not line.decided_by and line.reasons and all(map(_goes, line.reasons)):
                found.setdefault(_key(line), []).append(p.runner_id)
    return {key: who for key, who in found.items() if len(who) > 1}


def _goes(reason: str) -> bool:
    return reason.startswith(GOES_ON)


def _goes_on(shared: dict[_Key, list[str]]) -> Section | None:
    """Said once, before the runners: what would else be a row with nearly every one of them."""
    if not shared:
        return None
    items = tuple(
        Item(
            f"{session} {item} {written}",
            (f"{'; '.join(r.removeprefix(GOES_ON) for r in why)}. For {', '.join(who)}.",),
        )
        for (session, item, written, why), who in sorted(shared.items())
    )
    return Section("The text goes on", (Items(items),))


def _who(p: Proposals) -> str:
    return f"{p.runner_id} {p.runner_name}"


def _runner(p: Proposals, shared: Container[_Key]) -> Section:
    blocks: list[Block] = []
    if p.notes:
        blocks.append(Items(tuple(Item("", (n + ".",)) for n in p.notes)))
    if isinstance(p.outcome, Held | Away):
        blocks.append(Para(f"No week: {p.outcome.reason}.", "strong"))
    elif isinstance(p.outcome, Impossible):
        blocks.append(Para(f"No week: {'; '.join(f.what for f in p.outcome.reasons) or 'none exists'}", "strong"))
    shown = [line for line in p.lines if worth_a_row(line) and _key(line) not in shared]
    if shown:
        rows = tuple(
            (f"{x.session_key} {x.item_key} {x.written}", x.move, x.was, x.now, "; ".join(x.reasons)) for x in shown
        )
        blocks.append(
            Table("Lines with a move or a reason", ("Line", "Proposed", "Last week", "Next week", "Why"), rows)
        )
    plain = len(p.lines) - len(shown)
    if plain and isinstance(p.outcome, FittedWeek):
        blocks.append(
            Para(f"{'All' if not shown else 'The other'} {plain} line{'s' if plain > 1 else ''} as written.", "note")
        )
    return Section(_who(p), tuple(blocks) or (Para("Nothing to say.", "note"),))


def worth_a_row(line: Proposal) -> bool:
    """Is there anything to read about the line?"""
    return line.move != "as written" or bool(line.reasons) or bool(line.decided_by)


def summary_lines(proposals: Iterable[Proposals]) -> tuple[str, ...]:
    """One line a runner: how many lines of each move, and what waits."""
    out = []
    for p in proposals:
        counts = Counter(line.move for line in p.lines)
        moves = ", ".join(f"{counts[m]} {m}" for m in ORDER if counts[m]) or _none(p)
        waits = f"; {len(p.asks)} to answer" if p.asks else ""
        silence = f"; {ASK_WORDS[p.silence]}" if p.silence else ""
        out.append(f"{p.runner_id:<5} {p.runner_name:<18} {moves}{waits}{silence}")
    return tuple(out)


def _none(p: Proposals) -> str:
    if isinstance(p.outcome, Held | Away):
        return f"no week: {p.outcome.reason}"
    return "no week" if isinstance(p.outcome, Impossible) else "nothing but the warm-up"
