"""How hard the oven heats, from what the recipe says about its own pan.

The recipe's loaf is baked with several strengths of heating at once; the one
that brings the core to its end temperature at the recipe's time is found
between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.baking import Case, Unknowns, bake

__all__ = ["Calibration", "calibrate", "heating_for"]

Floats = NDArray[np.float64]
HEATINGS = (0.4, 0.67, 1.1, 1.8, 3.0)
"""Strengths that are tried, over the starting values of :mod:`settings`."""
AROUND = (0.55, 0.8, 1.2, 1.9)
MOST_S = 2 * 3600.0
LONGER = 1.3  # weaker strengths are followed this much longer than the recipe


@dataclass(frozen=True)
class Calibration:
    """Strength of heating that reproduces the recipe.

    Attributes
    ----------
    heating : array
        Over the starting values, one per sample.
    carried : array
        The recipe's time over the model's, near 1 unless the strength lies
        past those that are tried; it is carried over to the new pan.
    in_range : bool
        Whether the recipe's time lies inside what the model can do.
    """

    heating: Floats
    carried: Floats
    in_range: bool


def calibrate(
    case: Case,
    unknowns: Unknowns,
    *,
    minutes: Floats,
    grid: str = "quick",
    around: float | None = None,
) -> Calibration:
    """The strength of heating of each sample.

    Parameters
    ----------
    minutes : array
        The recipe's bake time for each sample.
    around : float, optional
        Where the strength is about; fewer are tried then.
    """
    tried = HEATINGS if around is None else tuple(around * f for f in AROUND)
    count = len(tried)
    many = unknowns.repeated(count).with_heating(np.tile(tried, len(unknowns)))
    longest = float(minutes.max()) * 60.0
    run = bake(case, many, expected_s=longest, until_s=LONGER * longest, grid=grid)
    times = run.when_core_reaches(many.end_c).reshape(len(unknowns), count) / 60.0
    if np.isnan(times).all(axis=1).any():
        times[:, -1] = _strongest(case, unknowns, tried[-1], longest, grid)
    pairs = [
        heating_for(tried, row, float(goal))
        for row, goal in zip(times, minutes, strict=True)
    ]
    heating, carried = np.array(pairs).T
    return Calibration(heating, carried, bool(np.allclose(carried, 1.0)))


def _strongest(
    case: Case, unknowns: Unknowns, heating: float, longest_s: float, grid: str
) -> Floats:
    """Minutes with the strongest heating, followed to the end."""
    one = np.full(len(unknowns), heating)
    run = bake(
        case,
        unknowns.with_heating(one),
        expected_s=2.0 * longest_s,
        until_s=max(6.0 * longest_s, MOST_S),
        grid=grid,
    )
    return run.when_core_reaches(unknowns.end_c) / 60.0


def heating_for(
    tried: Sequence[float], minutes: Floats, goal: float
) -> tuple[float, float]:
    """Strength at which the bake takes `goal` minutes, and what is carried over.

    Quadratic interpolation in the logarithms of both. A strength that did
    not finish (NaN) is too weak to matter.
    """
    done = np.isfinite(minutes)
    if not done.any():
        return float(tried[-1]), float("nan")
    x, y = np.log(minutes[done]), np.log(np.asarray(tried)[done])
    order = np.argsort(x)
    x, y = x[order], y[order]
    wanted = np.log(goal)
    if wanted < x[0] or wanted > x[-1]:
        end = 0 if wanted < x[0] else -1
        return float(np.exp(y[end])), float(goal / np.exp(x[end]))
    return float(np.exp(_between(x, y, float(wanted)))), 1.0


def _between(x: Floats, y: Floats, wanted: float) -> float:
    """Parabola through the three points nearest to `wanted`."""
    if len(x) < 3:
        return float(np.interp(wanted, x, y))
    first = int(np.clip(np.searchsorted(x, wanted) - 1, 0, len(x) - 3))
    if first + 3 < len(x) and wanted - x[first] > x[first + 2] - wanted:
        first += 1
    a, b, c = x[first : first + 3]
    p, q, r = y[first : first + 3]
    left, right = (q - p) / (b - a), (r - q) / (c - b)
    bend = (right - left) / (c - a)
    return float(p + left * (wanted - a) + bend * (wanted - a) * (wanted - b))
