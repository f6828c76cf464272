"""Notes to the fitter that it can act on, and home tests."""

from __future__ import annotations

import re

from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.squad import FieldTest, TestKind, Wish
from ferrule.model.words import PATTERNS, Pattern, Side
from ferrule.squad.cell import NUMBER, Cell, entries, fault, number_of, shown

_IMPACT = frozenset(
    {
        *("hop", "hops", "hopping", "jump", "jumps", "jumping", "landings", "bounding", "impact", "impact work"),
        *("hops and jumps", "jumps and hops", "hops or jumps", "jumps or hops"),
    }
)
_KNEELING = frozenset({"kneeling", "kneel", "kneeling work", "work on the knees"})
_FLOOR = frozenset({"floor", "the floor", "floor work", "lying", "lying down", "floor exercises", "on the floor"})
_ACTS_ON = '"no hops", "no kneeling", "nothing on the floor", "no lunge", or "no" with the name of an exercise'

TEST_WORDS: dict[TestKind, tuple[str, ...]] = {
    "heel raises": ("heel raise", "calf raise", "one-leg heel raise", "single-leg heel raise"),
    "side plank": ("side planks",),
    "front plank": ("plank", "front planks"),
    "press-ups": ("press-up", "push-up", "press up", "push up"),
    "chair rises": ("chair rise", "chair stand", "sit to stand", "sit-to-stand"),
    "bridges one leg": ("bridge one leg", "one-leg bridge", "single-leg bridge", "one leg bridge"),
}
"""What may be written for each home test."""
_TESTS: dict[str, TestKind] = {
    form: kind for kind, words in TEST_WORDS.items() for word in (kind, *words) for form in (word, word + "s")
}
_HOLDS = ("side plank", "front plank")
MOST_REPS, MOST_SECONDS = 300, 900


def read_wishes(cell: Cell, library: Library) -> tuple[tuple[Wish, ...], str, list[Finding]]:
    """(what the fit acts on, the rest as written, findings). Notes are parted by semicolons, new lines or `, no ...`."""
    wishes: list[Wish] = []
    kept: list[str] = []
    parts = [p.strip(" .,") for p in re.split(r"[;\n]|,(?= ?(?:no|nothing)\b)|\.(?=\s|$)", cell.plain)]
    for part in filter(None, parts):
        made = _wish(part, library)
        wishes += made
        if not made and part.lower() not in ("-", "none"):
            kept.append(part)
    findings = []
    if kept:
        findings.append(
            fault(
                cell,
                "note-kept",
                f"Ferrule will not act on {shown('; '.join(kept), 120)}",
                "It is kept as a note for the coach.",
                f"What is acted on: {_ACTS_ON}.",
                level="note",
            )
        )
    return tuple(dict.fromkeys(wishes)), "; ".join(kept), findings


def _wish(part: str, library: Library) -> list[Wish]:
    """The wishes one note holds; none when it is not of the closed list."""
    found = re.fullmatch(r"(?:no|nothing|not|avoid|without)(?: any)? (.+)", part, re.IGNORECASE)
    if not found:
        return []
    thing = " ".join(found[1].lower().split())
    if thing in _IMPACT:
        return [Wish("no impact", part)]
    if thing in _KNEELING:
        return [Wish("no kneeling", part)]
    if thing in _FLOOR:
        return [Wish("no floor", part)]
    if pattern := _pattern(thing):
        return [Wish("no pattern", part, pattern=pattern)]
    if (variant := library.find(found[1])) is not None:
        return [Wish("no variant", part, variant_id=variant.id)]
    single = re.sub(r"s$", "", found[1])
    family = next(
        (f for f in library.families.values() if single.lower() in (f.name.lower(), f.id.replace("-", " "))), None
    )
    if family is None and (variant := library.find(single)) is not None:
        family = library.families.get(variant.family)
    return [] if family is None else [Wish("no variant", part, variant_id=v) for v in family.variant_ids]


def _pattern(thing: str) -> Pattern | None:
    for pattern in PATTERNS:
        if thing in (pattern, pattern + "s", pattern + "es"):
            return pattern
    return None


def read_tests(cell: Cell) -> tuple[tuple[FieldTest, ...], list[Finding]]:
    """Home tests: `heel raises 22; side plank 45 s; heel raises left 20, right 24`. Of two sides the weaker is kept."""
    if cell.empty:
        return (), []
    tests: dict[TestKind, FieldTest] = {}
    findings: list[Finding] = []
    for part in entries(cell, commas=False):
        made = _test(part.lower())
        if isinstance(made, FieldTest) and made.kind not in tests:
            tests[made.kind] = made
            continue
        why = made if isinstance(made, str) else f"{made.kind} is told twice; the first is kept"
        findings.append(
            fault(
                cell,
                "home-test",
                f"{shown(part)} cannot be used as a home test: {why}",
                "The other tests are kept.",
                f'Write "heel raises 22; side plank 45 s"; tests are {", ".join(TEST_WORDS)}.',
            )
        )
    return tuple(tests.values()), findings


def _test(part: str) -> FieldTest | str:
    """One test, or why it is none."""
    value = rf"(?:(\d+):(\d\d)|({NUMBER}) ?(s|sec|seconds|min|reps|x)?)"
    sides = re.fullmatch(rf"(.+?)[ :]+left {value},? (?:and )?right {value}", part)
    one = re.fullmatch(rf"(.+?)[ :]+(?:(left|right) )?{value}(?:,? (left|right))?", part)
    side: Side = "both"
    if sides:
        name = sides[1]
        left, right = _amount(sides.groups()[1:5]), _amount(sides.groups()[5:9])
        amount, side = min(left, right), "both" if left == right else "left" if left < right else "right"
    elif one:
        name, amount = one[1], _amount(one.groups()[2:6])
        told = one[2] or one[7]
        side = "left" if told == "left" else "right" if told == "right" else "both"
    else:
        return "a name and a number are needed"
    kind = _TESTS.get(name.strip())
    if kind is None:
        return f"no test is called {shown(name, 30)}"
    most = MOST_SECONDS if kind in _HOLDS else MOST_REPS
    unit = "seconds" if kind in _HOLDS else "repetitions"
    return FieldTest(kind, amount, side) if 0 <= amount <= most else f"{unit} go up to {most}"


def _amount(groups: tuple[str | None, ...]) -> float:
    minutes, seconds, value, unit = groups
    if value is None:
        return 60 * int(minutes or 0) + int(seconds or 0)
    return number_of(value) * (60 if unit == "min" else 1)
