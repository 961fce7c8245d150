"""The outside of a loaf: heat from air, walls and pan, vapour from bare dough."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.boiling import latent_heat_j_kg
from bakelab.oven.cells import Cells
from bakelab.oven.mesh import Mesh, Outside
from bakelab.oven.surroundings import STEFAN_BOLTZMANN, Surroundings

__all__ = ["Skin"]

Floats = NDArray[np.float64]
KELVIN = 273.15
MAGNUS_PA, MAGNUS_B, MAGNUS_C = 610.94, 17.625, 243.04  # WMO guide; from memory
LEWIS = 6.8e-9
"""Vapour transfer over heat transfer, kg/(s Pa m2) per W/(m2 K).

1 / (rho cp Le^(2/3) Rv T) for moist air near 80 degC: 1 / (909 * 461.5 * 350).
"""
CRUST_RESISTANCE = 1.7e10  # m s Pa / kg: a dry crust, 4 times still air; our own
LATENT_SLOPE = (latent_heat_j_kg(0.0) - latent_heat_j_kg(100.0)) / 100.0


class Skin:
    """Cell faces at the outside, the bare ones last; holds its arrays.

    The temperature of the outer surface follows from what comes in and what
    goes on, with radiation taken at the surface's last temperature.
    """

    def __init__(self, mesh: Mesh, cells: Cells, surroundings: Surroundings) -> None:
        self._cells, self.material = cells, cells.material
        self.surroundings = surroundings
        outsides = sorted(
            mesh.outsides, key=lambda o: surroundings.sides[o.side].exposed
        )
        self._laid_out(outsides, mesh.lanes)
        self.at(0.0)

    def at(self, seconds: float) -> None:
        """Set the air and its vapour to what they are at a time."""
        self.vapour_pa = self.surroundings.vapour_pa(seconds)
        self._air_c = np.broadcast_to(
            self.surroundings.air_at(seconds), self._area.shape
        )

    def flow(self, energy: Floats, water: Floats, sums: Floats) -> None:
        """Add what comes and goes, per second, to the cells and to the sums."""
        rows, area = self._rows, self._area
        cell = self._cells.celsius[rows]
        inward = 1.0 / (self._half / self._cells.through(rows) + self._resistance)
        coming = self._coming()
        whole = coming + inward
        surface = coming * self._air_c + inward * cell
        bare = self._bare
        flow, steeper, latent = self._drying(cell[bare])
        gain = steeper * latent
        whole[bare] += gain
        surface[bare] += gain * cell[bare] - flow * latent
        surface /= whole
        self._outer = surface
        heat = coming * (self._air_c - surface) * area
        lost = (flow + steeper * (surface[bare] - cell[bare])) * area[bare]
        carried = lost * self._leaving_heat(cell[bare])
        sums[0] = heat.sum(axis=0)
        sums[1], sums[2] = carried.sum(axis=0), lost.sum(axis=0)
        heat[bare] -= carried
        for part, inside in self._groups:
            energy[inside] += heat[part]
        for part, inside in self._bare_groups:
            water[inside] -= lost[part]

    def _coming(self) -> Floats:
        """Convection and radiation per kelvin, at the outer surface last found."""
        outer, air = self._outer + KELVIN, self._air_c + KELVIN
        radiation = self._radiation * (air * air + outer * outer) * (air + outer)
        return np.asarray(radiation + self._convection)

    def _drying(self, cell: Floats) -> tuple[Floats, Floats, Floats]:
        """Vapour from bare dough: as warm as the cell, per kelvin more, its heat."""
        mat, rows = self.material, self._bare_rows
        warm = np.minimum(cell, mat.boiling)
        below = warm + MAGNUS_C
        pressure = MAGNUS_PA * np.exp(MAGNUS_B * warm / below)
        slope = pressure * (MAGNUS_B * MAGNUS_C) / (below * below)
        left, wetness = self._cells.left[rows], self._cells.wetness[rows]
        dried = 1.0 - left / np.maximum(left + self._cells.steam[rows], 1e-9)
        transfer = wetness * self._has / (self._per_lewis + dried * self._crust)
        latent = mat.latent + LATENT_SLOPE * (mat.boiling - warm)
        return transfer * (pressure - self.vapour_pa), transfer * slope, latent

    def _leaving_heat(self, cell: Floats) -> Floats:
        mat = self.material
        latent = mat.latent + LATENT_SLOPE * (mat.boiling - cell)
        return np.asarray(mat.heat_water * cell + latent)

    def surface_c(self, side: str) -> Floats:
        """Mean temperature of the dough's surface on one side, degC."""
        part = self._parts[side]
        area, rows = self._area[part], self._rows[part]
        inward = self._half[part] / self._cells.through(rows)
        share = inward / (inward + self._resistance[part])
        cell = self._cells.celsius[rows]
        surface = cell + share * (self._outer[part] - cell)
        return np.asarray((surface * area).sum(axis=0) / area.sum(axis=0))

    @property
    def sides(self) -> tuple[str, ...]:
        """The sides of the loaf that face the oven."""
        return tuple(self._parts)

    def _laid_out(self, outsides: Sequence[Outside], lanes: int) -> None:
        """Properties of each face, repeated for every sample."""
        self._rows = np.concatenate([o.rows for o in outsides])
        self._area = np.concatenate([o.area for o in outsides])
        self._half = np.concatenate([o.half for o in outsides])

        def face(values: list[Floats]) -> Floats:
            parts = [
                np.broadcast_to(v, (len(o.rows), lanes))
                for v, o in zip(values, outsides, strict=True)
            ]
            return np.concatenate(parts)

        sides = self.surroundings.sides
        used = [sides[o.side] for o in outsides]
        self._convection = face([s.convection for s in used])
        self._radiation = face([s.emissivity * STEFAN_BOLTZMANN for s in used])
        self._resistance = face([s.resistance for s in used])
        self._outer = np.full(self._area.shape, 60.0)
        self._group_rows(outsides)
        self._bare_skin(outsides)

    def _bare_skin(self, outsides: Sequence[Outside]) -> None:
        """The last faces are those of bare dough, which dries."""
        sides = self.surroundings.sides
        count = sum(len(o.rows) for o in outsides if sides[o.side].exposed)
        first = len(self._rows) - count
        self._bare = slice(first, None)
        self._bare_rows = self._rows[first:]
        self._has = np.where(self.material.water > 0, 1.0, 0.0)
        convection = np.maximum(self._convection[first:], 1e-6)
        self._per_lewis = 1.0 / (LEWIS * convection)
        self._crust = 2.0 * self._half[first:] * CRUST_RESISTANCE
        self._bare_groups = [
            (slice(part.start - first, part.stop - first), rows)
            for part, rows in self._groups
            if part.start >= first
        ]

    def _group_rows(self, outsides: Sequence[Outside]) -> None:
        self._groups: list[tuple[slice, NDArray[np.intp]]] = []
        places: dict[str, list[NDArray[np.intp]]] = {}
        first = 0
        for outside in outsides:
            last = first + len(outside.rows)
            self._groups.append((slice(first, last), outside.rows))
            places.setdefault(outside.side, []).append(np.arange(first, last))
            first = last
        self._parts = {side: np.concatenate(p) for side, p in places.items()}
