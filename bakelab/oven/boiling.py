"""At what temperature water boils, by altitude; pressure of its vapour.

The pressure of the air is that of the standard atmosphere (ISO 2533), the
vapour pressure of water that of IAPWS-IF97, region 4 (equations 30 and 31).
Floats, degrees Celsius, pascal, metres.
"""

import math

from bakelab.errors import FitError
from bakelab.units import Q_, Quantity, in_unit

__all__ = [
    "air_pressure_pa",
    "boiling_c",
    "boiling_point",
    "latent_heat_j_kg",
    "vapour_pressure_pa",
]

SEA_LEVEL_PA = 101_325.0  # ISO 2533
SEA_LEVEL_K = 288.15  # ISO 2533
LAPSE_K_PER_M = 0.0065  # ISO 2533
EXPONENT = 5.255877  # g M / (R lapse), ISO 2533
KELVIN = 273.15
LOWEST_M, HIGHEST_M = -500.0, 6000.0
# IAPWS-IF97, table 34
_N = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)


def air_pressure_pa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere at an altitude, Pa."""
    if not LOWEST_M <= altitude_m <= HIGHEST_M:
        raise FitError(
            f"an altitude of {altitude_m:g} m is outside what is computed; "
            f"give {LOWEST_M:g} to {HIGHEST_M:g} m"
        )
    return float(
        SEA_LEVEL_PA * (1.0 - LAPSE_K_PER_M * altitude_m / SEA_LEVEL_K) ** EXPONENT
    )


def boiling_point(altitude: Quantity) -> Quantity:
    """Temperature at which water boils at an altitude.

    Parameters
    ----------
    altitude : Quantity, [length]
        From -500 to 6000 m above the sea.

    Returns
    -------
    Quantity, in degC

    References
    ----------
    ISO 2533, Standard atmosphere; IAPWS-IF97, equation 31.

    Examples
    --------
    >>> print(f"{boiling_point(Q_(5000, 'ft')):.1f~P}")
    94.9 °C
    """
    return Q_(boiling_c(in_unit(altitude, "m", "altitude")), "degC")


def boiling_c(altitude_m: float) -> float:
    """Boiling point of water at an altitude, degC."""
    beta = math.sqrt(math.sqrt(air_pressure_pa(altitude_m) / 1e6))
    e = beta**2 + _N[2] * beta + _N[5]
    f = _N[0] * beta**2 + _N[3] * beta + _N[6]
    g = _N[1] * beta**2 + _N[4] * beta + _N[7]
    d = 2 * g / (-f - math.sqrt(f**2 - 4 * e * g))
    root = math.sqrt((_N[9] + d) ** 2 - 4 * (_N[8] + _N[9] * d))
    return (_N[9] + d - root) / 2 - KELVIN


def vapour_pressure_pa(celsius: float) -> float:
    """Pressure of saturated water vapour, Pa."""
    kelvin = celsius + KELVIN
    theta = kelvin + _N[8] / (kelvin - _N[9])
    a = theta**2 + _N[0] * theta + _N[1]
    b = _N[2] * theta**2 + _N[3] * theta + _N[4]
    c = _N[5] * theta**2 + _N[6] * theta + _N[7]
    return float(1e6 * (2 * c / (-b + math.sqrt(b**2 - 4 * a * c))) ** 4)


def latent_heat_j_kg(celsius: float) -> float:
    """Heat that evaporates a kilogram of water, J/kg.

    A straight line through IAPWS values (2453.5 kJ/kg at 20 degC, 2256.4
    at 100 degC); off by less than 0.3 % between 0 and 110 degC.
    """
    return 1e3 * (2453.5 + (2256.4 - 2453.5) / 80.0 * (celsius - 20.0))
