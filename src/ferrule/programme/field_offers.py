"""What may be written after the colon of an item: fields with a usual number, made of the closed lists of the notation.

A place, a band, a pattern or a free form that joins its list is offered without a change here. What the reader does not
know is never offered: every choice is read before it is shown (`complete`).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from ferrule.model.exercise import Library, Variant
from ferrule.model.programme import Slot
from ferrule.model.words import BANDS, PLACES, Place
from ferrule.programme.field_words import FREE_FORMS, KIT_WORDS
from ferrule.programme.fields import FieldReader
from ferrule.programme.naming import Names, read_slot
from ferrule.programme.text import GROUPS, PLACE_WORDS

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?(?:\s*-\s*\d+(?:[.,]\d+)?)?")
_DOSED = frozenset({"reps", "hold", "distance", "contacts"})


@dataclass(frozen=True, slots=True)
class Offer:
    """A field to write. groups: what of a dose it fills (names of `text.GROUPS`); begins: more has to be written."""

    text: str
    detail: str
    group: str
    begins: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """What a line's exercise takes: how it is counted, whether it has sides, where it may be loaded."""

    kinds: frozenset[str]
    sided: bool
    loading: tuple[Place, ...]

    @staticmethod
    def of(name: str, names: Names) -> Asked:
        """From the name as written; a slot takes what any of its exercises takes, an unknown name may take anything."""
        library = names.library
        found = names.find(name)
        if found is not None:
            return _asked([library.variants[found[1]]])
        slot = read_slot(name)
        some = [] if slot is None else _of(slot, library)
        return _asked(some) if some else Asked(_DOSED, True, PLACES)


def _of(slot: Slot, library: Library) -> list[Variant]:
    legs = {1: (True,), 2: (False,), None: (True, False)}[slot.legs]
    return [v for v in library.variants.values() if v.pattern == slot.pattern and v.one_leg in legs]


def _asked(variants: list[Variant]) -> Asked:
    places = [p for p in PLACES if any(p in v.loading for v in variants)]
    kinds = {v.dose_kind for v in variants} | {"contacts" for v in variants if v.contacts_per_rep}
    return Asked(frozenset(kinds), any(v.sided or v.one_leg for v in variants), tuple(places))


def field_offers(asked: Asked, fragment: str, *, sets: bool) -> list[Offer]:
    """Every field that suits, with the number of `fragment` in it where one is written.

    sets   may the line say its own sets (a straight block that states none)?
    """
    found = _NUMBER.search(fragment)
    made = _fields(asked, sets, "" if found is None else " ".join(found.group().split()))
    start = " ".join(fragment.lower().split())
    return [o for o in made if o.text.lower().startswith(start) and o.text.lower() != start]


def _fields(asked: Asked, sets: bool, number: str) -> list[Offer]:
    def n(usual: str) -> str:
        return number or usual

    reps, hold = "reps" in asked.kinds, "hold" in asked.kinds
    offers: list[Offer] = []
    if sets:
        if reps:
            each = "/side" if asked.sided else ""
            offers.append(Offer(f"{n('3')} x 8{each}", "sets and repetitions of this line", "sets amount"))
        offers.append(Offer(f"{n('3')} sets", "sets of this line", "sets"))
    if reps:
        if asked.sided:
            offers += [
                Offer(f"{n('8')}/side", "repetitions on each side, all of one side first", "amount"),
                Offer(f"{n('8-10')}/side", "a range on each side", "amount"),
                Offer(f"{n('10')} alternating", "repetitions in all, side by side in turn", "amount"),
                Offer(f"{n('20')} total", "repetitions of both sides together", "amount"),
                Offer("left 10, right 8", "sides written apart", "amount"),
            ]
        offers += [
            Offer(n("8"), "repetitions", "amount"),
            Offer(n("8-10"), "a range: with RIR the effort decides inside it", "amount"),
            Offer(f"at least {n('8')}", "repetitions, more where they are there", "amount"),
            Offer(f"up to {n('10')}", "repetitions at most", "amount"),
            Offer("max", "to failure", "amount"),
            Offer("sets 12, 10, 8", "a number for each set", "amount"),
        ]
    if hold:
        side = "/side" if asked.sided else ""
        offers += [
            Offer(f"{n('30')} s{side}", "a hold, seconds" + (" on each side" if side else ""), "amount"),
            Offer(f"{n('20-30')} s{side}", "a range of seconds", "amount"),
        ]
        offers += [Offer(f"{n('30')} s", "a hold, seconds", "amount")] if side else []
    if "distance" in asked.kinds:
        offers.append(Offer(f"{n('20')} m", "metres", "amount"))
    if "contacts" in asked.kinds:
        offers.append(Offer(f"{n('20')} contacts", "foot contacts in all", "amount"))
    offers.append(Offer(f"work {n('30')} s", "timed work, not a hold", "amount"))
    offers += _effort(asked, n)
    offers += _load(asked, n)
    if reps:
        offers += [
            Offer("tempo 2-0-1", "seconds down, pause, up", "tempo"),
            Offer("tempo 3-1-x", "seconds down and paused, up as fast as possible", "tempo"),
            Offer(f"pause {n('2')} s", "stillness inside each repetition", "pause"),
        ]
    offers.append(Offer(f"rest {n('60')} s", "after this line's set", "rest"))
    if asked.sided:
        offers.append(Offer(f"side rest {n('10')} s", "between the two sides", "side rest"))
    offers.append(Offer("optional", "may be left out when time is short", "optional"))
    if reps:
        offers.append(Offer(f"drop {n('8')}", "a drop set; read and printed, not fitted", "drop"))
    offers += [Offer(form, "read and printed, not fitted", "free") for form in FREE_FORMS]
    return offers + _special(asked)


