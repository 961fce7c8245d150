"""Exact series for heat in slabs, cylinders, spheres and bricks.

A body at one temperature is put into surroundings at another: the share of
the difference that is left at a place and time, by Biot and Fourier number. An
infinite Biot number means a surface at the temperature of the surroundings.

References
----------
Carslaw & Jaeger, *Conduction of Heat in Solids*, 2nd ed., 1959; the eigenvalue
equations are those printed in every text on heat transfer.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache

__all__ = [
    "brick_centre",
    "cylinder_left",
    "slab_eigenvalues",
    "slab_left",
    "sphere_left",
]

TERMS = 60


def slab_eigenvalues(biot: float, terms: int = TERMS) -> tuple[float, ...]:
    """Roots of ``z tan z = Bi``, by bisection."""
    if math.isinf(biot):
        return tuple((n + 0.5) * math.pi for n in range(terms))
    return tuple(
        _root(lambda z: z * math.sin(z) - biot * math.cos(z), *_span(n))
        for n in range(terms)
    )


def slab_left(biot: float, fourier: float, place: float = 0.0) -> float:
    """Share left in a slab at `place` (0 centre, 1 surface)."""
    total = 0.0
    for z in _slab_roots(biot):
        weight = 4 * math.sin(z) / (2 * z + math.sin(2 * z))
        total += weight * math.exp(-z * z * fourier) * math.cos(z * place)
    return total


def cylinder_left(biot: float, fourier: float, place: float = 0.0) -> float:
    """Share left in an endless cylinder at `place` (0 axis, 1 surface)."""
    total = 0.0
    for z in _cylinder_roots(biot):
        j0, j1 = bessel(0, z), bessel(1, z)
        weight = 2 / z * j1 / (j0 * j0 + j1 * j1)
        total += weight * math.exp(-z * z * fourier) * bessel(0, z * place)
    return total


def sphere_left(biot: float, fourier: float, place: float = 0.0) -> float:
    """Share left in a ball at `place` (0 centre, 1 surface)."""
    total = 0.0
    for z in _sphere_roots(biot):
        weight = 4 * (math.sin(z) - z * math.cos(z)) / (2 * z - math.sin(2 * z))
        shape = math.sin(z * place) / (z * place) if place > 0 else 1.0
        total += weight * math.exp(-z * z * fourier) * shape
    return total


def brick_centre(
    sides_m: Sequence[float],
    *,
    coefficient: float,
    conductivity: float,
    diffusivity: float,
    seconds: float,
) -> float:
    """Share left at the centre of a brick, the product of three slabs."""
    product = 1.0
    for side in sides_m:
        half = side / 2
        biot = coefficient * half / conductivity
        product *= slab_left(biot, diffusivity * seconds / half**2)
    return product


def bessel(order: int, x: float) -> float:
    """Bessel function of the first kind, order 0 or 1.

    By its integral, ``1/pi of cos(order t - x sin t) over 0..pi``, with the
    trapezoid rule, which for a periodic function is as good as exact.
    """
    points = 64 + int(2 * abs(x))
    ends = 0.5 * (1.0 + math.cos(order * math.pi))
    inner = math.fsum(
        math.cos(order * t - x * math.sin(t))
        for t in (math.pi * i / points for i in range(1, points))
    )
    return (ends + inner) / points


@lru_cache(maxsize=64)
def _slab_roots(biot: float) -> tuple[float, ...]:
    return slab_eigenvalues(biot)


@lru_cache(maxsize=64)
def _cylinder_roots(biot: float) -> tuple[float, ...]:
    if math.isinf(biot):
        return tuple(
            _root(lambda z: bessel(0, z), (n + 0.5) * math.pi, (n + 1) * math.pi)
            for n in range(TERMS)
        )
    return tuple(
        _root(
            lambda z: z * bessel(1, z) - biot * bessel(0, z),
            *((n + 0.25 * (n > 0)) * math.pi + 1e-9 * (n == 0), (n + 0.8) * math.pi),
        )
        for n in range(TERMS)
    )


@lru_cache(maxsize=64)
def _sphere_roots(biot: float) -> tuple[float, ...]:
    if math.isinf(biot):
        return tuple((n + 1) * math.pi for n in range(TERMS))
    return tuple(
        _root(
            lambda z: z * math.cos(z) + (biot - 1) * math.sin(z),
            n * math.pi + 1e-9,
            (n + 1) * math.pi - 1e-12,
        )
        for n in range(TERMS)
    )


def _span(n: int) -> tuple[float, float]:
    return n * math.pi, (n + 0.5) * math.pi


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    """Bisection to the last digit."""
    sign = function(low) > 0
    for _ in range(80):
        middle = (low + high) / 2
        if (function(middle) > 0) == sign:
            low = middle
        else:
            high = middle
    return (low + high) / 2
