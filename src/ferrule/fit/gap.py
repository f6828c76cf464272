"""What is not proven of an answer, in words: a limit gives the best found and says how far that is proven, never silence."""

from __future__ import annotations

from ferrule.fit.problem import LEVELS, Answer
from ferrule.model.finding import Finding
from ferrule.model.squad import Runner


def gap_words(answer: Answer) -> str:
    """What is not proven of an answer, in words; empty when everything is.

    The first level that is above its floor is told with both numbers; nothing is proven of those after it.
    """
    if answer.proven:
        return ""
    open_levels = [k for k, v in enumerate(answer.levels) if k >= len(answer.floors) or v > answer.floors[k]]
    if not open_levels:
        return "the best found within the limit; that nothing is better is not proven"
    k = open_levels[0]
    name, unit = LEVELS[k]
    floor = answer.floors[k] if k < len(answer.floors) else 0
    held = "" if k == 0 else f", {' and '.join(n for n, _ in LEVELS[:k])} as low as can be"
    after = [n for n, _ in LEVELS[k + 1 :]]
    more = f"; nothing is proven of {', '.join(after)}" if after else ""
    told = f"{name} {answer.levels[k]}{' ' + unit if unit else ''}, proven only that it is at least {floor}"
    return f"the best found within the limit{held}: {told}{more}"


def stopped_early(runner: Runner, answer: Answer) -> tuple[Finding, ...]:
    """The finding for a runner whose week is not proven the best; none when it is."""
    if answer.proven:
        return ()
    return (
        Finding(
            code="not-proven",
            level="advice",
            what=f"{runner.name} ({runner.id}): {gap_words(answer)}",
            why="The solver stopped at its limit. The week keeps every rule; another might be nearer to the text.",
            fix="Read this week with more care than the others, or take something out of a very long week.",
            span=runner.span,
        ),
    )
