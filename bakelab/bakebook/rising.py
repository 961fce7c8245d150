"""How far and how fast a dough rose, from readings of a jar or of its height."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

__all__ = ["RiseRate", "Slope", "proof_ratio", "rise_rate", "straight_line"]

Floats = npt.NDArray[np.float64]
FIRST_SHARE, LAST_SHARE = 0.15, 0.85  # of the whole rise; our own assumption
FEWEST = 3


@dataclass(frozen=True)
class Slope:
    """A straight line by least squares; the band holds the slope 95 times of 100.

    With two points there is no band: `low` and `high` are NaN.
    """

    slope: float
    low: float
    high: float
    start: float
    points: int


@dataclass(frozen=True)
class RiseRate:
    """Growth in % of the first reading per hour, while the dough rises steadily."""

    pct_h: float
    low_pct_h: float
    high_pct_h: float
    readings: int


def proof_ratio(values: Sequence[float]) -> float | None:
    """Last reading over the first, in order of time; None without two readings.

    Examples
    --------
    >>> proof_ratio([100, 140, 185])
    1.85
    """
    if len(values) < 2 or values[0] <= 0:
        return None
    return float(values[-1]) / float(values[0])


def rise_rate(minutes: Sequence[float], values: Sequence[float]) -> RiseRate | None:
    """Rate of the steady part of a rise, and its band.

    Parameters
    ----------
    minutes, values : sequence of float
        Times, and volumes or heights; at least two, in any order.

    Returns
    -------
    RiseRate or None
        None if the dough did not rise.

    Notes
    -----
    A straight line through the readings between 15 % and 85 % of the whole rise:
    before it the yeast wakes, after it the dough is nearly full. Where fewer
    than three readings lie there, all up to the highest are used. The band
    is Student's, with the scatter about the line; it says nothing of readings
    taken badly in the same way each time.
    """
    order = np.argsort(np.asarray(minutes, dtype=float), kind="stable")
    time = np.asarray(minutes, dtype=float)[order]
    level = np.asarray(values, dtype=float)[order]
    if len(level) < 2 or level[0] <= 0 or level.max() <= level[0]:
        return None
    used = _steady(level)
    if time[used][0] == time[used][-1]:
        return None
    line = straight_line(time[used] / 60.0, 100.0 * level[used] / level[0])
    return RiseRate(line.slope, line.low, line.high, line.points)


def _steady(level: Floats) -> npt.NDArray[np.intp]:
    peak = int(level.argmax())
    share = (level[: peak + 1] - level[0]) / (level[peak] - level[0])
    inside = np.flatnonzero((share >= FIRST_SHARE) & (share <= LAST_SHARE))
    return inside if len(inside) >= FEWEST else np.arange(peak + 1)


def straight_line(x: Sequence[float] | Floats, y: Sequence[float] | Floats) -> Slope:
    """Least squares line through two points or more, with Student's 95 % band.

    Examples
    --------
    >>> line = straight_line([0, 1, 2, 3], [1, 3, 5, 7])
    >>> line.slope, line.start
    (2.0, 1.0)
    """
    across, up = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    dx, dy = across - across.mean(), up - up.mean()
    spread = float(dx @ dx)
    slope = float(dx @ dy) / spread
    start = float(up.mean() - slope * across.mean())
    half = _half_band(dy - slope * dx, spread)
    return Slope(slope, slope - half, slope + half, start, len(across))


def _half_band(residuals: Floats, spread: float) -> float:
    # scipy comes without type hints, and is imported only when it is needed.
    from scipy.special import stdtrit  # type: ignore[import-untyped]

    free = len(residuals) - 2
    if free < 1:
        return math.nan
    error = math.sqrt(float(residuals @ residuals) / free / spread)
    return float(stdtrit(free, 0.975)) * error
