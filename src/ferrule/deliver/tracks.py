"""What is ticked on the page, and what its clock counts: dots for rounds or sets, steps of work and rest."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.deliver import amounts
from ferrule.model.fitted import FittedBlock
from ferrule.model.quantity import Range, number


@dataclass(frozen=True, slots=True)
class Track:
    """Dots to tick and the rest after each. key: stable inside the page; rests in s, 0 when none is stated.

    ticks   what stands at each dot;  of: how many are done, in words
    time    which time of the session it belongs to, from 1; 0 when the session is done once
    """

    key: str
    ticks: tuple[str, ...]
    legend: str
    button: str
    of: str
    rest_low: str
    rest_high: str
    time: int = 0


@dataclass(frozen=True, slots=True)
class Clock:
    """Steps of a clock the page can run.

    button   "Start the clock: 40 s work, 20 s rest"
    steps    `label=seconds` with a bar between: "Get ready=5|Work 1 of 3=40|Rest=20"
    """

    button: str
    steps: str


def tracks_of(key: str, times: tuple[str, ...], count: int | None, noun: str, rest: Range | None) -> tuple[Track, ...]:
    """The dots of one block or line: one row, or a row for each of `times` (their names).

    count   of rounds or sets; None when the runner counts none: one dot for all of it
    """
    ticks = ("Done",) if count is None else tuple(f"{noun} {n}" for n in range(1, count + 1))
    done = "All of it done" if count is None else f"{noun}s done"
    low, high = (rest.low, rest.high) if rest is not None else (0.0, 0.0)
    after = f", rest {amounts.seconds(rest)}" if rest is not None and low > 0 else ""
    return tuple(
        Track(
            key=f"{key}t{n}" if n else key,
            ticks=ticks,
            legend=done + (f", {name}" if name else ""),
            button=f"{noun} done{after}" if len(ticks) > 1 else "Done",
            of=f"0 of {len(ticks)} done",
            rest_low=number(low) or "0",
            rest_high=number(high) or "0",
            time=n,
        )
        for n, name in (enumerate(times, 1) if times else ((0, ""),))
    )


MOST_STEPS = 200
"""More than this is no clock to run through."""
READY = ("Get ready", 5.0)


def clock_of(block: FittedBlock) -> Clock | None:
    """The clock of a block with single times; None where it goes by rests alone, or where the runner chooses the time."""
    if block.on_s is not None:
        steps, button = _stations(block), "one round"
    elif block.every_s is not None:
        steps, button = _starts(block), f"every {amounts.seconds(block.every_s)}"
    elif block.minutes is not None:
        steps, button = [("Go on", 60.0 * block.minutes)], amounts.seconds(60.0 * block.minutes)
    else:
        return None
    if not 0 < len(steps) <= MOST_STEPS:
        return None
    return Clock(f"Start the clock: {button}", "|".join(f"{label}={number(s)}" for label, s in (READY, *steps)))


def _stations(block: FittedBlock) -> list[tuple[str, float]]:
    """One round of work and rest at each; the whole time where the block has one."""
    on, off = block.on_s, block.off_s or Range.of(0)
    chosen = block.exercises or Range.of(float(len(block.items)))
    if on is None or not (on.single and off.single and chosen.single) or on.low <= 0:
        return []
    count = int(chosen.low)
    if block.minutes is not None:
        count = int(60 * block.minutes // (on.low + off.low))
    steps = []
    for n in range(1, count + 1):
        steps.append((f"Work {n} of {count}", on.low))
        if off.low and (n < count or block.minutes is not None):
            steps.append(("Rest", off.low))
    return steps


def _starts(block: FittedBlock) -> list[tuple[str, float]]:
    every = block.every_s or 0
    count = 60 * block.minutes // every if block.minutes is not None and every > 0 else block.rounds
    noun = "Set" if block.kind == "straight" else "Round"
    return [(f"{noun} {n} of {count}", float(every)) for n in range(1, count + 1)] if every > 0 else []
