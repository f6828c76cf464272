"""The one-line canonical forms: a dose and an item as the trade writes them."""

from __future__ import annotations

from dataclasses import replace

from ferrule.model.programme import Dose, Item, Named, Slot
from ferrule.model.quantity import Load, Percent, Range

PLACE_WORDS = {
    "hands": "in hands", "opposite hand": "in opposite hand", "same hand": "in same hand",
    "chest": "at chest", "back": "on back", "hips": "at hips", "ankle": "at ankle",
}  # fmt: skip

GROUPS: dict[str, tuple[str, ...]] = {
    "sets": ("sets",),
    "amount": (
        "per_set", "reps", "reps_open", "left", "right", "sides", "hold_s", "work_s", "distance_m", "contacts", "cluster",
    ),
    "load": ("load",),
    "effort": ("rir", "effort_word"),
    "rm": ("rm",),
    "percent": ("percent",),
    "tempo": ("tempo",),
    "pause": ("pause_s",),
    "drop": ("drop",),
    "rest": ("rest_s",),
    "side rest": ("side_rest_s",),
}  # fmt: skip
"""Fields of a dose that are written, inherited and replaced together."""

EMPTY = Dose()


def seconds_text(value: Range) -> str:
    """`30 s`, `75-90 s`; whole minutes from two on as `2 min`."""
    if value.low >= 120 and value.low % 60 == 0 and value.high % 60 == 0:
        return f"{Range(value.low / 60, value.high / 60)} min"
    return f"{value} s"


def load_text(load: Load) -> str:
    """`no weight`, `12 kg each hand`, `10-12 kg at chest`, `thin band at ankle`."""
    if load.none:
        return "no weight"
    parts = []
    if load.kg is not None:
        parts.append(f"{load.kg} kg" + (" each hand" if load.each_hand else ""))
    if load.band is not None:
        parts.append(f"{load.band} band")
    if load.place is not None:
        parts.append(PLACE_WORDS[load.place])
    return " ".join(parts)


def percent_text(percent: Percent) -> str:
    """`80-85 % 1RM`, `at least 90 % 1RM`."""
    return ("at least " if percent.at_least else "") + f"{percent.percent} % {percent.of}"


def effort_text(dose: Dose) -> str:
    """`2 RIR` or `RPE 8`; empty when not stated."""
    if dose.rir is None:
        return ""
    if dose.effort_word == "RPE":
        return f"RPE {Range(10 - dose.rir.high, 10 - dose.rir.low)}"
    return f"{dose.rir} RIR"


def amount_text(dose: Dose) -> str:
    """What one set holds: `8/side`, `30 s`, `sets 12, 10, 8`, `left 10, right 8`; empty when not stated."""
    sides = {"each": "/side", "alternating": " alternating", "total": " total", None: ""}[dose.sides]
    if dose.per_set:
        return "sets " + ", ".join(map(str, dose.per_set)) + sides
    if dose.cluster:
        return "+".join(map(str, dose.cluster)) + sides
    if dose.left is not None or dose.right is not None:
        return ", ".join(f"{w} {n}" for w, n in (("left", dose.left), ("right", dose.right)) if n is not None)
    if dose.reps_open == "max":
        return "max" + sides
    if dose.reps is not None:
        return (f"{dose.reps_open} " if dose.reps_open else "") + f"{dose.reps}{sides}"
    if dose.hold_s is not None:
        return seconds_text(dose.hold_s) + sides
    if dose.work_s is not None:
        return "work " + seconds_text(dose.work_s) + sides
    if dose.distance_m is not None:
        return f"{dose.distance_m} m{sides}"
    if dose.contacts is not None:
        return f"{dose.contacts} contacts{sides}"
    return {"each": "each side", "alternating": "alternating", "total": "total", None: ""}[dose.sides]


