"""What surrounds the loaf: hot air, glowing walls, pan, lid, floor, steam.

For each side of the loaf the heat that reaches it per area and kelvin.
Floats, SI units, degrees Celsius; one column per sample.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.boiling import vapour_pressure_pa

__all__ = [
    "DRY_OVEN_PA",
    "EMISSIVITY",
    "STEAMED_OVEN_PA",
    "Side",
    "Surroundings",
    "bath",
]

Floats = NDArray[np.float64]
STEFAN_BOLTZMANN = 5.670374e-8  # W/(m2 K4), CODATA
KELVIN = 273.15
DRY_OVEN_PA = vapour_pressure_pa(40.0)  # our own assumption: dew point 40 degC
STEAMED_OVEN_PA = vapour_pressure_pa(90.0)  # our own assumption: dew point 90 degC
EMISSIVITY = {  # of surfaces in an oven; from memory, rounded
    "dough": 0.9,
    "dark": 0.9,
    "grey": 0.6,
    "bright": 0.2,
    "glass": 0.9,
    "ceramic": 0.9,
}


@dataclass(frozen=True)
class Side:
    """How heat comes to one side; arrays of the length of the samples.

    Attributes
    ----------
    convection : W/(m2 K).
    emissivity : of the outer surface, towards walls as hot as the air.
    resistance : of pan, lid and gap, m2 K/W.
    exposed : whether water can evaporate from it (True only without a pan).
    """

    convection: Floats
    emissivity: Floats
    resistance: Floats
    exposed: bool = False

    def times(self, factor: Floats) -> Side:
        """The same side in an oven that heats `factor` times as hard."""
        return Side(
            self.convection * factor,
            self.emissivity * factor,
            self.resistance,
            self.exposed,
        )

    def coefficient(self, air_c: Floats, surface_c: float = 100.0) -> Floats:
        """Heat per area and kelvin between air and dough, W/(m2 K)."""
        air, outer = air_c + KELVIN, surface_c + KELVIN
        radiation = self.emissivity * STEFAN_BOLTZMANN
        radiation = radiation * (air**2 + outer**2) * (air + outer)
        return np.asarray(1.0 / (1.0 / (self.convection + radiation) + self.resistance))


@dataclass(frozen=True)
class Surroundings:
    """Air temperature, sides by name, and steam, for each sample.

    `later` are changes of the setting: from a time in s, the air's new
    temperature.
    """

    air_c: Floats
    sides: dict[str, Side]
    steam_s: float = 0.0
    dry_pa: float = DRY_OVEN_PA
    steam_pa: float = STEAMED_OVEN_PA
    later: tuple[tuple[float, Floats], ...] = ()

    def times(self, factor: Floats) -> Surroundings:
        """The same, heating `factor` times as hard on every side."""
        sides = {name: side.times(factor) for name, side in self.sides.items()}
        return replace(self, sides=sides)

    def air_at(self, seconds: float) -> Floats:
        """Temperature of the air at a time, degC."""
        air_c = self.air_c
        for start_s, changed in self.later:
            air_c = changed if seconds >= start_s - 1e-6 else air_c
        return air_c

    def vapour_pa(self, seconds: float) -> float:
        """Vapour pressure of the air at a time."""
        return self.steam_pa if seconds < self.steam_s else self.dry_pa


def bath(air_c: Floats, coefficient: float, sides: tuple[str, ...]) -> Surroundings:
    """The same coefficient on all sides, no radiation, no drying."""
    one = np.ones_like(air_c)
    side = Side(one * coefficient, one * 0.0, one * 0.0)
    return Surroundings(air_c, dict.fromkeys(sides, side))
