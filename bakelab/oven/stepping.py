"""Steps in time: a Runge-Kutta-Legendre scheme of second order.

Explicit, so it conserves what the rates conserve, and stable for steps that
grow with the square of the number of stages.

References
----------
Meyer, Balsara & Aslam, J. Comput. Phys. 257 (2014) 594-626 (RKL2). The
coefficients were written down from memory; the tests show the second order
and the analytic solutions they lead to.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

import numpy as np
from numpy.typing import NDArray

__all__ = ["LegendreSteps", "stages_for"]

Floats = NDArray[np.float64]
Rate = Callable[[Floats, Floats], None]


def stages_for(step_s: float, fastest_per_s: float) -> int:
    """Stages that keep a step stable, odd and at least 3.

    ``step <= (s^2 + s - 2) / 4 * 2 / fastest``, with the largest
    eigenvalue `fastest_per_s` of the rates.
    """
    need = 2.0 * step_s * fastest_per_s + 2.0
    stages = max(3, math.ceil((math.sqrt(1.0 + 4.0 * need) - 1.0) / 2.0))
    return stages + 1 - stages % 2


class LegendreSteps:
    """Steps a state in place; holds its arrays, so a step makes none."""

    def __init__(self, rate: Rate, shape: tuple[int, ...]) -> None:
        self._rate = rate
        self._start, self._slope0, self._slope = (np.empty(shape) for _ in range(3))
        self._last, self._before, self._part = (np.empty(shape) for _ in range(3))

    def step(self, state: Floats, step_s: float, stages: int) -> None:
        """Move `state` on by `step_s` seconds."""
        start, slope0, part = self._start, self._slope0, self._part
        start[:] = state
        self._rate(start, slope0)
        first, others = _coefficients(stages)
        before, last = self._before, self._last
        before[:] = start
        np.multiply(slope0, first * step_s, out=last)
        last += start
        for mu, nu, rest, slope_now, slope_first in others:
            self._rate(last, self._slope)
            before *= nu
            np.multiply(last, mu, out=part)
            before += part
            np.multiply(start, rest, out=part)
            before += part
            self._slope *= slope_now * step_s
            before += self._slope
            np.multiply(slope0, slope_first * step_s, out=part)
            before += part
            before, last = last, before
        self._before, self._last = before, last
        state[:] = last


@cache
def _coefficients(stages: int) -> tuple[float, tuple[tuple[float, ...], ...]]:
    """Weight of the first stage, and five weights of each later stage."""
    b = [1.0 / 3.0] * 2 + [
        (j * j + j - 2) / (2 * j * (j + 1)) for j in range(2, stages + 1)
    ]
    b[2] = 1.0 / 3.0
    w = 4.0 / (stages * stages + stages - 2)
    others = []
    for j in range(2, stages + 1):
        mu = (2 * j - 1) / j * b[j] / b[j - 1]
        nu = -(j - 1) / j * b[j] / b[j - 2]
        now = mu * w
        others.append((mu, nu, 1.0 - mu - nu, now, -(1.0 - b[j - 1]) * now))
    return b[1] * w, tuple(others)
