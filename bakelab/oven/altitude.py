"""High above the sea: the computed boiling point beside published advice."""

from __future__ import annotations

from dataclasses import dataclass

import pandas as pd

from bakelab.oven.boiling import air_pressure_pa, boiling_c
from bakelab.tables import read_table
from bakelab.units import Q_, Quantity, in_unit

__all__ = ["AltitudeEffect", "altitude_advice", "altitude_effect"]

_COLUMNS = {"above_m": float, "what": str, "advice": str, "source": str}
SEA_LEVEL_PA = air_pressure_pa(0.0)


@dataclass(frozen=True)
class AltitudeEffect:
    """What is computed for an altitude.

    `gas_factor` is how much larger the same gas is than at sea level at one
    temperature; a dough rises that much further by as much yeast.
    """

    altitude_m: float
    boiling_c: float
    pressure_pa: float
    gas_factor: float

    @property
    def boiling(self) -> Quantity:
        """Boiling point of water."""
        return Q_(self.boiling_c, "degC")

    @property
    def text(self) -> str:
        """In a sentence."""
        more = 100 * (self.gas_factor - 1)
        return (
            f"At {self.altitude_m:.0f} m water boils at {self.boiling_c:.1f} °C, so "
            f"the crumb gets no hotter, and gas takes {more:.0f} % more room than at "
            "sea level."
        )


def altitude_effect(altitude: Quantity) -> AltitudeEffect:
    """Boiling point and growth of gas at an altitude.

    Raises
    ------
    FitError
        Outside -500 to 6000 m.

    Examples
    --------
    >>> altitude_effect(Q_(1500, "m")).text[:38]
    'At 1500 m water boils at 95.0 °C, so t'
    """
    metres = in_unit(altitude, "m", "altitude")
    pressure = air_pressure_pa(metres)
    return AltitudeEffect(metres, boiling_c(metres), pressure, SEA_LEVEL_PA / pressure)


def altitude_advice() -> pd.DataFrame:
    """Published advice for yeast bread: `above_m, what, advice, source`."""
    return read_table("oven_altitude", _COLUMNS)
