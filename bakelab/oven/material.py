"""What a risen dough is made of, as the solver needs it: one column per sample.

A cell holds dry mass, water and gas. Wet crumb conducts by itself and by
vapour that evaporates at the warm wall of a pore and condenses at the cool
one; a dry crust conducts as measured. Floats, SI units, degrees Celsius.

References
----------
Zanoni, Peri & Gianotti, J. Food Eng. 26 (1995) 497-510, abstract: thermal
diffusivity of bread, crumb ``exp(0.01 e - 15.25)`` and crust
``exp(0.0062 e - 15.30)`` m2/s, with the porosity ``e`` in percent.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.boiling import (
    SEA_LEVEL_PA,
    air_pressure_pa,
    boiling_c,
    latent_heat_j_kg,
    vapour_pressure_pa,
)
from bakelab.oven.food_properties import (
    Composition,
    component_property,
    gas_free_conductivity,
    gas_free_density,
    heat_capacity,
    porous_conductivity,
)

__all__ = [
    "Material",
    "crumb_diffusivity",
    "crust_diffusivity",
    "dough_material",
    "plain_material",
    "vapour_conductivity",
]

Floats = NDArray[np.float64]
GAS_CONSTANT_WATER = 461.5  # J/(kg K)
KELVIN = 273.15
OVEN_MEAN_C = 60.0  # where densities and the heat of water are taken
VAPOUR_SHARE = 0.83
"""Vapour that moves through pores, over what would move through still air.

