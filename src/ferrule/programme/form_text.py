"""Canonical words of the forms that are read and printed but not fitted, and of what heads say beyond sets and rests."""

from __future__ import annotations

from ferrule.model.programme import Dose
from ferrule.model.quantity import Load, Percent, Range, SetLoads, Step, number


def seconds_text(value: Range) -> str:
    """`30 s`, `75-90 s`; whole minutes from two on as `2 min`."""
    if value.low >= 120 and value.low % 60 == 0 and value.high % 60 == 0:
        return f"{Range(value.low / 60, value.high / 60)} min"
    return f"{value} s"


def percent_text(percent: Percent) -> str:
    """`80-85 % 1RM`, `at least 90 % 1RM`, `about 70 % HRmax`."""
    lead = "at least " if percent.at_least else "about " if percent.about else ""
    return f"{lead}{percent.percent} % {percent.of}"


def step_text(step: Step) -> str:
    """`add 5 kg a week, to 60 kg`, `add 1-2 reps`, `add 2-10 %`."""
    one = step.amount == Range.of(1)
    unit = step.unit.removesuffix("s") if one and step.unit in ("reps", "sets") else step.unit
    every = {"": "", "week": " a week", "2 weeks": " every 2 weeks", "session": " a session"}[step.every]
    end = "" if step.to is None else f", to {number(step.to)} {'kg' if step.unit == '%' else step.unit}"
    return f"add {step.amount} {unit}{every}{end}"


def loads_text(loads: SetLoads) -> str:
    """`loads 40, 45, 50 kg`."""
    return f"loads {', '.join(number(v) for v in loads.values)} {loads.unit}"


def fine(value: Range) -> str:
    """A range with up to four decimals: `0.035-0.06`."""
    low, high = (f"{v:.4f}".rstrip("0").rstrip(".") for v in (value.low, value.high))
    return low if low == high else f"{low}-{high}"


def weeks_text(weeks: tuple[int, int | None]) -> str:
    """`weeks 4-8`, `week 4`, `from week 5`, `to week 4`."""
    first, last = weeks
    if last is None:
        return f"from week {first}"
    return f"week {first}" if first == last else f"weeks {first}-{last}"


def adds_up(step: Step | None, load: Load | None) -> bool:
    """Can the load of a later week be told from the line: a single number of kilograms a week on a known load?"""
    if step is None or step.unit != "kg" or step.every != "week" or not step.amount.single or load is None:
        return False
    return load.none or load.kg is not None


def pieces_text(dose: Dose) -> str:
    """`5 reps of 80 m`, `6 reps of 30 s`; empty where a set is counted in one thing."""
    if dose.reps is None or (dose.distance_m is None and dose.work_s is None):
        return ""
    what = f"{dose.distance_m} m" if dose.distance_m is not None else seconds_text(dose.work_s or Range.of(0))
    lead = f"{dose.reps_open} " if dose.reps_open else ""
    return f"{lead}{dose.reps} reps of {what}"


def forms_of(dose: Dose) -> tuple[str, ...]:
    """The canonical words of every form in the dose that is printed but not fitted, in the order of a line."""
    found = []
    if dose.cluster:
        found.append("+".join(map(str, dose.cluster)))
    if pieces_text(dose):
        found.append(pieces_text(dose))
    if dose.to_failure:
        found.append("to failure")
    if dose.rest_pause_s is not None:
        times = "" if dose.rest_pause_times is None else f" x {dose.rest_pause_times}"
        found.append(f"rest-pause {seconds_text(dose.rest_pause_s)}{times}")
    if dose.part_rest_s is not None:
        found.append("part rest " + seconds_text(dose.part_rest_s))
    if dose.drop is not None:
        found.append(f"drop {dose.drop}")
    if dose.max_sets:
        found.append("max sets")
    if dose.sore_side_only:
        found.append("sore side only")
    if dose.lead_in is not None:
        found.append(f"{dose.lead_in} lead-in")
    if dose.loads is not None:
        found.append(loads_text(dose.loads))
    if dose.inertia_kg_m2 is not None:
        found.append(f"inertia {fine(dose.inertia_kg_m2)} kg m2")
    if dose.kit is not None:
        found.append(f"with {dose.kit}")
    if dose.height_cm is not None:
        found.append(f"{dose.height_cm} cm" + (f" {dose.height_of}" if dose.height_of else ""))
    if dose.intensity is not None:
        found.append(percent_text(dose.intensity))
    if dose.rpe is not None:
        found.append(f"RPE {dose.rpe}")
    if dose.down_s is not None:
        found.append(f"{seconds_text(dose.down_s)} down")
    if dose.up_s is not None:
        found.append(f"{seconds_text(dose.up_s)} up")
    if dose.step is not None and not adds_up(dose.step, dose.load):
        found.append(step_text(dose.step))
    if dose.load_days is not None:
        found.append(f"load on {dose.load_days} days a week")
    return tuple(found)
