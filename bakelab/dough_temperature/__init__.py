"""How warm the water must be so that the dough comes out at a temperature.

Two ways beside each other. The baker's multiplication rule: the wanted
temperature times the number of factors, less every factor that is known. And the
energy balance: every ingredient by mass and heat capacity, with mixing as heat.
The rule counts a kilogram of flour like a kilogram of water; the balance does
not, and :attr:`WaterPlan.explanation` says what that makes.
"""

from bakelab.dough_temperature.balance import (
    HEAT_DRY,
    HEAT_WATER,
    MELTING_J_KG,
    WaterPlan,
    plan_water,
)
from bakelab.dough_temperature.rule import (
    FACTORS,
    Friction,
    Mix,
    friction_of,
    learn_friction,
    water_by_rule,
)

__all__ = [
    "FACTORS",
    "HEAT_DRY",
    "HEAT_WATER",
    "MELTING_J_KG",
    "Friction",
    "Mix",
    "WaterPlan",
    "friction_of",
    "learn_friction",
    "plan_water",
    "water_by_rule",
]
