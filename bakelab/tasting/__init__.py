"""Tasting: exact difference tests and ranking, with verdicts that stay modest."""

from bakelab.tasting.difference import (
    Difference,
    evaluate,
    needed_correct,
    tasters_needed,
)
from bakelab.tasting.ranking import Ranking, rank_samples
from bakelab.tasting.serving import Serving, serving_plan

__all__ = [
    "Difference",
    "Ranking",
    "Serving",
    "evaluate",
    "needed_correct",
    "rank_samples",
    "serving_plan",
    "tasters_needed",
]
