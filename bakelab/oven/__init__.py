"""Heat and water in the oven: what another pan changes in the bake."""

from bakelab.oven.altitude import AltitudeEffect, altitude_advice, altitude_effect
from bakelab.oven.boiling import boiling_point
from bakelab.oven.crust import SameCrust
from bakelab.oven.estimate import estimate_bake
from bakelab.oven.expected import ExpectedBake, expected_bake, with_expected_bake
from bakelab.oven.fitted import bake_sentences, estimate_fitted
from bakelab.oven.house import HouseHeating, house_heating
from bakelab.oven.result import CURVE_COLUMNS, BakeEstimate
from bakelab.oven.section import CUT_COLUMNS
from bakelab.oven.settings import PAN_SURFACES, Oven, oven
from bakelab.oven.uncertainty import UNKNOWNS, Band

__all__ = [
    "CURVE_COLUMNS",
    "CUT_COLUMNS",
    "PAN_SURFACES",
    "UNKNOWNS",
    "AltitudeEffect",
    "BakeEstimate",
    "Band",
    "ExpectedBake",
    "HouseHeating",
    "Oven",
    "SameCrust",
    "altitude_advice",
    "altitude_effect",
    "bake_sentences",
    "boiling_point",
    "estimate_bake",
    "estimate_fitted",
    "expected_bake",
    "house_heating",
    "oven",
    "with_expected_bake",
]
