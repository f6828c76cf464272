"""Names of exercises and slots for the start of an item."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from ferrule.library.names import nearest
from ferrule.model.exercise import Library, Variant
from ferrule.model.words import PATTERNS
from ferrule.programme.cursor import Cursor, colon_of
from ferrule.programme.naming import NAME_LIMIT, names_of
from ferrule.programme.offer import Choice, Kind
from ferrule.programme.scan import plain

NEAREST = 5
"""How many of the nearest names are offered when no exercise begins as written."""
_LEGS = ("one leg", "two legs")


def name_choices(cursor: Cursor, library: Library) -> Iterator[Choice]:
    """Exercises (those of this programme first, then by beginning, then the nearest), slots, `or` and `runner picks:`."""
    line, start, at = cursor.line, cursor.start, cursor.at
    colon = colon_of(plain(line), start)
    typed = " ".join(plain(line[start:at]).lower().split())[:NAME_LIMIT]
    end, tail = _end(line, start, at, colon, library)
    lead = "or " if _needs_or(cursor) else ""

    def choice(name: str, kind: Kind, detail: str) -> Choice:
        return Choice(lead + name + tail, start + 1, end + 1, kind, detail)

    if not typed.startswith("any "):
        for variant, name, why in _variants(cursor, typed, library):
            if name != line[start:end].strip() or tail:
                yield choice(name, "variant", why or about(variant))
    for text in _slots(typed):
        yield choice(text, "slot", "leaves the exercise open; the fit chooses one each runner can do")
    yield from _leads(cursor, typed)


def about(variant: Variant) -> str:
    """One line on an exercise: `Step family, each side in turn; needs a step; load in hands, at chest`."""
    counted = {"reps": "counted in repetitions", "hold": "held, in seconds", "distance": "counted in metres", "contacts": "counted in foot contacts"}  # fmt: skip
    parts = [variant.pattern, counted[variant.dose_kind]]
    if variant.sided or variant.one_leg:
        parts.append("each side")
    if variant.kit:
        parts.append("needs " + ", ".join(variant.kit))
    if variant.main is None:
        parts.append("not dosed")
    return "; ".join(parts)


def _variants(cursor: Cursor, typed: str, library: Library) -> Iterator[tuple[Variant, str, str]]:
    names = names_of(library)
    seen: set[str] = set()
    used = [names.find(i.name) for i in cursor.items if i.index != cursor.index]
    for name, variant_id in Counter(u for u in used if u is not None):
        if _begins(name, typed) and variant_id not in seen:
            seen.add(variant_id)
            yield library.variants[variant_id], name, f"used in this programme; {about(library.variants[variant_id])}"
    ordered = [library.variants[i] for f in library.families.values() for i in f.variant_ids if i in library.variants]
    ordered = ordered or list(library.variants.values())
    for variant in ordered:
        if variant.id not in seen and _begins(variant.name, typed):
            seen.add(variant.id)
            yield variant, variant.name, ""
    if not typed:
        return
    for variant in ordered:
        alias = next((a for a in variant.aliases if _begins(a, typed)), None)
        if variant.id not in seen and alias is not None:
            seen.add(variant.id)
            yield variant, variant.name, f"also called {alias}; {about(variant)}"
    if not seen and len(typed) > 2:
        for variant in nearest(library, typed, NEAREST):
            if variant.id not in seen:
                seen.add(variant.id)
                yield variant, variant.name, f"near to what is written; {about(variant)}"


def _begins(name: str, typed: str) -> bool:
    """Does the name, or a word of it, begin as written?"""
    low = name.lower()
    return low.startswith(typed) or f" {typed}" in low or f"-{typed}" in low


def _slots(typed: str) -> Iterator[str]:
    for pattern in PATTERNS:
        text = f"any {pattern}"
        if text.startswith(typed):
            yield text
        if typed.startswith("any"):
            yield from (f"{text}, {legs}" for legs in _LEGS if f"{text}, {legs}".startswith(typed))


def _leads(cursor: Cursor, typed: str) -> Iterator[Choice]:
    """`or` below an item, and `runner picks:`, where the item does not say them yet."""
    said = plain(cursor.line[: cursor.start]).lower()
    start, at = cursor.start + 1, cursor.at + 1
    if "or" in said.replace("runner", "").split():
        return
    above = [i for i in cursor.items if i.index < cursor.index]
    if above and "or ".startswith(typed):
        yield Choice(
            "or ",
            start,
            at,
            "alternative",
            "what stands in for the item above, in your order; set it in by two spaces",
            True,
        )
    if "picks" not in said and "runner picks: ".startswith(typed):
        yield Choice(
            "runner picks: ", start, at, "alternative", "the runner chooses among this item and its alternatives", True
        )


def _needs_or(cursor: Cursor) -> bool:
    """Is the line set in below an item, without the `or` (or the choice of the runner) that makes it an alternative?"""
    line = cursor.line
    above = next((i for i in reversed(cursor.items) if i.index < cursor.index), None)
    if above is None or len(line) - len(line.lstrip()) < 2 or "or" in plain(line[: cursor.start]).lower().split():
        return False
    top = next((n for n in range(above.index, -1, -1) if cursor.lines[n][:1].strip()), above.index)
    return "runner picks" not in cursor.lines[top].lower()


def _end(line: str, start: int, at: int, colon: int | None, library: Library) -> tuple[int, str]:
    """Where the name that is replaced ends, and what has to follow the new one."""
    if colon is not None:
        return colon, ""
    found = names_of(library).longest(plain(line[start:]))
    end = max(at, start + found[2] if found else at)
    while end < len(line) and line[end] in " \t":
        end += 1
    return end, ": "
