"""Inside a pair or circuit one adjustable piece keeps one setting: nobody changes plates between two exercises."""

from __future__ import annotations

from collections import defaultdict

from ferrule.fit.variables import Variables

NAME = "one setting of a piece inside a pair"


def add(v: Variables) -> None:
    """For each piece and setting: choices of line i at it + choices of line j at another <= 1."""
    rule = v.rule(NAME)
    for b, block in enumerate(v.problem.blocks):
        if block.kind == "straight":
            continue
        uses: dict[str, dict[int, dict[str, list[int]]]] = defaultdict(lambda: defaultdict(lambda: defaultdict(list)))
        for i, line in enumerate(v.problem.lines):
            if line.block == b:
                for a, option in enumerate(line.options):
                    for piece, setting in option.settings:
                        uses[piece][i][setting].append(a)
        for by_line in uses.values():
            for i in by_line:
                for j in by_line:
                    if i == j:
                        continue
                    for setting, mine in by_line[i].items():
                        others = [v.x[j][a] for other, them in by_line[j].items() if other != setting for a in them]
                        if others:
                            v.model.add(sum(v.x[i][a] for a in mine) + sum(others) <= 1).only_enforce_if(rule)
