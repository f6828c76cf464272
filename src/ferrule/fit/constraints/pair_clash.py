"""Two exercises of a pair do not tire the same group, unless the coach wrote it so."""

from __future__ import annotations

from ferrule.fit.variables import Variables

NAME = "pairs do not fight"


def add(v: Variables) -> None:
    """For each pair and group: choices of line i on it + choices of line j on it <= 1."""
    rule = v.rule(NAME)
    for b, block in enumerate(v.problem.blocks):
        if block.kind != "pair" or block.written_clash:
            continue
        lines = [i for i, line in enumerate(v.problem.lines) if line.block == b]
        groups = {o.group for i in lines for o in v.problem.lines[i].options if o.group is not None}
        for group in sorted(groups):
            on = [[v.x[i][a] for a, o in enumerate(v.problem.lines[i].options) if o.group == group] for i in lines]
            on = [choices for choices in on if choices]
            if len(on) > 1:
                v.model.add(sum(x for choices in on for x in choices) <= 1).only_enforce_if(rule)
