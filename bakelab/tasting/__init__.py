"""Tasting: exact difference tests and ranking, with verdicts that stay modest."""

from bakelab.tasting.difference import (
    Difference,
    evaluate,
    needed_correct,
    tasters_needed,
)
from bakelab.tasting.ranking import Ranking, rank_samples

__all__ = [
    "Difference",
    "Ranking",
    "evaluate",
    "needed_correct",
    "rank_samples",
    "tasters_needed",
]
