"""Comparing bakes: what a ratio, a size or a day does, and how sure that is."""

from bakelab.comparing.against import Against, against
from bakelab.comparing.best_formula import best_formula, best_words, nearest_trial
from bakelab.comparing.control import RULES, Control, control_chart
from bakelab.comparing.data import ComparisonError
from bakelab.comparing.mixed import Mixed, mixed_comparison
from bakelab.comparing.names import axis_title, named, unit_of
from bakelab.comparing.paired import Paired, paired, signed_rank_interval
from bakelab.comparing.ratios import ratios_of, with_ratios
from bakelab.comparing.repeats import LackOfFit, Repeats, lack_of_fit, repeats
from bakelab.comparing.surface import Surface, response_surface
from bakelab.comparing.surface_map import surface_curve, surface_map
from bakelab.comparing.surface_words import none_inside
from bakelab.comparing.variants import Variants, by_variant

__all__ = [
    "RULES",
    "Against",
    "ComparisonError",
    "Control",
    "LackOfFit",
    "Mixed",
    "Paired",
    "Repeats",
    "Surface",
    "Variants",
    "against",
    "axis_title",
    "best_formula",
    "best_words",
    "by_variant",
    "control_chart",
    "lack_of_fit",
    "mixed_comparison",
    "named",
    "nearest_trial",
    "none_inside",
    "paired",
    "ratios_of",
    "repeats",
    "response_surface",
    "signed_rank_interval",
    "surface_curve",
    "surface_map",
    "unit_of",
    "with_ratios",
]
