"""A linear model with batches at random, by profiling one ratio of variances."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bakelab.comparing.surface_terms import Array

__all__ = ["BatchFit", "fit_batches"]

_GRID = np.linspace(-14.0, 14.0, 57)  # logarithms of the ratio of variances
_GAIN = 1e-7  # of the criterion: less is no batch at all


@dataclass(frozen=True)
class BatchFit:
    """Estimates and errors of the columns, both variances, the likelihood."""

    estimates: Array
    errors: Array
    between: float
    within: float
    log_likelihood: float


def fit_batches(
    y: Array, columns: Array, batch: npt.NDArray[np.intp], *, restricted: bool = True
) -> BatchFit:
    """Fit ``y = columns @ b + batch + bake`` with both parts normal.

    Parameters
    ----------
    y : array, shape (n,)
    columns : array, shape (n, p)
        Of full rank.
    batch : array of int, shape (n,)
        Number of the batch, from 0.
    restricted : bool
        Restricted maximum likelihood, or plain.

    Notes
    -----
    For a given ratio of the variance between batches to that within, the
    estimates are generalised least squares, and the variance follows; what
    is left is a search in one dimension [1]_.

    References
    ----------
    .. [1] D. Bates, M. Mächler, B. Bolker and S. Walker, Fitting Linear
       Mixed-Effects Models Using lme4, Journal of Statistical Software
       67(1), 2015, section 3.4.
    """
    from scipy.optimize import minimize_scalar  # type: ignore[import-untyped]

    profile = _Profile(y, columns, batch, restricted)
    costs = [profile.cost(math.exp(place)) for place in _GRID]
    at = int(np.argmin(costs))
    ends = (_GRID[max(0, at - 1)], _GRID[min(len(_GRID) - 1, at + 1)])
    found = minimize_scalar(
        lambda place: profile.cost(math.exp(place)), bounds=ends, method="bounded",
        options={"xatol": 1e-9},
    )  # fmt: skip
    ratio = math.exp(float(found.x))
    none = profile.cost(0.0) <= profile.cost(ratio) + _GAIN
    return profile.fit(0.0 if none else ratio)


class _Profile:
    """Sums over batches, from which every ratio of variances is judged."""

    def __init__(
        self, y: Array, columns: Array, batch: npt.NDArray[np.intp], restricted: bool
    ) -> None:
        both = np.column_stack([columns, y])
        self._products = both.T @ both
        self._sizes = np.bincount(batch)
        self._sums = np.zeros((len(self._sizes), both.shape[1]))
        np.add.at(self._sums, batch, both)
        self._free = len(y) - (columns.shape[1] if restricted else 0)
        self._restricted = restricted

    def cost(self, ratio: float) -> float:
        """Twice the negative log likelihood."""
        triangle, left, spread_log = self._solved(ratio)
        variance = max(left / self._free, 1e-300)
        cost = self._free * (math.log(2 * math.pi * variance) + 1) + spread_log
        if self._restricted:
            cost += 2 * float(np.log(np.diag(triangle)).sum())
        return cost

    def fit(self, ratio: float) -> BatchFit:
        """The fit at a ratio."""
        triangle, left, _ = self._solved(ratio)
        variance = left / self._free
        crossed = self._crossed(ratio)
        estimates = np.linalg.solve(crossed[:-1, :-1], crossed[:-1, -1])
        inverse = np.linalg.inv(triangle @ triangle.T)
        errors = np.sqrt(variance * np.diag(inverse))
        likelihood = -self.cost(ratio) / 2
        return BatchFit(estimates, errors, ratio * variance, variance, likelihood)

    def _crossed(self, ratio: float) -> Array:
        weight = ratio / (1 + ratio * self._sizes)
        crossed: Array = self._products - (self._sums * weight[:, None]).T @ self._sums
        return crossed

    def _solved(self, ratio: float) -> tuple[Array, float, float]:
        """Triangle of the normal equations, what is left, log of the determinant."""
        crossed = self._crossed(ratio)
        triangle = np.linalg.cholesky(crossed[:-1, :-1])
        half = np.linalg.solve(triangle, crossed[:-1, -1])
        left = max(0.0, float(crossed[-1, -1] - half @ half))
        return triangle, left, float(np.log1p(ratio * self._sizes).sum())