def dose_text(dose: Dose) -> str:
    """The canonical one-line dose: `3 x 8/side, 12 kg at chest, 2 RIR, tempo 2-0-1, rest 90 s`. Empty when not stated."""
    amount = amount_text(dose)
    parts: list[str] = []
    if dose.sets is not None:
        joins = amount and not dose.per_set and not dose.cluster and dose.left is None and dose.right is None
        joins = joins and not amount.startswith(("each side", "alternating", "total"))
        parts.append(f"{dose.sets} x {amount}" if joins else f"{dose.sets} sets")
        amount = "" if joins else amount
    parts.append(amount)
    parts.append(load_text(dose.load) if dose.load else "")
    parts.append(effort_text(dose))
    parts.append(f"{dose.rm}RM" if dose.rm else "")
    parts.append(percent_text(dose.percent) if dose.percent else "")
    parts.append(f"tempo {dose.tempo}" if dose.tempo else "")
    parts.append("pause " + seconds_text(dose.pause_s) if dose.pause_s else "")
    parts.append(f"drop {dose.drop}" if dose.drop is not None else "")
    parts.append("rest " + seconds_text(dose.rest_s) if dose.rest_s else "")
    parts.append("side rest " + seconds_text(dose.side_rest_s) if dose.side_rest_s else "")
    parts.extend(u for u in dose.unfitted if u not in parts)
    return ", ".join(p for p in parts if p)


def name_text(exercise: Named | Slot) -> str:
    """The name as written, or the slot: `any hinge, one leg`."""
    if isinstance(exercise, Named):
        return exercise.text
    return f"any {exercise.pattern}" + {None: "", 1: ", one leg", 2: ", two legs"}[exercise.legs]


def item_text(item: Item) -> str:
    """The canonical one line of an item, without list mark, notes and alternatives: `Step-up: 5-7/side, 2 RIR`."""
    return line_text(item.exercise, item.dose, optional=item.optional)


def line_text(exercise: Named | Slot, dose: Dose, *, optional: bool = False) -> str:
    """A line without its list mark: `Step-up: 8/side, 2 RIR`; the name alone when nothing else is stated."""
    fields = dose_text(dose)
    fields = ", ".join(p for p in (fields, "optional" if optional else "") if p)
    name = name_text(exercise)
    if isinstance(exercise, Named) and exercise.variant_id is None and not name.strip():
        return fields
    unknown = isinstance(exercise, Named) and exercise.variant_id is None
    # a bare unknown name would be searched for where it ends; with its colon it stays whole
    return f"{name}: {fields}" if fields else f"{name}:" if unknown or ":" in name else name


def free_forms(dose: Dose) -> tuple[str, ...]:
    """The forms in `unfitted` that no field of their own holds."""
    held = {"+".join(map(str, dose.cluster)), f"drop {dose.drop}"}
    return tuple(u for u in dose.unfitted if u not in held)


def marked(dose: Dose, free: tuple[str, ...]) -> Dose:
    """The dose with `unfitted` naming every form in it that is printed but not fitted: `free` and those of its fields."""
    forms = [*free]
    if dose.cluster:
        forms.append("+".join(map(str, dose.cluster)))
    if dose.drop is not None:
        forms.append(f"drop {dose.drop}")
    return replace(dose, unfitted=tuple(forms)) if tuple(forms) != dose.unfitted else dose


def own_part(dose: Dose, base: Dose) -> Dose:
    """The groups of `dose` that differ from `base`: what an alternative has to write, the rest being inherited."""
    own: dict[str, object] = {}
    for names in GROUPS.values():
        if any(getattr(dose, n) != getattr(base, n) for n in names):
            own |= {n: getattr(dose, n) for n in names}
    free = free_forms(dose)
    return marked(Dose(**own), free if free != free_forms(base) else ())  # type: ignore[arg-type]


def inherited(own: Dose, base: Dose) -> Dose:
    """`own` with each group it does not state taken from `base`."""
    fields: dict[str, object] = {}
    for names in GROUPS.values():
        source = own if any(getattr(own, n) != getattr(EMPTY, n) for n in names) else base
        fields |= {n: getattr(source, n) for n in names}
    return marked(Dose(**fields), free_forms(own) or free_forms(base))  # type: ignore[arg-type]