Our own fit: with it the mean diffusivity between 20 and 95 degC of crumb of
75 % porosity is the one of Zanoni and others (1995).
"""
WET_SHARE = 0.2  # our own: below this share of its water a cell gives less vapour


@dataclass(frozen=True)
class Material:
    """Properties of each sample, arrays of the length of the samples.

    Attributes
    ----------
    solids, water : kg/m3 of loaf, at the start.
    heat_solids, heat_slope : J/(kg K) at 0 degC, and its rise per K.
    heat_water : J/(kg K).
    wet, wet_slope : conductivity of the crumb at 0 degC, W/(m K), and per K.
    dry : conductivity of the crust, W/(m K).
    vapour : logarithm of what vapour adds, W/(m K), as c0 + c1 t + c2 t2.
    boiling, latent : degC and J/kg.
    """

    solids: Floats
    water: Floats
    heat_solids: Floats
    heat_slope: Floats
    heat_water: Floats
    wet: Floats
    wet_slope: Floats
    dry: Floats
    vapour: tuple[Floats, Floats, Floats]
    boiling: Floats
    latent: Floats

    @property
    def lanes(self) -> int:
        """Samples computed side by side."""
        return len(self.solids)

    def enthalpy(self, celsius: Floats, water: Floats) -> Floats:
        """Heat above 0 degC of a m3 with `water` kg in it, J/m3."""
        dry = self.heat_solids * celsius + self.heat_slope * celsius**2 / 2.0
        return np.asarray(self.solids * dry + water * self.heat_water * celsius)

    def fastest(self) -> Floats:
        """The largest diffusivity that any cell can have, m2/s."""
        c0, c1, c2 = self.vapour
        top = self.boiling
        wet = self.wet + np.maximum(self.wet_slope * top, 0.0)
        wet = wet + np.exp(c0 + c1 * top + c2 * top**2)
        held = self.solids * self.heat_solids
        return np.asarray(
            np.maximum(wet / (held + self.water * self.heat_water), self.dry / held)
        )


def crumb_diffusivity(porosity: float) -> float:
    """Thermal diffusivity of crumb, m2/s, by Zanoni and others (1995)."""
    return math.exp(0.01 * 100.0 * porosity - 15.25)


def crust_diffusivity(porosity: float) -> float:
    """Thermal diffusivity of crust, m2/s, by Zanoni and others (1995)."""
    return math.exp(0.0062 * 100.0 * porosity - 15.30)


def vapour_conductivity(
    celsius: float, porosity: float, *, altitude_m: float = 0.0
) -> float:
    """What evaporation and condensation in the pores add, W/(m K).

    The diffusivity of water vapour in air (2.26e-5 m2/s at 0 degC, growing
    with the power 1.81 of the temperature; from memory) times latent heat
    and the slope of the saturated vapour's density, times the porosity and
    `VAPOUR_SHARE`.
    """
    kelvin = celsius + KELVIN
    diffusivity = 2.26e-5 * math.pow(kelvin / KELVIN, 1.81)
    diffusivity *= SEA_LEVEL_PA / air_pressure_pa(altitude_m)
    rise = _vapour_density(celsius + 0.5) - _vapour_density(celsius - 0.5)  # per K
    return VAPOUR_SHARE * porosity * diffusivity * latent_heat_j_kg(celsius) * rise


def dough_material(
    mix: Composition,
    porosity: Sequence[float] | Floats,
    *,
    altitude_m: float = 0.0,
    vapour_factor: Floats | float = 1.0,
) -> Material:
    """Dough of one composition at several porosities, one sample each.

    `vapour_factor` multiplies what vapour carries through the pores.
    """
    samples = np.asarray(porosity, dtype=float)
    density = gas_free_density(mix, OVEN_MEAN_C) * (1.0 - samples)
    solids = density * (1.0 - mix.water)
    boiling = boiling_c(altitude_m)
    cold, hot = heat_capacity(mix.solids, 20.0), heat_capacity(mix.solids, 100.0)
    slope = (hot - cold) / 80.0
    wet_slope, wet = _line(mix, samples, 30.0, 95.0)
    dry_heat = heat_capacity(mix.solids, 120.0)
    one = np.ones_like(samples)
    return Material(
        solids=solids,
        water=density * mix.water,
        heat_solids=one * (cold - 20.0 * slope),
        heat_slope=one * slope,
        heat_water=one * component_property("water", "heat", OVEN_MEAN_C),
        wet=wet,
        wet_slope=wet_slope,
        dry=np.array([crust_diffusivity(e) for e in samples]) * solids * dry_heat,
        vapour=_vapour_fit(samples * vapour_factor, boiling, altitude_m),
        boiling=one * boiling,
        latent=one * latent_heat_j_kg(boiling),
    )


def plain_material(
    *, conductivity: float, density: float, heat: float, lanes: int = 1
) -> Material:
    """A solid with constant properties and no water, for checks and chilling."""
    one = np.ones(lanes)
    none = (-1e3 * one, 0.0 * one, 0.0 * one)
    return Material(
        solids=one * density,
        water=0.0 * one,
        heat_solids=one * heat,
        heat_slope=0.0 * one,
        heat_water=one * heat,
        wet=one * conductivity,
        wet_slope=0.0 * one,
        dry=one * conductivity,
        vapour=none,
        boiling=1e6 * one,
        latent=2.3e6 * one,
    )


def _line(
    mix: Composition, porosity: Floats, low_c: float, high_c: float
) -> tuple[Floats, Floats]:
    """Slope and value at 0 degC of the crumb's own conductivity."""
    ends = []
    for celsius in (low_c, high_c):
        solid = gas_free_conductivity(mix, celsius)
        ends.append(np.array([porous_conductivity(solid, e) for e in porosity]))
    slope = (ends[1] - ends[0]) / (high_c - low_c)
    return slope, ends[0] - slope * low_c


def _vapour_fit(
    porosity: Floats, boiling: float, altitude_m: float
) -> tuple[Floats, Floats, Floats]:
    places = np.linspace(0.0, boiling, 21)
    one = [vapour_conductivity(t, 1.0, altitude_m=altitude_m) for t in places]
    c2, c1, c0 = np.polyfit(places, np.log(one), 2)
    share = np.log(np.maximum(porosity, 1e-9))
    return c0 + share, c1 + 0.0 * share, c2 + 0.0 * share


def _vapour_density(celsius: float) -> float:
    return vapour_pressure_pa(celsius) / (GAS_CONSTANT_WATER * (celsius + KELVIN))
