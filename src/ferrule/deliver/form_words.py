"""Forms that the fit leaves as the coach wrote them, in words a runner follows. What is not known here stays as written."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from ferrule.deliver.plain import clean

PICKS: Final = "or, as you like: "
"""How a line begins that offers other exercises: it is no part of the dose."""

_PLAIN: Final = {
    "to failure": "go on until no further good one is possible",
    "max sets": "as many sets as you can",
    "sore side only": "the sore side only",
    "last set max": "in the last set as many good ones as you can",
    "last rep hard": "the last rep should be hard",
    "on the minute": "begin a set every minute",
    "technique weight": "a light weight, for technique",
    "other leg lifts": "the other leg does the lifting",
    "helper on the last rep": "somebody helps on the last rep",
    "walk back": "walk back to the start each time",
    "jog back": "jog back to the start each time",
    "clinic only": "only in the clinic",
}

_SHAPES: Final = (
    (r"rest-pause (.+) x 1", r"rest \1, then as many more as you can, once"),
    (r"rest-pause (.+) x (\d+)", r"rest \1, then as many more as you can, \2 times"),
    (r"rest-pause (.+)", r"rest \1, then as many more as you can"),
    (r"part rest (.+)", r"rest \1 between the parts"),
    (r"drop (\d+)", r"then \1 more with less load"),
    (r"(.+) lead-in", r"\1 first that do not count"),
    (r"RPE (.+)", r"effort \1 of 10"),
    (r"load on (.+) days a week", r"with the load on \1 days of the week, without it on the others"),
)


def form_words(form: str) -> str:
    """`rest-pause 20 s x 3` as `rest 20 s, then as many more as you can, 3 times`; an unknown form as it is."""
    said = clean(form)
    if said in _PLAIN:
        return _PLAIN[said]
    if re.fullmatch(r"\d+(\+\d+)+", said):
        return "in parts of " + " + ".join(said.split("+"))
    if found := re.fullmatch(r"loads ([\d., ]+) (\S+)", said):
        return ", then ".join(f"{n} {found[2]}" for n in found[1].split(", "))
    for shape, words in _SHAPES:
        if re.fullmatch(shape, said):
            return re.sub(shape, words, said)
    return said


def forms_words(extra: Iterable[str]) -> str:
    """All forms of a line as one phrase, each said once; the offers of other exercises are not among them."""
    return "; ".join(dict.fromkeys(w for e in extra if not e.startswith(PICKS) and (w := form_words(e))))


def offers(extra: Iterable[str]) -> tuple[str, ...]:
    """The lines that offer other exercises."""
    return tuple(e for e in extra if e.startswith(PICKS))
