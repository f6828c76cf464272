"""Which weeks each cycle covers, and whether all of the programme is covered once."""

from __future__ import annotations

from ferrule.programme.drafts import CycleDraft
from ferrule.programme.reading import Reading


def with_weeks(reading: Reading) -> list[CycleDraft]:
    """Cycles with their weeks; a cycle that is only a title over weeks of its own gives them its aim and is gone."""
    report, drafts = reading.report, reading.cycles
    kept: list[CycleDraft] = []
    for place, draft in enumerate(drafts):
        following = drafts[place + 1] if place + 1 < len(drafts) else None
        if (
            not draft.sessions
            and draft.head.kind == "cycle"
            and draft.head.weeks
            and following
            and following.head.kind == "week"
        ):
            inside = [d for d in drafts[place + 1 :] if d.head.kind == "week" and d.head.weeks]
            for d in inside:
                if d.head.weeks and draft.head.weeks[0] <= d.head.weeks[0] <= draft.head.weeks[1]:
                    d.aim = d.aim or draft.aim
                    d.said.notes[:0] = draft.said.notes
                    d.said.coach[:0] = draft.said.coach
            continue
        kept.append(draft)
    done = 0
    for place, draft in enumerate(kept):
        span = draft.head.more.get("sessions_span")
        if span is not None:
            rate = int(reading.front.sessions.low) if reading.front.sessions else 1
            draft.head.weeks = ((max(1, span[0]) - 1) // rate + 1, (max(span) - 1) // rate + 1)
            if draft.head.weeks[0] <= done < draft.head.weeks[1]:
                draft.head.weeks = (done + 1, draft.head.weeks[1])
            done = max(done, draft.head.weeks[1])
            continue
        if draft.head.more.get("open_end") and draft.head.weeks is not None and reading.front.weeks:
            first, last = draft.head.weeks
            draft.head.weeks = (first, max(last, reading.front.weeks) if first == last else last)
        if draft.head.weeks is None:
            before = kept[place - 1].head.weeks if place else None
            first = before[1] + 1 if before else 1
            last = max(first, reading.front.weeks or first) if place == len(kept) - 1 else first
            draft.head.weeks = (first, last)
            if not draft.implied and (len(kept) > 1 or reading.front.weeks is None):
                report.add(
                    "cycle-without-weeks", "error", draft.span.line, draft.span.column, draft.span.end_column,
                    "The cycle does not say which weeks it covers.", f"It was read as weeks {first}-{last}.",
                    "Write for example `## Cycle 1, weeks 1-3: name`.",
                )  # fmt: skip
        low, high = draft.head.weeks
        if low > high or low < 1:
            report.add(
                "cycle-weeks-wrong", "error", draft.span.line, draft.span.column, draft.span.end_column,
                f"Weeks {low}-{high} are no span of weeks.", "Weeks are counted from 1, the first one first.",
                f"Write `weeks {max(1, min(low, high))}-{max(1, low, high)}`.",
            )  # fmt: skip
            draft.head.weeks = (max(1, min(low, high)), max(1, low, high))
    return kept


def check_weeks(reading: Reading, cycles: list[CycleDraft], weeks: int) -> None:
    """Tells weeks that no cycle covers, that two cover without saying so, or that lie beyond the end."""
    report = reading.report
    ordered = sorted(((d.head.weeks, d) for d in cycles if d.head.weeks), key=lambda pair: pair[0])
    reached, is_open = 0, False
    for (low, high), draft in ordered:
        span = draft.span
        if low <= reached and draft.head.more.get("overlaps"):
            report.add(
                "cycles-overlap-on-purpose", "note", span.line, span.column, span.end_column,
                f"Week {low} is in two cycles on purpose.", "The first of them is laid for that week; the fit does not decide who changes over.",
                "Move a runner to the later cycle by the place in the programme.",
            )  # fmt: skip
        elif low <= reached and not is_open:
            report.add(
                "cycles-overlap", "error", span.line, span.column, span.end_column,
                f"Week {low} is in two cycles.", "The first of them is used for that week.", f"Begin this cycle with week {reached + 1}, or write `overlapping` in its head.",
            )  # fmt: skip
        elif low > reached + 1 and not is_open:
            gap = f"week {reached + 1}" if low == reached + 2 else f"weeks {reached + 1}-{low - 1}"
            report.add(
                "weeks-left-out", "error", span.line, span.column, span.end_column,
                f"No cycle covers {gap}.", "A runner in that place of the programme has nothing to do.",
                "Let the cycles follow one another, or write a cycle for it.",
            )  # fmt: skip
        if high > weeks and not (draft.head.more.get("open_end") and low == weeks + 1):
            report.add(
                "weeks-beyond-end", "error", span.line, span.column, span.end_column,
                f"The cycle ends with week {high}, the programme has {weeks} weeks.", "Weeks beyond the end are never done.",
                "Change `weeks:` in the front matter, or the weeks of the cycle.",
            )  # fmt: skip
        reached = max(reached, draft.head.more.get("repeat_to") or high)
        is_open = is_open or bool(draft.head.more.get("open_end"))
    if is_open:
        return
    if ordered and reached < weeks:
        span = ordered[-1][1].span
        gap = f"week {weeks}" if reached + 1 == weeks else f"weeks {reached + 1}-{weeks}"
        report.add(
            "weeks-left-out", "error", span.line, span.column, span.end_column, f"No cycle covers {gap}.",
            "A runner in that place of the programme has nothing to do.", "Lengthen the last cycle, or change `weeks:` in the front matter.",
        )  # fmt: skip
