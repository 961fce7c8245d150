"""What has to be added and taken so that several amounts stay: a linear programme."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

__all__ = ["Balance", "solve"]

_SLACK = 1e-7  # of the largest amount: less than this is held, and then polished
_EXACT = 1e-11
_MISS_COST = 1e3  # per unit missed of the last amount held; the first costs most
_STEP_COST = 4.0

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Balance:
    """Changes of mass; which amounts are held, and what is off in the others.

    `missed` pairs the place of an amount with what there is too much of it.
    """

    masses_g: tuple[float, ...]
    held: tuple[int, ...]
    missed: tuple[tuple[int, float], ...]


def solve(
    matrix: Sequence[Sequence[float]],
    wanted: Sequence[float],
    *,
    least_g: Sequence[float],
    costs: Sequence[float] | None = None,
) -> Balance:
    """The smallest changes of mass that bring every amount to what is wanted.

    Parameters
    ----------
    matrix : sequence of rows
        A row for each amount: what one gram of each ingredient holds of it.
    wanted : sequence of float
        What each amount has to change by; the first matters most where
        they cannot all be reached.
    least_g : sequence of float
        The most negative change of each ingredient: what there is of it,
        with a minus sign; 0 for a new one.
    costs : sequence of float, optional
        How unwelcome a gram of each is; 1 by default.

    Notes
    -----
    Where there are as many ingredients as amounts and the one solution is
    possible, it is taken. Otherwise a linear programme (HiGHS) takes the
    cheapest changes, and misses as little as it can of the later amounts.
    What it holds is then solved once more to the last digit.

    Examples
    --------
    >>> solve([[0.8, 0.0], [0.2, 1.0]], [8.0, 5.0], least_g=[0.0, 0.0]).masses_g
    (10.0, 3.0)
    """
    if not least_g or not wanted:
        off = tuple((n, -value) for n, value in enumerate(wanted) if value)
        held = tuple(n for n, value in enumerate(wanted) if not value)
        return Balance((0.0,) * len(least_g), held, off)
    a = np.array(matrix, dtype=float).reshape(len(wanted), len(least_g))
    b = np.array(wanted, dtype=float)
    least = np.array(least_g, dtype=float)
    masses = _direct(a, b, least)
    if masses is None:
        masses = _programme(a, b, least, np.array(costs or [1.0] * len(least)))
    return _result(a, b, masses)


def _direct(a: Floats, b: Floats, least: Floats) -> Floats | None:
    if a.shape[0] != a.shape[1] or np.linalg.cond(a) > 1e10:
        return None
    masses: Floats = np.linalg.solve(a, b).astype(np.float64)
    return None if (masses < least - 1e-12).any() else np.maximum(masses, least)


def _programme(a: Floats, b: Floats, least: Floats, costs: Floats) -> Floats:
    # scipy comes without type hints, and is imported only when it is needed.
    from scipy.optimize import linprog  # type: ignore[import-untyped]

    rows, columns = a.shape
    unit = max(float(np.abs(b).max(initial=0.0)), float(np.abs(least).max(initial=0.0)))
    if unit == 0:
        return np.zeros(columns)
    height = np.abs(a).max(axis=1, keepdims=True, initial=0.0)
    height[height == 0] = 1.0
    misses = _MISS_COST * _STEP_COST ** np.arange(rows, 0, -1)
    whole = np.hstack([a / height, -a / height, np.eye(rows), -np.eye(rows)])
    bounds = [*((0, None) for _ in least), *((0, -low / unit) for low in least),
              *((0, None) for _ in range(2 * rows))]  # fmt: skip
    found = linprog(
        np.concatenate([costs, costs, misses, misses]),
        A_eq=whole,
        b_eq=b / height[:, 0] / unit,
        bounds=bounds,
        method="highs",
    )
    x = found.x
    slack = x[2 * columns : 2 * columns + rows] - x[2 * columns + rows :]
    masses: Floats = (x[:columns] - x[columns : 2 * columns]) * unit
    return _polished(a, b, least, masses, np.abs(slack) < _SLACK)


def _polished(
    a: Floats, b: Floats, least: Floats, masses: Floats, held: npt.NDArray[np.bool_]
) -> Floats:
    """The held amounts once more, exactly, by the masses that are at no end."""
    tiny = 1e-9 * max(1.0, float(np.abs(masses).max(initial=0.0)))
    inner = (masses - least > tiny) & (np.abs(masses) > tiny)
    masses = np.where(np.abs(masses - least) <= tiny, least, masses)
    masses = np.where(np.abs(masses) <= tiny, 0.0, masses)
    if held.any() and inner.any():
        off = b[held] - a[held] @ masses
        masses[inner] += np.linalg.lstsq(a[held][:, inner], off, rcond=None)[0]
    return np.maximum(masses, least)


def _result(a: Floats, b: Floats, masses: Floats) -> Balance:
    off = a @ masses - b
    scale = max(
        1.0, float(np.abs(b).max(initial=0.0)), float(np.abs(masses).max(initial=0.0))
    )
    held = tuple(n for n, miss in enumerate(off) if abs(miss) <= _EXACT * scale)
    missed = tuple(
        (n, float(miss)) for n, miss in enumerate(off) if abs(miss) > _EXACT * scale
    )
    return Balance(tuple(float(m) for m in masses), held, missed)
