"""Formulas changed on purpose, kept with their parents, planned as trials."""

from bakelab.variants.amounts import AMOUNTS
from bakelab.variants.beside import side_by_side
from bakelab.variants.blends import blend_to_protein
from bakelab.variants.change import Change, change, set_ratios
from bakelab.variants.consequences import consequences
from bakelab.variants.exchange import exchange
from bakelab.variants.family import Family, Variant
from bakelab.variants.history import History
from bakelab.variants.holding import HOLDS
from bakelab.variants.leavens import (
    YEAST_SETS,
    YEAST_STATUS,
    rehydrate_starter,
    swap_yeast,
)
from bakelab.variants.plans import PLANS, Plan, plan_trials, trial_at
from bakelab.variants.solids import (
    loaf_moisture_pct,
    loaf_solids_pct,
    loss_for_solids_pct,
)
from bakelab.variants.substitutions import substitute, substitutions

__all__ = [
    "AMOUNTS",
    "HOLDS",
    "PLANS",
    "YEAST_SETS",
    "YEAST_STATUS",
    "Change",
    "Family",
    "History",
    "Plan",
    "Variant",
    "blend_to_protein",
    "change",
    "consequences",
    "exchange",
    "loaf_moisture_pct",
    "loaf_solids_pct",
    "loss_for_solids_pct",
    "plan_trials",
    "rehydrate_starter",
    "set_ratios",
    "side_by_side",
    "substitute",
    "substitutions",
    "swap_yeast",
    "trial_at",
]
