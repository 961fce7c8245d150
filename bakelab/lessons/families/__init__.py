"""The exercise families, one function each: from a draw and a level to a draft."""

from __future__ import annotations

from collections.abc import Callable

from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families import percentages
from bakelab.lessons.item import Family

__all__ = ["FAMILIES", "Maker"]

Maker = Callable[[Draw, int], Draft]

FAMILIES: tuple[tuple[Family, Maker], ...] = (
    (
        Family(
            "weight_to_percent", "From weights to percentages", 2,
            "reading a recipe in grams as a formula: flour is 100 %",
        ),
        percentages.weight_to_percent,
    ),
    (
        Family(
            "percent_to_weight", "From percentages to weights", 2,
            "weighing out a formula for any amount of flour",
        ),
        percentages.percent_to_weight,
    ),
    (
        Family(
            "dough_share", "Share of the dough, or percent of flour?", 2,
            "keeping two kinds of percent apart",
        ),
        percentages.dough_share,
    ),
)  # fmt: skip
