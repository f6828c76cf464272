"""The one-line canonical forms: a dose and an item as the trade writes them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from operator import attrgetter

from ferrule.model.programme import Dose, Item, Named, Slot
from ferrule.model.quantity import Load, Range
from ferrule.programme.form_text import adds_up, forms_of, pieces_text, step_text, weeks_text
from ferrule.programme.form_text import percent_text as percent_text
from ferrule.programme.form_text import seconds_text as seconds_text

PLACE_WORDS = {
    "hands": "in hands", "opposite hand": "in opposite hand", "same hand": "in same hand",
    "chest": "at chest", "back": "on back", "hips": "at hips", "ankle": "at ankle",
}  # fmt: skip

GROUPS: dict[str, tuple[str, ...]] = {
    "sets": ("sets",),
    "amount": (
        "per_set", "reps", "reps_open", "left", "right", "sides", "hold_s", "work_s", "distance_m", "contacts", "cluster",
        "to_failure",
    ),
    "load": ("load",),
    "loads": ("loads",),
    "effort": ("rir", "effort_word", "rpe"),
    "rm": ("rm",),
    "percent": ("percent",),
    "intensity": ("intensity",),
    "tempo": ("tempo", "down_s", "up_s"),
    "pause": ("pause_s",),
    "drop": ("drop",),
    "rest": ("rest_s",),
    "side rest": ("side_rest_s",),
    "max sets": ("max_sets",),
    "sore side": ("sore_side_only",),
    "lead-in": ("lead_in",),
    "rest-pause": ("rest_pause_s", "rest_pause_times"),
    "part rest": ("part_rest_s",),
    "step": ("step",),
    "load days": ("load_days",),
    "inertia": ("inertia_kg_m2",),
    "height": ("height_cm", "height_of"),
    "kit": ("kit",),
}  # fmt: skip
"""Fields of a dose that are written, inherited and replaced together."""

EMPTY = Dose()


def _values(names: tuple[str, ...]) -> Callable[[Dose], tuple[object, ...]]:
    if len(names) > 1:
        return attrgetter(*names)
    one = attrgetter(names[0])
    return lambda dose: (one(dose),)


GROUP_VALUES = {group: (names, _values(names), _values(names)(EMPTY)) for group, names in GROUPS.items()}
"""Each group: its fields, what takes their values from a dose, and those of a dose that states nothing."""


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


def effort_text(dose: Dose) -> str:
    """`2 RIR` or `RPE 8`; empty when not stated."""
    if dose.rir is None:
        return ""
    if dose.effort_word == "RPE":
        return f"RPE {Range(10 - dose.rir.high, 10 - dose.rir.low)}"
    return f"{dose.rir} RIR" + ("" if dose.rpe is None else f", RPE {dose.rpe}")


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
        return ("max" if dose.work_s is None else "max in " + seconds_text(dose.work_s)) + sides
    if pieces_text(dose):
        return pieces_text(dose) + sides
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
    written = {"+".join(map(str, dose.cluster)), pieces_text(dose), effort_text(dose).partition(", ")[2]}
    parts.extend(f for f in forms_of(dose) if f not in written)
    parts.append(step_text(dose.step) if dose.step is not None and adds_up(dose.step, dose.load) else "")
    parts.append("rest " + seconds_text(dose.rest_s) if dose.rest_s else "")
    parts.append("side rest " + seconds_text(dose.side_rest_s) if dose.side_rest_s else "")
    parts.extend(free_forms(dose))
    return ", ".join(p for p in parts if p)


def name_text(exercise: Named | Slot) -> str:
    """The name as written, or the slot: `any hinge, one leg`."""
    if isinstance(exercise, Named):
        return exercise.text
    return f"any {exercise.pattern}" + {None: "", 1: ", one leg", 2: ", two legs"}[exercise.legs]


def item_text(item: Item) -> str:
    """The canonical one line of an item, without list mark, notes and alternatives: `Step-up: 5-7/side, 2 RIR`."""
    return line_text(item.exercise, item.dose, optional=item.optional, weeks=item.weeks)


def line_text(
    exercise: Named | Slot, dose: Dose, *, optional: bool = False, weeks: tuple[int, int | None] | None = None
) -> str:
    """A line without its list mark: `Step-up: 8/side, 2 RIR`; the name alone when nothing else is stated."""
    fields = dose_text(dose)
    last = (weeks_text(weeks) if weeks else "", "optional" if optional else "")
    fields = ", ".join(p for p in (fields, *last) if p)
    name = name_text(exercise)
    if isinstance(exercise, Named) and exercise.variant_id is None and not name.strip():
        return fields
    unknown = isinstance(exercise, Named) and exercise.variant_id is None
    # a bare unknown name would be searched for where it ends; with its colon it stays whole
    return f"{name}: {fields}" if fields else f"{name}:" if unknown or ":" in name else name


def free_forms(dose: Dose) -> tuple[str, ...]:
    """The forms in `unfitted` that no field of their own holds."""
    held = forms_of(dose)
    return tuple(u for u in dose.unfitted if u not in held)


def marked(dose: Dose, free: tuple[str, ...]) -> Dose:
    """The dose with `unfitted` naming every form in it that is printed but not fitted: `free` and those of its fields."""
    forms = (*free, *forms_of(dose))
    return replace(dose, unfitted=forms) if forms != dose.unfitted else dose


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
    if own == EMPTY and not base.unfitted and base.step is None:
        return base
    fields: dict[str, object] = {}
    for names, values, empty in GROUP_VALUES.values():
        said = values(own)
        fields.update(zip(names, values(base) if said == empty else said, strict=True))
    made = Dose(**fields)  # type: ignore[arg-type]
    if not own.unfitted and not base.unfitted and made.step is None:
        return made  # the common case: nothing to mark
    return marked(made, free_forms(own) or free_forms(base))
