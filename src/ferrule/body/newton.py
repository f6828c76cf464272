"""Newton's method for the one to three unknown angles of a pose, with the slope taken by differences."""

from __future__ import annotations

from collections.abc import Callable, Sequence

Residual = Callable[[Sequence[float]], Sequence[float]]

_STEP = 1e-6
_LARGEST_STEP = 0.26  # rad, 15 degrees
_TOLERANCE = 1e-10  # m
_ROUNDS = 40


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
    """(angles in radians, largest residual left in m). Steps are cut at 15 degrees; as many residuals as unknowns."""
    values = list(starts)
    left = residual(values)
    for _ in range(_ROUNDS):
        if max(map(abs, left)) < _TOLERANCE:
            break
        slopes = []
        for i in range(len(values)):
            moved = values.copy()
            moved[i] += _STEP
            slopes.append([(b - a) / _STEP for a, b in zip(left, residual(moved), strict=True)])
        matrix = [[slopes[c][r] for c in range(len(values))] for r in range(len(left))]
        step = solve_linear(matrix, [-a for a in left])
        if step is None:
            break
        largest = max(map(abs, step))
        cut = min(1.0, _LARGEST_STEP / largest) if largest > 0 else 1.0
        values = [v + cut * s for v, s in zip(values, step, strict=True)]
        left = residual(values)
    return values, max(map(abs, left), default=0.0)
