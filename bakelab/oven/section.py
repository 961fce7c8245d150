"""A cut across the middle of a loaf over time, as a table for a heat map."""

from __future__ import annotations

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from bakelab.oven.material import Material
from bakelab.oven.mesh import Mesh
from bakelab.oven.solver import Run

__all__ = ["CUT_COLUMNS", "middle_cuts"]

Floats = NDArray[np.float64]
CUT_COLUMNS = (
    "minutes",
    "across_cm",
    "up_cm",
    "width_cm",
    "height_cm",
    "celsius",
    "water_pct",
)


def middle_cuts(run: Run, material: Material, *, lane: int = 0) -> pd.DataFrame:
    """Temperature and water in the cross-section at mid-length.

    Returns
    -------
    DataFrame
        `CUT_COLUMNS`: a cell's centre and size in cm (0 across is the
        middle), its temperature, and how much of its first water is left.
    """
    mesh = run.mesh
    across, widths = _across(mesh, lane)
    up, heights = _cells(mesh.centres[-1][:, lane])
    water = float(material.water[lane])
    frames = []
    for seconds, celsius, left in run.cuts:
        grid = [_plane(mesh, values[:, lane]) for values in (celsius, left)]
        place, size = (
            np.meshgrid(across, up, indexing="ij")[0],
            np.outer(widths, np.ones_like(heights)),
        )
        cells = {
            "minutes": seconds / 60.0,
            "across_cm": 100 * place.ravel(),
            "up_cm": 100 * np.tile(up, len(across)),
            "width_cm": 100 * size.ravel(),
            "height_cm": 100 * np.tile(heights, len(across)),
            "celsius": grid[0].ravel(),
            "water_pct": 100 * grid[1].ravel() / water,
        }
        frames.append(pd.DataFrame(cells))
    return pd.concat(frames, ignore_index=True)


def _plane(mesh: Mesh, values: Floats) -> Floats:
    """Cells of the section, (across, up), mirrored to the whole width."""
    grid = values.reshape(mesh.shape)
    if mesh.kind == "slab":
        return grid[None, :]
    half = grid[0] if mesh.kind == "box" else grid
    return np.concatenate([half[::-1], half])


def _across(mesh: Mesh, lane: int) -> tuple[Floats, Floats]:
    if mesh.kind == "slab":
        return np.zeros(1), np.ones(1) * 0.1
    axis = 1 if mesh.kind == "box" else 0
    centres = mesh.centres[axis][:, lane]
    _, widths = _cells(centres, low=None if mesh.mirrored[axis] else 0.0)
    return (
        np.concatenate([-centres[::-1], centres]),
        np.concatenate([widths[::-1], widths]),
    )


def _cells(centres: Floats, low: float | None = None) -> tuple[Floats, Floats]:
    """Centres and widths of cells that lie edge to edge."""
    first = centres[0] if low is None else (centres[1] - centres[0]) / 2.0
    edges = [centres[0] - first]
    for centre in centres:
        edges.append(2.0 * centre - edges[-1])
    return centres, np.diff(np.array(edges))