def _special(asked: Asked) -> list[Offer]:
    """Forms out of the ordinary; the reader decides which of them it knows."""
    why = "read and printed, not fitted"
    offers = [Offer("from week 2", "the line is done from that week on", "weeks")]
    if "reps" in asked.kinds:
        offers += [
            Offer("3 s down", "seconds of lowering", "tempo"),
            Offer("rest-pause 15 s x 3", why, "rest-pause"),
            Offer("add 1 rep a week", why, "step"),
            Offer("max sets", why, "max sets"),
            Offer("3 lead-in", why, "lead-in"),
            Offer("part rest 20 s", "between the parts of a set such as 2+2+2; " + why, "part rest"),
        ]
    if asked.loading:
        offers += [
            Offer("add 2.5 kg a week", "the load of each later week", "step"),
            Offer("loads 8, 10, 12 kg", why, "loads"),
            Offer("load on 2 days a week", why, "load days"),
            Offer("inertia 0.06 kg m2", "of a flywheel; " + why, "inertia"),
            *(Offer(f"with {kit}", "what the load is; " + why, "kit") for kit in dict.fromkeys(KIT_WORDS.values())),
        ]
    offers += [
        Offer("at least 80 % HRmax", why, "intensity"),
        Offer("50-60 % top speed", why, "intensity"),
        Offer("80 % effort", why, "intensity"),
    ]
    offers += [Offer("30 cm box", "a height", "height"), Offer("sore side only", why, "sore side")]
    return offers


def _effort(asked: Asked, n: Callable[[str], str]) -> list[Offer]:
    if not asked.kinds & {"reps", "hold"}:
        return []
    offers = [
        Offer(f"{n('2')} RIR", "repetitions left in reserve", "effort"),
        Offer(f"{n('2-3')} RIR", "repetitions left in reserve", "effort"),
        Offer(f"RPE {n('8')}", "effort of the set: 10 less what is left in reserve", "effort"),
    ]
    if asked.loading and "reps" in asked.kinds:
        offers += [
            Offer(f"{n('8')}RM", "the load that can be lifted this often", "rm"),
            Offer(f"{n('80')} % 1RM", "share of the load that can be lifted once", "percent"),
            Offer(f"{n('20')} % body mass", "share of body mass", "percent"),
        ]
    if "hold" in asked.kinds:
        offers.append(Offer(f"{n('50')} % best hold", "share of the longest hold", "percent"))
    return offers


def _load(asked: Asked, n: Callable[[str], str]) -> list[Offer]:
    if not asked.loading:
        return [Offer("no weight", "without a load", "load")]
    carried = [PLACE_WORDS[p] for p in asked.loading]
    offers = [Offer(f"{n('12')} kg {words}", f"a load, carried {words}", "load") for words in carried]
    offers.append(Offer(f"{n('12')} kg", "a load in all; the place stays open", "load"))
    if "hands" in asked.loading:
        offers.append(Offer(f"{n('12')} kg each hand", "a load in each hand", "load"))
    offers.append(Offer("no weight", "without a load", "load"))
    offers += [Offer(f"{b} band", "a band; thickness, not colour", "load") for b in BANDS]
    return offers


def groups_in(reader: FieldReader) -> set[str]:
    """The groups of a dose that a line states already, `optional` and free forms by their own words included."""
    found = {group for group, fields in GROUPS.items() if any(f in reader.values for f in fields)}
    found |= {"weeks"} if reader.weeks is not None else set()
    return found | set(reader.free) | ({"optional"} if reader.optional else set())
