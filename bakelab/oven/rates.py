"""Heat and water moving between the cells of a loaf, at one moment.

The state of a cell is the heat it has got (``E``, J/m3, the heat that left
with its steam included) and the water it has got (``m``, kg/m3, the water that
left as steam included). Temperature and remaining water follow from both:
below the boiling point ``E`` is sensible heat; at the boiling point every
further joule evaporates water, which leaves as steam; without water the cell
warms on. So a wet crumb holds the boiling point, the place where water is
gone moves inwards, and what is behind it is crust.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.boiling import latent_heat_j_kg
from bakelab.oven.material import WET_SHARE, Material
from bakelab.oven.mesh import Mesh, Outside
from bakelab.oven.surroundings import STEFAN_BOLTZMANN, Surroundings

__all__ = ["Rates"]

Floats = NDArray[np.float64]
KELVIN = 273.15
MAGNUS_PA, MAGNUS_B, MAGNUS_C = 610.94, 17.625, 243.04  # WMO guide; from memory
LEWIS = 6.8e-9
"""Vapour transfer over heat transfer, kg/(s Pa m2) per W/(m2 K).

1 / (rho cp Le^(2/3) Rv T) for moist air near 80 degC: 1 / (909 * 461.5 * 350).
"""
CRUST_RESISTANCE = 1.7e10  # m s Pa / kg: a dry crust, 4 times still air; our own
INSIDE_C = 85.0  # where the heat that vapour carries inside the loaf is taken
LATENT_SLOPE = (latent_heat_j_kg(0.0) - latent_heat_j_kg(100.0)) / 100.0


class Rates:
    """Rates of change of a state; holds every array, so a call makes none.

    The rows of a state are ``E`` of all cells, ``m`` of all cells, the heat
    that came from the oven (J) and the heat (J) and water (kg) that left from
    the surface as vapour, all of one mesh.
    """

    def __init__(
        self, mesh: Mesh, material: Material, surroundings: Surroundings
    ) -> None:
        self.mesh, self.material, self.surroundings = mesh, material, surroundings
        self.cells, lanes = mesh.volume.shape
        shape = (self.cells, lanes)
        self._tiled(shape)
        self._scratch = [np.empty(shape) for _ in range(3)]
        self.celsius, self.steam = np.empty(shape), np.empty(shape)
        self.left, self.conduct = np.empty(shape), np.empty(shape)
        self.carry, self.wetness = np.zeros(shape), np.zeros(shape)
        self._faces()
        self._outer: Floats
        self._skin()
        self.at(0.0)

    def start(self, celsius: Floats) -> Floats:
        """The state of a loaf that is as warm everywhere."""
        state = np.zeros((2 * self.cells + 3, self.mesh.lanes))
        state[: self.cells] = self.material.enthalpy(celsius, self.material.water)
        state[self.cells : 2 * self.cells] = self.material.water
        return state

    def at(self, seconds: float) -> None:
        """Set the air and its vapour to what they are at a time."""
        self.vapour_pa = self.surroundings.vapour_pa(seconds)
        self._air_c = np.broadcast_to(
            self.surroundings.air_at(seconds), self._area.shape
        )
        self._air_kelvin = self._air_c + KELVIN

    def read(self, state: Floats) -> None:
        """Set `celsius`, `left` (water, kg/m3) and `steam` (left, kg/m3)."""
        mat, n = self.material, self.cells
        energy, water = state[:n], state[n : 2 * n]
        a, b, _ = self._scratch
        # heat beyond what the cell holds at the boiling point
        np.multiply(water, self._water_at_boiling, out=a)
        np.add(a, self._solids_at_boiling, out=a)
        np.subtract(energy, a, out=a)
        np.multiply(a, self._per_latent, out=a)
        np.maximum(a, 0.0, out=a)
        np.minimum(a, water, out=self.steam)
        np.subtract(water, self.steam, out=self.left)
        # sensible heat of what is left, solved for the temperature
        np.multiply(self.steam, self._steam_heat, out=a)
        np.subtract(energy, a, out=a)
        np.multiply(self.left, mat.heat_water[0], out=b)
        np.add(b, self._held, out=b)
        self._solve(a, b)

    def _solve(self, heat: Floats, first: Floats) -> None:
        """Temperature from ``heat = first t + second t^2``."""
        root = self._scratch[2]
        np.multiply(heat, self._twice_slope, out=root)
        np.multiply(first, first, out=self.celsius)
        np.add(root, self.celsius, out=root)
        np.sqrt(root, out=root)
        np.add(root, first, out=root)
        np.divide(heat, root, out=self.celsius)
        np.add(self.celsius, self.celsius, out=self.celsius)

    def __call__(self, state: Floats, out: Floats) -> None:
        """Write the rates of change of `state` into `out`."""
        self.read(state)
        self.conductivities()
        out.fill(0.0)
        energy, water = out[: self.cells], out[self.cells : 2 * self.cells]
        inverse = self._scratch[0]
        np.divide(1.0, self.conduct, out=inverse)
        for index, axis in enumerate(self.mesh.axes):
            self._between(index, axis.step, inverse, energy, water)
        self._outside(energy, water, out[2 * self.cells :])
        np.multiply(energy, self._per_volume, out=energy)
        np.multiply(water, self._per_volume, out=water)

    def conductivities(self) -> None:
        a = self._scratch[0]
        np.multiply(self.celsius, self._wet_slope, out=a)
        np.add(a, self._wet_gain, out=a)
        np.multiply(a, self.left, out=a)
        np.add(a, self._dry, out=self.conduct)
        if not self._has_water:
            return
        c0, c1, c2 = self._vapour
        np.minimum(self.celsius, self._boiling, out=a)
        np.multiply(a, c2, out=self.carry)
        np.add(self.carry, c1, out=self.carry)
        np.multiply(self.carry, a, out=self.carry)
        np.add(self.carry, c0, out=self.carry)
        np.exp(self.carry, out=self.carry)
        np.multiply(self.left, self._per_wet, out=self.wetness)
        np.minimum(self.wetness, 1.0, out=self.wetness)

    def _between(
        self, index: int, step: int, inverse: Floats, energy: Floats, water: Floats
    ) -> None:
        near, far, both = self._axes[index]
        gap, flow, heat = self._buffers[index]
        np.subtract(self.celsius[step:], self.celsius[:-step], out=gap)
        np.multiply(inverse[:-step], near, out=heat)
        np.multiply(inverse[step:], far, out=flow)
        np.add(heat, flow, out=heat)
        np.divide(gap, heat, out=heat)
        if self._has_water:
            np.minimum(self.wetness[:-step], self.wetness[step:], out=flow)
            np.multiply(flow, both, out=flow)
            np.multiply(flow, gap, out=flow)
            np.add(self.carry[:-step], self.carry[step:], out=gap)
            np.multiply(flow, gap, out=flow)
            water[:-step] += flow
            water[step:] -= flow
            np.multiply(flow, self._inside_heat, out=flow)
            np.add(heat, flow, out=heat)
        energy[:-step] += heat
        energy[step:] -= heat

    def _outside(self, energy: Floats, water: Floats, sums: Floats) -> None:
        rows, area = self._rows, self._area
        cell = self.celsius[rows]
        wetness = self.wetness[rows]
        through = self.conduct[rows] + self.carry[rows] * wetness
        inward = 1.0 / (self._half / through + self._resistance)
        outer = self._outer + KELVIN
        kelvin = self._air_kelvin
        coming = self._radiation * (kelvin * kelvin + outer * outer) * (kelvin + outer)
        coming += self._convection
        whole = coming + inward
        surface = coming * self._air_c + inward * cell
        bare = self._bare
        flow, steeper, latent = self._drying(cell[bare], wetness[bare])
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

    def _drying(self, cell: Floats, wetness: Floats) -> tuple[Floats, Floats, Floats]:
        """Vapour from bare dough: as warm as the cell, per kelvin more, its heat."""
        mat, rows = self.material, self._bare_rows
        warm = np.minimum(cell, mat.boiling)
        below = warm + MAGNUS_C
        pressure = MAGNUS_PA * np.exp(MAGNUS_B * warm / below)
        slope = pressure * (MAGNUS_B * MAGNUS_C) / (below * below)
        left = self.left[rows]
        dried = 1.0 - left / np.maximum(left + self.steam[rows], 1e-9)
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
        through = self.conduct[rows] + self.carry[rows] * self.wetness[rows]
        inward = self._half[part] / through
        share = inward / (inward + self._resistance[part])
        cell = self.celsius[rows]
        surface = cell + share * (self._outer[part] - cell)
        return np.asarray((surface * area).sum(axis=0) / area.sum(axis=0))

    @property
    def sides(self) -> tuple[str, ...]:
        """The sides of the loaf that face the oven."""
        return tuple(self._parts)

    def _tiled(self, shape: tuple[int, int]) -> None:
        """Properties repeated for every cell, so that no call broadcasts."""
        mat = self.material

        def tile(values: Floats) -> Floats:
            return np.ascontiguousarray(np.broadcast_to(values, shape))

        boiling = mat.boiling
        water = np.maximum(mat.water, 1e-9)
        no_water = 0.0 * boiling
        self._has_water = bool((mat.water > 0).any())
        self._solids_at_boiling = tile(mat.enthalpy(boiling, no_water))
        self._water_at_boiling = tile(mat.heat_water * boiling)
        self._per_latent = tile(1.0 / mat.latent)
        self._steam_heat = tile(mat.latent + mat.heat_water * boiling)
        self._held = tile(mat.solids * mat.heat_solids)
        self._twice_slope = tile(2.0 * mat.solids * mat.heat_slope)
        self._wet_slope = tile(np.where(mat.water > 0, mat.wet_slope / water, 0.0))
        gain = np.where(mat.water > 0, (mat.wet - mat.dry) / water, 0.0)
        self._wet_gain = tile(gain)
        self._dry, self._boiling = tile(mat.dry), tile(boiling)
        self._per_wet = tile(1.0 / (WET_SHARE * water))
        self._vapour = tuple(tile(c) for c in mat.vapour)
        self._per_volume = 1.0 / self.mesh.volume

    def _faces(self) -> None:
        mat = self.material
        latent = np.array([latent_heat_j_kg(INSIDE_C)])
        self._inside_heat = float(mat.heat_water[0] * INSIDE_C + latent[0])
        self._axes = []
        self._buffers = []
        for axis in self.mesh.axes:
            apart = np.where(axis.joined > 0, 1.0, 1e40)
            near, far = apart / axis.near, apart / axis.far
            self._axes.append((near, far, 0.5 / (near + far) / latent))
            self._buffers.append(tuple(np.empty_like(near) for _ in range(3)))

    def _skin(self) -> None:
        lanes = self.mesh.lanes
        sides = self.surroundings.sides
        outsides = sorted(self.mesh.outsides, key=lambda o: sides[o.side].exposed)
        self._rows = np.concatenate([o.rows for o in outsides])
        self._area = np.concatenate([o.area for o in outsides])
        self._half = np.concatenate([o.half for o in outsides])

        def face(values: list[Floats]) -> Floats:
            parts = [
                np.broadcast_to(v, (len(o.rows), lanes))
                for v, o in zip(values, outsides, strict=True)
            ]
            return np.concatenate(parts)

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
