"""What a pan holds, from the water that fills it: grams at a temperature to volume.

The density is that of pure water at one standard atmosphere by the IAPWS
Industrial Formulation 1997, region 1 (liquid), through the ``iapws`` library.
Tap water is within 0.1 % of it.
"""

from __future__ import annotations

from functools import lru_cache

from bakelab.errors import PanError
from bakelab.units import Q_, Quantity, in_unit

__all__ = ["volume_of_water", "water_density"]

ATMOSPHERE_MPA = 0.101325  # standard atmosphere, ISO 2533
COLDEST_C = 0.01
HOTTEST_C = 99.9
LARGEST_G = 200_000.0


def volume_of_water(grams: Quantity, temperature: Quantity) -> Quantity:
    """Volume of a weighed amount of water.

    Parameters
    ----------
    grams : Quantity, [mass]
        Water that fills the pan level to its rim.
    temperature : Quantity, [temperature]
        Of that water, 0.01 to 99.9 degrees Celsius.

    Returns
    -------
    Quantity, in cm3

    Raises
    ------
    PanError
        If the mass is not above zero or the water is not liquid.

    References
    ----------
    IAPWS R7-97(2012), region 1, at 101 325 Pa.

    Examples
    --------
    >>> print(f"{volume_of_water(Q_(1600, 'g'), Q_(20, 'degC')):.0f~P}")
    1603 cm³
    """
    mass_g = in_unit(grams, "g", "grams")
    if not 0.0 < mass_g <= LARGEST_G:
        raise PanError(
            f"{mass_g:g} g of water cannot fill a pan; give a mass above 0 g "
            f"and up to {LARGEST_G:g} g"
        )
    density = in_unit(water_density(temperature), "g/cm^3", "density")
    return Q_(mass_g / density, "cm^3")


def water_density(temperature: Quantity) -> Quantity:
    """Density of liquid water at one standard atmosphere, in g/cm3.

    Raises
    ------
    PanError
        Outside 0.01 to 99.9 degrees Celsius.
    """
    water_c = in_unit(temperature, "degC", "temperature")
    if not COLDEST_C <= water_c <= HOTTEST_C:
        raise PanError(
            f"water at {water_c:g} °C is not liquid in a kitchen; give a "
            f"temperature from {COLDEST_C:g} to {HOTTEST_C:g} °C"
        )
    return Q_(_density_g_cm3(water_c), "g/cm^3")


@lru_cache(maxsize=256)
def _density_g_cm3(water_c: float) -> float:
    # iapws brings scipy with it: imported only when water is really weighed.
    from iapws import IAPWS97

    water = IAPWS97(T=water_c + 273.15, P=ATMOSPHERE_MPA)
    return float(water.rho) / 1000.0  # kg/m3
