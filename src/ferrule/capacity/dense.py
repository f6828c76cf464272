"""The same belief from all readings at once, by one dense joint Gaussian: what the filter is held against in tests.

S = H C H' + diag(R);   mean = m + C H' S^-1 (y - H m);   cov = C - C H' S^-1 H C
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ferrule.capacity.state import Array


@dataclass(frozen=True, slots=True)
class Reading:
    """One linear reading: sum of factor * latent, by name, plus noise of variance `var`."""

    factors: Mapping[str, float]
    read: float
    var: float


@dataclass(frozen=True, slots=True)
class Joint:
    """A joint Gaussian: names (n,), mean (n,), cov (n, n)."""

    names: tuple[str, ...]
    mean: Array
    cov: Array

    def of(self, names: Sequence[str]) -> tuple[Array, Array]:
        """Mean and covariance of some of the latents, in the order asked for."""
        at = [self.names.index(n) for n in names]
        return self.mean[at], self.cov[np.ix_(at, at)]


def posterior(prior: Joint, readings: Sequence[Reading]) -> Joint:
    """The belief after all of `readings`; O((n + m)^3)."""
    h = np.zeros((len(readings), len(prior.names)))
    for i, one in enumerate(readings):
        for name, factor in one.factors.items():
            h[i, prior.names.index(name)] = factor
    read, noise = np.array([r.read for r in readings]), np.diag([r.var for r in readings])
    gain = np.linalg.solve(h @ prior.cov @ h.T + noise, h @ prior.cov).T
    return Joint(prior.names, prior.mean + gain @ (read - h @ prior.mean), prior.cov - gain @ h @ prior.cov)
