"""Fit a formula to a pan or a mass, guess its pan, set formulas side by side."""

from bakelab.scaling.before import before_fit
from bakelab.scaling.compare import compare
from bakelab.scaling.fit import fit
from bakelab.scaling.fitted import Fitted, LoafChange, Portion
from bakelab.scaling.likely import LIKELY_COLUMNS, likely_pans
from bakelab.scaling.targets import loss_of_dough

__all__ = [
    "LIKELY_COLUMNS",
    "Fitted",
    "LoafChange",
    "Portion",
    "before_fit",
    "compare",
    "fit",
    "likely_pans",
    "loss_of_dough",
]
