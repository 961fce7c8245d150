"""How fast a crust browns at a temperature.

The colour difference from dough goes towards that of a burnt crust by a
reaction of first order; its rate constant follows Arrhenius. Measured on dried
crumb on a hot plate between 140 and 250 degC. Here the integral of the rate
constant over the bake, the *browning exponent*, stands for how brown the
crust is; two bakes with the same exponent have the same colour in this model.

References
----------
Zanoni, Peri & Bruno, Lebensm.-Wiss. u.-Technol. 28 (1995) 604-609, abstract:
``k0 = 42 000 1/s``, ``Ea = 64 151 J/mol``, colour difference of burnt crust 52.
"""

import math

import numpy as np
from numpy.typing import NDArray

__all__ = ["BURNT_DIFFERENCE", "browning_rate", "colour_difference"]

Floats = NDArray[np.float64]
RATE_PER_S = 42_000.0
ACTIVATION_J_MOL = 64_151.0
BURNT_DIFFERENCE = 52.0
GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA
STARTS_C = 100.0  # wet dough does not brown: our own reading


def browning_rate(celsius: Floats) -> Floats:
    """Rate constant of browning, 1/s; none up to 100 degC.

    Between 100 and 140 degC the source's law is carried on.
    """
    kelvin = np.asarray(celsius, dtype=float) + 273.15
    rate = RATE_PER_S * np.exp(-ACTIVATION_J_MOL / (GAS_CONSTANT * kelvin))
    return np.where(np.asarray(celsius) > STARTS_C, rate, 0.0)


def colour_difference(exponent: float) -> float:
    """Colour difference (CIELAB) from dough after a browning exponent."""
    return BURNT_DIFFERENCE * (1.0 - math.exp(-exponent))
