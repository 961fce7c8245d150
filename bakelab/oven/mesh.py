"""Finite volumes of a loaf: a quarter of a box, a round or ring, a slab.

Cells are numbered in one row per cell; the columns are the samples that are
computed side by side, each with measures of its own but the same number of
cells. Cells are finer towards the surfaces. Floats, metres.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.grids import Grid, Metric, flat, grid_between, ring, shell

__all__ = ["Axis", "Mesh", "Outside", "box", "cylinder", "slab", "sphere"]

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Axis:
    """Faces between neighbours that lie `step` rows apart.

    `near` and `far` are area over distance (m) from the face to the centre
    on its lower and upper side; the faces of a row that has no neighbour
    are marked with `joined` 0.
    """

    step: int
    near: Floats
    far: Floats
    joined: Floats


@dataclass(frozen=True)
class Outside:
    """Cell faces at one end of an axis: which rows, area (m2), half width (m).

    Both walls of a box have the same `side`, each its own entry.
    """

    side: str
    rows: NDArray[np.intp]
    area: Floats
    half: Floats


@dataclass(frozen=True)
class Mesh:
    """Cells, the faces between them and those at the outside.

    `copies` says how many of this piece make the whole loaf (4 quarters);
    `centres` are the coordinates of the cell centres along each axis.
    """

    kind: str
    shape: tuple[int, ...]
    volume: Floats
    axes: tuple[Axis, ...]
    outsides: tuple[Outside, ...]
    centres: tuple[Floats, ...]
    mirrored: tuple[bool, ...]
    copies: float

    @property
    def lanes(self) -> int:
        """Samples computed side by side."""
        return int(self.volume.shape[1])

    def stiffness(self) -> Floats:
        """Bound on how fast a cell can change, over the diffusivity, 1/m2.

        By Gershgorin: twice the conductances to the neighbours and once
        those to the outside, over the volume; the largest of all cells.
        """
        total = np.zeros_like(self.volume)
        for axis in self.axes:
            face = 2.0 / (1.0 / axis.near + 1.0 / axis.far) * axis.joined
            total[: -axis.step] += face
            total[axis.step :] += face
        for outside in self.outsides:
            total[outside.rows] += outside.area / outside.half
        return np.asarray((total / self.volume).max(axis=0))


def box(
    length: Sequence[float],
    width: Sequence[float],
    height: Sequence[float],
    cells: tuple[int, int, int],
    *,
    finer: float | None = None,
) -> Mesh:
    """A quarter of a box, cut by its two upright planes of symmetry.

    Full measures in m, one per sample; axes along the length, the width and
    upwards. Sides "side", "bottom" and "top".
    """
    grids = [
        grid_between(low, high, n, mirrored, finer)
        for low, high, n, mirrored in (
            (0.0, [v / 2 for v in length], cells[0], True),
            (0.0, [v / 2 for v in width], cells[1], True),
            (0.0, list(height), cells[2], False),
        )
    ]
    return _mesh(
        "box",
        grids,
        (flat, flat, flat),
        ((None, "side"), (None, "side"), ("bottom", "top")),
        copies=4.0,
    )


def cylinder(
    radius: Sequence[float],
    height: Sequence[float],
    cells: tuple[int, int],
    *,
    tube: Sequence[float] | None = None,
    finer: float | None = None,
) -> Mesh:
    """A round loaf, or a ring around a tube, by radius and height.

    Sides "side", "tube" (if there is one), "bottom" and "top".
    """
    inner = [0.0] * len(radius) if tube is None else list(tube)
    across = grid_between(inner, list(radius), cells[0], tube is None, finer)
    upward = grid_between(0.0, list(height), cells[1], False, finer)
    return _mesh(
        "cylinder",
        [across, upward],
        (ring, flat),
        ((None if tube is None else "tube", "side"), ("bottom", "top")),
        copies=2.0 * math.pi,
    )


def slab(
    height: Sequence[float],
    area: float,
    cells: int,
    *,
    mirrored: bool = False,
    finer: float | None = None,
) -> Mesh:
    """A flat bread of an area in m2, by height only; its edges are left out."""
    upward = grid_between(0.0, list(height), cells, mirrored, finer)
    sides = ((None if mirrored else "bottom", "top"),)
    return _mesh("slab", [upward], (flat,), sides, copies=area)


def sphere(radius: Sequence[float], cells: int, *, finer: float | None = None) -> Mesh:
    """A ball of dough, by radius only; all of its surface is "top"."""
    across = grid_between(0.0, list(radius), cells, True, finer)
    return _mesh("sphere", [across], (shell,), ((None, "top"),), copies=4.0 * math.pi)


def _mesh(
    kind: str,
    grids: Sequence[Grid],
    metrics: Sequence[Metric],
    sides: Sequence[tuple[str | None, str | None]],
    *,
    copies: float,
) -> Mesh:
    shape = tuple(g.width.shape[0] for g in grids)
    lanes = grids[0].faces.shape[1]
    measured = [metric(g.faces) for metric, g in zip(metrics, grids, strict=True)]
    volumes = [m[1] for m in measured]
    volume = _product(volumes, shape, lanes)
    parts = [
        _along(i, grids[i], measured[i][0], volumes, shape, lanes)
        for i in range(len(grids))
    ]
    outsides = [
        outside
        for i, grid in enumerate(grids)
        for outside in _ends(i, grid, measured[i][0], volumes, shape, sides[i])
    ]
    return Mesh(
        kind,
        shape,
        volume.reshape(-1, lanes),
        tuple(parts),
        tuple(outsides),
        tuple(g.centre for g in grids),
        tuple(g.mirrored for g in grids),
        copies,
    )


def _product(factors: Sequence[Floats], shape: tuple[int, ...], lanes: int) -> Floats:
    total = np.ones((*shape, lanes))
    for i, factor in enumerate(factors):
        total = total * _spread(factor, i, len(shape))
    return total


def _spread(values: Floats, axis: int, axes: int) -> Floats:
    """Values along one axis, (n, samples), made ready to multiply in the grid."""
    view = [1] * axes + [values.shape[1]]
    view[axis] = values.shape[0]
    return values.reshape(view)


def _along(
    i: int,
    grid: Grid,
    area: Floats,
    volumes: Sequence[Floats],
    shape: tuple[int, ...],
    lanes: int,
) -> Axis:
    step = math.prod(shape[i + 1 :])
    padded = [*volumes]
    low = np.zeros((shape[i], lanes))
    high, joined = np.zeros_like(low), np.zeros_like(low)
    low[:-1] = area[1:-1] / (grid.width[:-1] / 2.0)
    high[:-1] = area[1:-1] / (grid.width[1:] / 2.0)
    low[-1] = high[-1] = area[-1] / (grid.width[-1] / 2.0)  # no neighbour: not used
    joined[:-1] = 1.0
    faces = []
    for values in (low, high):
        padded[i] = values
        faces.append(_product(padded, shape, lanes).reshape(-1, lanes)[:-step])
    ones = [np.ones_like(v) for v in volumes]
    ones[i] = joined
    marks = _product(ones, shape, lanes).reshape(-1, lanes)[:-step]
    return Axis(step, faces[0], faces[1], marks)


def _ends(
    i: int,
    grid: Grid,
    area: Floats,
    volumes: Sequence[Floats],
    shape: tuple[int, ...],
    sides: tuple[str | None, str | None],
) -> list[Outside]:
    lanes = area.shape[1]
    rows = np.arange(math.prod(shape)).reshape(shape)
    found = []
    for name, cell, face in ((sides[0], 0, 0), (sides[1], shape[i] - 1, -1)):
        if name is None:
            continue
        factors = [v if j != i else area[face][None] for j, v in enumerate(volumes)]
        one = tuple(1 if j == i else n for j, n in enumerate(shape))
        spread = _product(factors, one, lanes).reshape(-1, lanes)
        half = np.broadcast_to(grid.width[cell] / 2.0, spread.shape).copy()
        found.append(Outside(name, rows.take([cell], axis=i).reshape(-1), spread, half))
    return found
