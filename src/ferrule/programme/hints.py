"""What a stretch that was not understood was most likely meant to say, and how it is written here."""

from __future__ import annotations

import re

_BAND = "Say how thick the band is: `thin band`, `medium band` or `thick band`."
_EACH = "Write `8/side` when each side does all of them, `10 alternating` for turns, or `left 10, right 8`."
_GROWTH = "Write how much and how often: `add 2.5 kg a week`, or `add 1 rep a week`."
_FAILURE = "Write `to failure` when the last one fails, or what is left: `1-2 RIR`."
_HEAD = "What exercises share is said in the head of their block: `Pair A, 3 rounds, rest 90 s`."

_FIELDS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), fix)
    for pattern, fix in (
        (r"(?:one|1|each) (?:side|leg|arm) (?:at a time|then)|l(?:eft)? then r|then (?:the )?other|swap|switch|change (?:sides|legs)", _EACH),
        (r"/ ?\d+$", "Write `8/side` for the same number on each side, `sets 12, 10, 8` for a number for each set."),
        (r"(?:\w+ )?(?:mini|loop)[ -]?bands?|loops?$|bands?$", _BAND),
        (r"mb$", "Write `with medicine ball`, or `thin band`, `medium band` or `thick band` where a band is meant."),
        (r"steps?$|strides?$|paces?$", "Count them as repetitions: `20 total` for both feet together; or write the distance: `20 m`."),
        (r"(?:deep |slow )?breaths?", "Write the time they take: `30 s`, and `note: five slow breaths`."),
        (r"(?:at|in) (?:the )?(?:top|bottom|middle)", "Say where in a line of its own, `note: pause at the bottom`, or write a tempo: `tempo 3-2-1` pauses below."),
        (r"pauses?d?\b|with (?:a )?pause", "Write how long: `pause 2 s`."),
        (r"progress|increase|increment|build|go up|overload|[↑⬆▲+]", _GROWTH),
        (r".*\b(?:fatigue|exhaustion|burn|tired|gas)\b", _FAILURE),
        (r"(?:super|tri|giant)[ -]?sets?|circuit|rounds?$|emom", _HEAD),
        (r"-? ?ish\b|or so|approx|roughly|circa|ca\b", "Write a range: `7-9`."),
        (r"bod(?:y|ies)|no load|unweighted", "Write `no weight`, or `20 % body mass` for an added load."),
        (r"heav|challenging|moderate|as needed|whatever", "Write how hard: `2 RIR` or `RPE 8`; or a load: `12 kg`."),
        (r"(?:at )?(?:same|as) (?:as )?(?:last|before|above|week|previous)", "Write the number itself; what changes from week to week stands in the by-week table."),
        (r"deload|easy week|recovery week", "Write the easier week in the by-week table, or as `## Week 4: Deload`."),
        (r"x ?\d+ ?(?:sets|rounds)?$", "Write the number of sets first: `3 x 8`."),
        (r"x\b", "Write the number of sets first: `3 x 8`."),
        (r"(?:two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|one)\b", "Write numbers in digits."),
        (r"[^\w\s]+$", "Leave the sign out."),
    )
)  # fmt: skip
_OTHERWISE = "Write it as one of the fields of docs/notation.md, or put it on a line of its own as `note:`."

_HEADS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), fix)
    for pattern, fix in (
        (r"([a-z])1 ?[/&+,] ?\1?2", "Write the letter alone: `Pair A, 3 rounds`; its exercises are A1 and A2 by their place."),
        (r"(?P<a>\d{2,3}) ?[/:] ?(?P<b>\d{2,3})\b", "Work and rest at each station are written `{a} s on, {b} s off`."),
        (r"(?P<a>\d{1,3}(?:-\d{1,3})?) ?(?:s|sec|secs|seconds)$", "Say what the time is: `rest {a} s`, `between {a} s`, or `{a} s on`."),
        (r"rest\b", "Leave the rest out when it is not stated, or write `rest 60-90 s`."),
        (r"(?P<a>\d{1,2})$", "Say of what: `{a} sets` in a straight block, `{a} rounds` in the others."),
        (r"(?:\d+|super|tri|giant)[ -]?sets?$", "Write `3 rounds`."),
        (r"rpe|rir|@|\d+ ?(?:rpe|rir)|\d+ ?reps?$|\d+ ?kg", "Write it in the line of each exercise; for one that changes by the week, `all: RIR` in the table."),
    )
)  # fmt: skip
_NAME = re.compile(r"[^,:]*[A-Za-z]{3}[^,:]*\d")


def fix_of_field(text: str) -> str:
    """How to write what an unread stretch of a line most likely means."""
    said = " ".join(text.split())
    return next((fix for pattern, fix in _FIELDS if pattern.match(said)), _OTHERWISE)


def fix_of_head(text: str, kind: str, *, name: bool) -> str:
    """The same for the head of a part of `kind`; empty when nothing better than an example is known.

    name   does the stretch stand where the name of a block would?
    """
    said = " ".join(text.split())
    if kind == "block":
        for pattern, fix in _HEADS:
            found = pattern.match(said)
            if found:
                return fix.format(**{k: v for k, v in found.groupdict().items() if v})
        if name and _NAME.match(said):
            words = re.split(r"\d", said)[0].strip(" ,;-")
            return f"The name of a block holds no numbers: write `{words}`, and the numbers in its lines."
    often = re.match(r"(\d{1,2}(?:-\d{1,2})?) ?(?:per|x|times)$", said, re.IGNORECASE)
    if kind in ("session", "cycle") and often:
        return f"Write how often: `{often[1]} a week`."
    return ""
