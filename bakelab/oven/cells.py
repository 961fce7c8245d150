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

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.material import WET_SHARE, Material

__all__ = ["Cells"]

Floats = NDArray[np.float64]


class Cells:
    """What is in every cell, read from its heat and water; holds its arrays.

    Attributes
    ----------
    celsius, left, steam : temperature; water that is left and that went, kg/m3.
    conduct, carry : conduction alone, and by vapour where it is wet, W/(m K).
    wetness : share of vapour that a cell can still give.
    """

    def __init__(self, material: Material, shape: tuple[int, int]) -> None:
        self.material = material
        self._tiled(shape)
        self._scratch = [np.empty(shape) for _ in range(3)]
        self.celsius, self.steam = np.empty(shape), np.empty(shape)
        self.left, self.conduct = np.empty(shape), np.empty(shape)
        self.carry, self.wetness = np.zeros(shape), np.zeros(shape)

    def through(self, rows: NDArray[np.intp]) -> Floats:
        """Conduction and vapour together in some cells, W/(m K)."""
        return np.asarray(self.conduct[rows] + self.carry[rows] * self.wetness[rows])

    def read(self, energy: Floats, water: Floats) -> None:
        """Set `celsius`, `left` and `steam` from heat (J/m3) and water (kg/m3)."""
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
        np.multiply(self.left, self.material.heat_water[0], out=b)
        np.add(b, self._held, out=b)
        self._solve(a, b)

    def conductivities(self) -> None:
        """Set `conduct`, `carry` and `wetness` from what `read` found."""
        a = self._scratch[0]
        np.multiply(self.celsius, self._wet_slope, out=a)
        np.add(a, self._wet_gain, out=a)
        np.multiply(a, self.left, out=a)
        np.add(a, self._dry, out=self.conduct)
        if not self.has_water:
            return
        c0, c1, c2 = self._vapour
        np.minimum(self.celsius, self._boiling, out=a)
        np.multiply(a, c2, out=self.carry)
        np.add(self.carry, c1, out=self.carry)
        np.multiply(self.carry, a, out=self.carry)
        np.add(self.carry, c0, out=self.carry)
        np.exp(self.carry, out=self.carry)
        np.multiply(self.left, self.per_wet, out=self.wetness)
        np.minimum(self.wetness, 1.0, out=self.wetness)

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

    def _tiled(self, shape: tuple[int, int]) -> None:
        """Properties repeated for every cell, so that no call broadcasts."""
        mat = self.material

        def tile(values: Floats) -> Floats:
            return np.ascontiguousarray(np.broadcast_to(values, shape))

        boiling = mat.boiling
        water = np.maximum(mat.water, 1e-9)
        no_water = 0.0 * boiling
        self.has_water = bool((mat.water > 0).any())
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
        self.per_wet = tile(1.0 / (WET_SHARE * water))
        self._vapour = tuple(tile(c) for c in mat.vapour)
