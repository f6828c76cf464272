"""The solver's variables for one Problem, and the named literals of the rules."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ferrule.fit.problem import Problem

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


class Variables:
    """Booleans of one model.

    x[line][option], omit[line], cut[block][reduction], y[session][slot], drop[session]; `rule(name)` is the literal
    that a constraint of that name is enforced by. `over` (s, a session), `short` (sessions, a group) and
    `lost` (rest days) are filled by their constraints for the objective. Making them costs about 5 ms for a week of 20 lines.
    """

    def __init__(self, model: cp_model.CpModel, problem: Problem) -> None:
        self.model = model
        self.problem = problem
        new = model.new_bool_var
        self.x = [[new(f"x{i}_{a}") for a in range(len(line.options))] for i, line in enumerate(problem.lines)]
        self.omit = [new(f"omit{i}") for i in range(len(problem.lines))]
        self.cut = [[new(f"cut{b}_{k}") for k in range(len(blk.reductions))] for b, blk in enumerate(problem.blocks)]
        self.y = [[new(f"y{s}_{t}") for t in range(len(session.slots))] for s, session in enumerate(problem.sessions)]
        self.drop = [new(f"drop{s}") for s in range(len(problem.sessions))]
        self.over: list[cp_model.IntVar] = []
        self.short: list[cp_model.IntVar] = []
        self.lost: cp_model.IntVar | None = None
        self._rules: dict[str, cp_model.IntVar] = {}

    def rule(self, name: str) -> cp_model.IntVar:
        """The literal of the rule `name`, made on first use."""
        if name not in self._rules:
            self._rules[name] = self.model.new_bool_var(name)
        return self._rules[name]

    @property
    def rules(self) -> dict[str, cp_model.IntVar]:
        """Every rule used so far, by name."""
        return dict(self._rules)

    def lines_of(self, session: int) -> list[int]:
        """Indices of the lines of a session."""
        return [i for i, line in enumerate(self.problem.lines) if line.session == session]

    def blocks_of(self, session: int) -> list[int]:
        """Indices of the blocks of a session."""
        return [b for b, block in enumerate(self.problem.blocks) if block.session == session]
