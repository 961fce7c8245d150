"""Formulas changed on purpose, kept with their parents, planned as trials."""

from bakelab.variants.change import HOLDS, Change, change
from bakelab.variants.consequences import consequences
from bakelab.variants.family import Family, Variant, side_by_side
from bakelab.variants.history import History
from bakelab.variants.plans import PLANS, Plan, plan_trials
from bakelab.variants.substitutions import (
    YEAST_SETS,
    blend_to_protein,
    rehydrate_starter,
    substitute,
    substitutions,
    swap_yeast,
)

__all__ = [
    "HOLDS",
    "PLANS",
    "YEAST_SETS",
    "Change",
    "Family",
    "History",
    "Plan",
    "Variant",
    "blend_to_protein",
    "change",
    "consequences",
    "plan_trials",
    "rehydrate_starter",
    "side_by_side",
    "substitute",
    "substitutions",
    "swap_yeast",
]
