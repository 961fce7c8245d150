"""Which way to round each weight so that the percentages stay closest.

Every weight can go down or up to a step of the scale. All combinations are
tried (2 to the power of the number of weights, at once in numpy) and the one
with the least

    sum over ingredients ((new % / old %) - 1)^2
    + 4 (new hydration / old hydration - 1)^2 + 1 (new salt / old salt - 1)^2

is taken, where % is the baker's percentage after **all** weights are
rounded, flour included. The weights 4 and 1 are our own choice: hydration is
what a hand feels first. Squares keep one large miss from hiding behind many
small ones. With more than 14 weights the heaviest, whose rounding hardly
counts, go to the nearest step first.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from bakelab.weighing.scales import Scale, clean, heaviest_first

__all__ = [
    "HYDRATION_WEIGHT",
    "LEAST_STEPS",
    "MOST_FREE",
    "SALT_WEIGHT",
    "Part",
    "best_weights",
]

HYDRATION_WEIGHT = 4.0
SALT_WEIGHT = 1.0
MOST_FREE = 14
LEAST_STEPS = 0.8  # our own: a whole step is then at most 25 % too much

Floats: TypeAlias = NDArray[np.float64]

_TIE = 1e-13


@dataclass(frozen=True)
class Part:
    """One weight to be rounded: its mass and what one gram of it holds."""

    mass_g: float
    flour: float = 0.0
    water: float = 0.0
    salt: float = 0.0


def best_weights(parts: Sequence[Part], scale: Scale) -> list[float]:
    """Weights on the steps of a scale that keep the percentages closest, g.

    A weight under 0.8 of a step stays as it is: the scale cannot show it, and
    a whole step would be over 25 % too much. None is rounded to nothing.
    """
    low = [_down(part.mass_g, scale) for part in parts]
    high = [_up(part.mass_g, scale) for part in parts]
    free = [i for i in range(len(parts)) if high[i] > low[i]]
    for i in _heaviest(parts, free, len(free) - MOST_FREE):
        low[i] = high[i] = scale.nearest_g(parts[i].mass_g)
    free = [i for i in free if high[i] > low[i]]
    ups = _best_ups(parts, np.array(low), np.array(high), free)
    for i, up in zip(free, ups, strict=True):
        low[i] = high[i] if up else low[i]
    return low


def _down(mass_g: float, scale: Scale) -> float:
    step = scale.step_g(mass_g)
    if mass_g < LEAST_STEPS * step:
        return mass_g
    return max(clean(math.floor(mass_g / step + 1e-9) * step), clean(step))


def _up(mass_g: float, scale: Scale) -> float:
    step = scale.step_g(mass_g)
    if mass_g < LEAST_STEPS * step:
        return mass_g
    return clean(math.ceil(mass_g / step - 1e-9) * step)


def _heaviest(parts: Sequence[Part], free: Sequence[int], count: int) -> list[int]:
    if count <= 0:
        return []
    order = heaviest_first(parts[i].mass_g for i in free)
    return [free[k] for k in order[:count]]


def _best_ups(
    parts: Sequence[Part], low: Floats, high: Floats, free: Sequence[int]
) -> list[bool]:
    if not free:
        return []
    scores = _objectives(parts, low, high, free)
    best = int(np.flatnonzero(scores <= scores.min() + _TIE)[-1])
    return [bool(bit) for bit in _bits(len(free))[best]]


def _objectives(
    parts: Sequence[Part], low: Floats, high: Floats, free: Sequence[int]
) -> Floats:
    """The objective of every combination; all sums are linear in the bits."""
    mass, flour, water, salt = _columns(parts)
    weighed = mass > 0
    per_gram = np.divide(1.0, mass, out=np.zeros_like(mass), where=weighed)
    kinds = (flour, water, salt, per_gram)
    terms, tops = _terms(low, kinds), _terms(high, kinds)
    steps = (tops - terms)[:, list(free)]
    sums = terms.sum(axis=1) + _bits(len(free)) @ steps.T
    old_flour = float(flour @ mass)
    ratio = old_flour / sums[:, 0]
    off = ratio**2 * sums[:, 4] - 2 * ratio * sums[:, 3] + weighed.sum()
    off += HYDRATION_WEIGHT * _squared(sums[:, 1], float(water @ mass), ratio)
    off += SALT_WEIGHT * _squared(sums[:, 2], float(salt @ mass), ratio)
    return np.asarray(off, dtype=np.float64)


def _terms(weights: Floats, kinds: Sequence[Floats]) -> Floats:
    flour, water, salt, per_gram = kinds
    share = per_gram * weights
    return np.stack([flour * weights, water * weights, salt * weights, share, share**2])


def _columns(parts: Sequence[Part]) -> tuple[Floats, Floats, Floats, Floats]:
    table = np.array([(p.mass_g, p.flour, p.water, p.salt) for p in parts]).T
    return table[0], table[1], table[2], table[3]


def _squared(new: Floats, old: float, ratio: Floats) -> Floats:
    if old <= 0:
        return np.zeros_like(new)
    return np.asarray((ratio * new / old - 1.0) ** 2, dtype=np.float64)


@lru_cache(maxsize=MOST_FREE + 1)
def _bits(count: int) -> Floats:
    numbers = np.arange(2**count)[:, None]
    return ((numbers >> np.arange(count)) & 1).astype(np.float64)
