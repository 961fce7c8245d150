"""Where a loaf is coldest (or warmest), and when a curve gets somewhere."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.mesh import Mesh

__all__ = ["core_of", "crossing"]

Floats = NDArray[np.float64]


def core_of(mesh: Mesh, *, warming: bool) -> Callable[[Floats], Floats]:
    """A function that finds the coldest (or warmest) temperature in the loaf.

    On a plane of symmetry the profile is even, so its value there follows
    from the two nearest cells; along the other axes a parabola through the
    extreme cell and its neighbours.
    """
    lanes = mesh.lanes

    def core(celsius: Floats) -> Floats:
        grid = celsius.reshape(*mesh.shape, lanes)
        for axis in range(len(mesh.shape)):
            if mesh.mirrored[axis]:
                grid = _on_plane(grid, axis, mesh.centres[axis])
        for axis in range(len(mesh.shape)):
            if not mesh.mirrored[axis]:
                grid = _extreme(grid, axis, mesh.centres[axis], warming=warming)
        return grid.reshape(lanes)

    return core


def _on_plane(grid: Floats, axis: int, centres: Floats) -> Floats:
    first, second = centres[0] ** 2, centres[1] ** 2
    low, high = grid.take([0], axis=axis), grid.take([1], axis=axis)
    return np.asarray((low * second - high * first) / (second - first))


def _extreme(grid: Floats, axis: int, centres: Floats, *, warming: bool) -> Floats:
    values = np.moveaxis(grid, axis, 0).reshape(grid.shape[axis], -1)
    place = np.tile(centres, (1, values.shape[1] // centres.shape[1]))
    found = values.argmin(axis=0) if warming else values.argmax(axis=0)
    middle = np.clip(found, 1, len(values) - 2)
    lane = np.arange(values.shape[1])
    y0, y1, y2 = (values[middle + i, lane] for i in (-1, 0, 1))
    x0, x1, x2 = (place[middle + i, lane] for i in (-1, 0, 1))
    left, right = (y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1)
    bend = (right - left) / (x2 - x0)
    flat = np.abs(bend) < 1e-12
    slope = left + bend * (x1 - x0)
    step = np.where(flat, 0.0, -slope / (2.0 * np.where(flat, 1.0, bend)))
    step = np.clip(step, x0 - x1, x2 - x1)
    vertex = y1 + slope * step + bend * step**2
    edge = values[found, lane]
    best = np.minimum(vertex, edge) if warming else np.maximum(vertex, edge)
    shape = [*grid.shape]
    shape[axis] = 1
    return np.asarray(best.reshape(shape))


def crossing(seconds: Floats, curve: Floats, goal: Floats, *, rising: bool) -> Floats:
    goals = np.broadcast_to(np.asarray(goal, dtype=float), curve.shape[1:])
    there = curve >= goals if rising else curve <= goals
    first = there.argmax(axis=0)
    lane = np.arange(curve.shape[1])
    before = np.maximum(first - 1, 0)
    y0, y1 = curve[before, lane], curve[first, lane]
    gap = np.where(y1 == y0, 1.0, y1 - y0)
    share = np.where(first == 0, 0.0, (goals - y0) / gap)
    when = seconds[before] + share * (seconds[first] - seconds[before])
    return np.where(there.any(axis=0), when, np.nan)
