"""Density, heat capacity and conductivity of dough from what is in it.

Choi and Okos' polynomials of the six parts of food, mixed by mass or volume,
with gas in the pores. Floats inside, temperatures in degrees Celsius.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from bakelab.errors import FormulaError
from bakelab.tables import read_rows, read_table

if TYPE_CHECKING:
    import pandas as pd

    from bakelab.formula import Formula

__all__ = [
    "COMPONENTS",
    "PROPERTIES",
    "Composition",
    "component_property",
    "components",
    "dough_composition",
    "gas_free_conductivity",
    "gas_free_density",
    "heat_capacity",
    "porosity",
    "porous_conductivity",
]

COMPONENTS = ("water", "protein", "fat", "carbohydrate", "fibre", "ash")
PROPERTIES = ("density", "heat", "conductivity")
GAS_CONDUCTIVITY = 0.026  # W/(m K), still air near 30 degC; from memory
SALT_PER_SODIUM = 58.443 / 22.990  # molar masses of NaCl and Na

_TABLE = "oven_components"
_COLUMNS = {
    "component": str,
    "property": str,
    "a": float,
    "b": float,
    "c": float,
    "source": str,
}


@dataclass(frozen=True)
class Composition:
    """Mass shares of the parts of a dough; they add up to one."""

    water: float
    protein: float = 0.0
    fat: float = 0.0
    carbohydrate: float = 0.0
    fibre: float = 0.0
    ash: float = 0.0

    def __post_init__(self) -> None:
        total = math.fsum(self.shares.values())
        if min(self.shares.values()) < 0 or not math.isclose(total, 1.0, abs_tol=1e-6):
            raise FormulaError(
                f"the parts of a dough add up to {total:.4g}; they must be 0 or more "
                "and add up to 1"
            )

    @property
    def shares(self) -> Mapping[str, float]:
        """Share of mass by part."""
        return {name: getattr(self, name) for name in COMPONENTS}

    @property
    def solids(self) -> Composition:
        """The same without its water."""
        rest = 1.0 - self.water
        if rest <= 0:
            raise FormulaError("a dough of water alone has nothing to bake; add flour")
        dry = {n: v / rest for n, v in self.shares.items() if n != "water"}
        return Composition(water=0.0, **dry)


def components() -> pd.DataFrame:
    """The table of coefficients: `component, property, a, b, c, source`."""
    return read_table(_TABLE, _COLUMNS)


def component_property(component: str, name: str, celsius: float) -> float:
    """One property of one part of food at a temperature.

    Parameters
    ----------
    component : str
        One of `COMPONENTS`.
    name : {"density", "heat", "conductivity"}
        In kg/m3, J/(kg K) or W/(m K).
    celsius : float
        From -40 to 150.

    References
    ----------
    Choi & Okos (1986), as quoted in ASHRAE Handbook - Refrigeration (2006), ch. 9.

    Examples
    --------
    >>> round(component_property("protein", "heat", 20), 3)
    2031.853
    """
    a, b, c = _coefficients()[component, name]
    return a + b * celsius + c * celsius**2


def dough_composition(formula: Formula) -> Composition:
    """The parts of a formula's dough by mass.

    Fibre is taken out of the carbohydrate that the table gives "by
    difference"; salt counts as ash; what the table does not know counts
    as carbohydrate.
    """
    per_100 = formula.composition()
    fibre = min(per_100["fibre"], per_100["carb"])
    ash = per_100["sodium_mg"] / 1000 * SALT_PER_SODIUM
    parts = {
        "water": per_100["water"],
        "protein": per_100["protein"],
        "fat": per_100["fat"],
        "fibre": fibre,
        "ash": ash,
    }
    rest = max(100.0 - math.fsum(parts.values()), 0.0)
    total = math.fsum(parts.values()) + rest
    return Composition(
        carbohydrate=rest / total, **{n: v / total for n, v in parts.items()}
    )


def gas_free_density(mix: Composition, celsius: float) -> float:
    """Density without gas, kg/m3: the volumes of the parts add up."""
    return 1.0 / math.fsum(
        share / component_property(name, "density", celsius)
        for name, share in mix.shares.items()
    )


def heat_capacity(mix: Composition, celsius: float) -> float:
    """Heat capacity, J/(kg K): the parts add up by mass."""
    return math.fsum(
        share * component_property(name, "heat", celsius)
        for name, share in mix.shares.items()
    )


def gas_free_conductivity(mix: Composition, celsius: float) -> float:
    """Conductivity without gas, W/(m K): parallel, by volume."""
    density = gas_free_density(mix, celsius)
    return density * math.fsum(
        share
        / component_property(name, "density", celsius)
        * component_property(name, "conductivity", celsius)
        for name, share in mix.shares.items()
    )


def porosity(gas_free: float, density: float) -> float:
    """Share of gas in the volume, from the density without and with it."""
    return 1.0 - density / gas_free


def porous_conductivity(solid: float, gas_share: float) -> float:
    """Conductivity of a mass with gas cells in it, W/(m K).

    Maxwell's and Eucken's model, gas dispersed in the mass: heat goes
    around the cells. Nothing of it is carried by vapour; see
    :mod:`bakelab.oven.material` for that.
    """
    gas = GAS_CONDUCTIVITY
    lack = gas_share * (solid - gas)
    return solid * (2 * solid + gas - 2 * lack) / (2 * solid + gas + lack)


@cache
def _coefficients() -> dict[tuple[str, str], tuple[float, float, float]]:
    return {
        (row["component"], row["property"]): (row["a"], row["b"], row["c"])
        for row in read_rows(_TABLE, _COLUMNS)
    }
