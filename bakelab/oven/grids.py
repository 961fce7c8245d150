"""Positions of cells along one axis, finer towards the surfaces.

What area a face has and what volume a cell, per unit of the other axes, depends
on the axis: straight, around an axis of rotation, or around a centre.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Grid", "Metric", "edges", "flat", "grid_between", "ring", "shell"]

Floats = NDArray[np.float64]
FINER_AT_SURFACE = 0.5  # a cell at the surface is this share thinner than the mean


def edges(
    low: float, high: float, cells: int, *, mirrored: bool, finer: float | None = None
) -> Floats:
    """Positions of the cell faces from `low` to `high`, finer at the surfaces.

    With `mirrored` the lower end is a plane of symmetry and only the upper
    one a surface.
    """
    share = FINER_AT_SURFACE if finer is None else finer
    place = np.linspace(0.0 if mirrored else -1.0, 1.0, cells + 1)
    graded = place * (1.0 + share * (1.0 - np.abs(place)))
    if not mirrored:
        graded = (graded + 1.0) / 2.0
    return low + (high - low) * graded


@dataclass(frozen=True)
class Grid:
    faces: Floats  # (cells + 1, samples)
    mirrored: bool

    @property
    def centre(self) -> Floats:
        return (self.faces[1:] + self.faces[:-1]) / 2.0

    @property
    def width(self) -> Floats:
        return np.diff(self.faces, axis=0)


#: A face's area factor and the cell's volume factor from the faces.
Metric = Callable[[Floats], tuple[Floats, Floats]]


def flat(faces: Floats) -> tuple[Floats, Floats]:
    return np.ones_like(faces), np.diff(faces, axis=0)


def ring(faces: Floats) -> tuple[Floats, Floats]:
    return faces.copy(), np.diff(faces**2, axis=0) / 2.0


def shell(faces: Floats) -> tuple[Floats, Floats]:
    return faces**2, np.diff(faces**3, axis=0) / 3.0


def grid_between(
    low: float | list[float],
    high: list[float],
    cells: int,
    mirrored: bool,
    finer: float | None,
) -> Grid:
    unit = edges(0.0, 1.0, cells, mirrored=mirrored, finer=finer)[:, None]
    bottom = np.broadcast_to(np.asarray(low, dtype=float), (len(high),))
    top = np.asarray(high, dtype=float)
    return Grid(bottom + (top - bottom) * unit, mirrored)
