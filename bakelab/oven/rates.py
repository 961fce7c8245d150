"""Heat and water moving between the cells of a loaf, at one moment."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.boiling import latent_heat_j_kg
from bakelab.oven.cells import Cells
from bakelab.oven.material import Material
from bakelab.oven.mesh import Mesh
from bakelab.oven.skin import Skin
from bakelab.oven.surroundings import Surroundings

__all__ = ["Rates"]

Floats = NDArray[np.float64]
INSIDE_C = 85.0  # where the heat that vapour carries inside the loaf is taken


class Rates:
    """Rates of change of a state; holds every array, so a call makes few.

    The rows of a state are the heat of all cells (J/m3), the water of all
    cells (kg/m3), the heat that came from the oven (J) and the heat (J) and
    water (kg) that left from the surface as vapour, all of one mesh.
    """

    def __init__(
        self, mesh: Mesh, material: Material, surroundings: Surroundings
    ) -> None:
        self.mesh, self.count = mesh, mesh.volume.shape[0]
        self.cells = Cells(material, (self.count, mesh.lanes))
        self.skin = Skin(mesh, self.cells, surroundings)
        self._inverse = np.empty_like(mesh.volume)
        self._per_volume = 1.0 / mesh.volume
        self._faces()

    def start(self, celsius: Floats) -> Floats:
        """The state of a loaf that is as warm everywhere."""
        material = self.cells.material
        state = np.zeros((2 * self.count + 3, self.mesh.lanes))
        state[: self.count] = material.enthalpy(celsius, material.water)
        state[self.count : 2 * self.count] = material.water
        return state

    def read(self, state: Floats) -> None:
        """Set temperatures, water and conductivities of all cells."""
        self.cells.read(state[: self.count], state[self.count : 2 * self.count])
        self.cells.conductivities()

    def __call__(self, state: Floats, out: Floats) -> None:
        """Write the rates of change of `state` into `out`."""
        self.read(state)
        out.fill(0.0)
        energy, water = out[: self.count], out[self.count : 2 * self.count]
        np.divide(1.0, self.cells.conduct, out=self._inverse)
        for index, axis in enumerate(self.mesh.axes):
            self._between(index, axis.step, self._inverse, energy, water)
        self.skin.flow(energy, water, out[2 * self.count :])
        np.multiply(energy, self._per_volume, out=energy)
        np.multiply(water, self._per_volume, out=water)

    def _between(
        self, index: int, step: int, inverse: Floats, energy: Floats, water: Floats
    ) -> None:
        near, far, both = self._axes[index]
        celsius, wetness, carry = (
            self.cells.celsius,
            self.cells.wetness,
            self.cells.carry,
        )
        gap, flow, heat = self._buffers[index]
        np.subtract(celsius[step:], celsius[:-step], out=gap)
        np.multiply(inverse[:-step], near, out=heat)
        np.multiply(inverse[step:], far, out=flow)
        np.add(heat, flow, out=heat)
        np.divide(gap, heat, out=heat)
        if self.cells.has_water:
            np.minimum(wetness[:-step], wetness[step:], out=flow)
            np.multiply(flow, both, out=flow)
            np.multiply(flow, gap, out=flow)
            np.add(carry[:-step], carry[step:], out=gap)
            np.multiply(flow, gap, out=flow)
            water[:-step] += flow
            water[step:] -= flow
            np.multiply(flow, self._inside_heat, out=flow)
            np.add(heat, flow, out=heat)
        energy[:-step] += heat
        energy[step:] -= heat

    def _faces(self) -> None:
        mat = self.cells.material
        latent = np.array([latent_heat_j_kg(INSIDE_C)])
        self._inside_heat = float(mat.heat_water[0] * INSIDE_C + latent[0])
        self._axes = []
        self._buffers = []
        for axis in self.mesh.axes:
            apart = np.where(axis.joined > 0, 1.0, 1e40)
            near, far = apart / axis.near, apart / axis.far
            self._axes.append((near, far, 0.5 / (near + far) / latent))
            self._buffers.append(tuple(np.empty_like(near) for _ in range(3)))
