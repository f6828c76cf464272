"""Newton's method for the one to three unknown angles of a pose, with the slope taken by differences."""

from __future__ import annotations

from collections.abc import Callable, Sequence

Residual = Callable[[Sequence[float]], Sequence[float]]

_STEP = 1e-6
_LARGEST_STEP = 0.26  # rad, 15 degrees
_TOLERANCE = 1e-10  # m
_ROUNDS = 20
_STALLED = 5
"""Rounds after which the residual must have halved: a pose that cannot be closed is given up early."""


def solve_linear(matrix: list[list[float]], right: list[float]) -> list[float] | None:
    """The solution of a small square system by elimination with pivoting; None when it is singular."""
    size = len(right)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for i in range(size):
        pivot = max(range(i, size), key=lambda r: abs(rows[r][i]))
        if abs(rows[pivot][i]) < 1e-12:
            return None
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for r in range(i + 1, size):
            factor = rows[r][i] / rows[i][i]
            for c in range(i, size + 1):
                rows[r][c] -= factor * rows[i][c]
    solution = [0.0] * size
    for i in reversed(range(size)):
        rest = sum(rows[i][c] * solution[c] for c in range(i + 1, size))
        solution[i] = (rows[i][size] - rest) / rows[i][i]
    return solution


def newton(residual: Residual, starts: Sequence[float]) -> tuple[list[float], float]:
    """(angles in radians, largest residual left in m). Steps are cut at 15 degrees; as many residuals as unknowns.

    The slope is taken by differences at the start and then kept up with the steps made (Broyden 1965, the update with
    the least change); when a step does not bring the residual down it is taken anew.
    """
    values = list(starts)
    left = residual(values)
    largest = [max(map(abs, left))]
    slopes: list[list[float]] | None = None
    for i in range(_ROUNDS):
        if largest[-1] < _TOLERANCE or (i >= _STALLED and largest[-1] > largest[-1 - _STALLED] / 2):
            break
        if slopes is None or largest[-1] > largest[-2] / 2:
            slopes = _slopes(residual, values, left)
        step = solve_linear(slopes, [-a for a in left])
        if step is None:
            break
        turn = max(map(abs, step))
        cut = min(1.0, _LARGEST_STEP / turn) if turn > 0 else 1.0
        step = [cut * s for s in step]
        values = [v + s for v, s in zip(values, step, strict=True)]
        before, left = left, residual(values)
        largest.append(max(map(abs, left)))
        size = sum(s * s for s in step)
        if size > 0:
            for row, a, b in zip(slopes, before, left, strict=True):
                miss = (b - a - sum(r * s for r, s in zip(row, step, strict=True))) / size
                row[:] = [r + miss * s for r, s in zip(row, step, strict=True)]
    return values, largest[-1]


def _slopes(residual: Residual, values: Sequence[float], left: Sequence[float]) -> list[list[float]]:
    """Change of each residual (rows) with each unknown (columns)."""
    columns = []
    for i in range(len(values)):
        moved = [*values]
        moved[i] += _STEP
        columns.append([(b - a) / _STEP for a, b in zip(left, residual(moved), strict=True)])
    return [list(row) for row in zip(*columns, strict=True)]
