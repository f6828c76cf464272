"""The one form of a refusal."""

from __future__ import annotations

from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek


def refused(code: str, week: FittedWeek, what: str) -> Finding:
    """A fitted week that breaks a rule is our fault, and is not shown as a plan."""
    return Finding(
        code=f"verify-{code}",
        level="error",
        what=f"{week.runner_name} ({week.runner_id}): {what}",
        why="The fitted week was checked again from the plain data and did not pass; it is held back.",
        fix="This is a fault of Ferrule, not of the programme: please report it with the workspace.",
    )
