"""All checks of a programme."""

from __future__ import annotations

from ferrule.check.allow import set_aside
from ferrule.check.course import MOST_WEEKS, lay_out
from ferrule.check.rules import RULES
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, in_order
from ferrule.model.house import House
from ferrule.model.programme import Programme


def check(programme: Programme, library: Library, house: House) -> tuple[Finding, ...]:
    """What every rule finds, in order of place, each once.

    Rules the house switched off are not run, except those that find errors. Findings the coach allowed in the text
    stay as notes with the reason. A programme without a week to check has no findings.
    """
    course = lay_out(programme, library, house)
    rules = [rule for rule in RULES if rule.level == "error" or rule.name not in house.switched_off]
    found = [finding for rule in rules for finding in rule.run(course)]
    if programme.weeks > MOST_WEEKS:
        what = f"Only weeks 1-{MOST_WEEKS} of {programme.weeks} were checked"
        why = "A programme of more than two years is more likely a slip of the finger."
        found.append(
            Finding("weeks-not-checked", "note", what, why, "Look at `weeks:` and at the cycles' weeks.", None)
        )
    return in_order(set_aside(found, programme, RULES, house.switched_off))
