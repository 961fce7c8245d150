"""The exercise families, one function each: from a draw and a level to a draft."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families import (
    bake_loss,
    comparing,
    flours,
    judging,
    pans,
    parts,
    percentages,
    preferments,
    published,
    ratios,
    reading,
    rounding,
    sizes,
    temperature,
    units,
    water,
    weighing,
)
from bakelab.lessons.item import Family

__all__ = ["ESTIMATE", "FAMILIES", "MAKERS", "Maker"]

Maker = Callable[[Draw, int], Draft]
ESTIMATE = "estimate"

FAMILIES = (
    Family("parts", "What a ratio says", 1,
           "sharing out by parts, before any percent"),
    Family("compare_ratios", "The same ratio or not?", 1,
           "comparing how many times, not how much more"),
    Family("weight_to_percent", "From weights to percentages", 2,
           "reading a recipe in grams as a formula: flour is 100 %"),
    Family("percent_to_weight", "From percentages to weights", 2,
           "weighing out a formula for any amount of flour"),
    Family("several_flours", "Several flours", 2,
           "all flours together are 100 %"),
    Family("dough_share", "Share of the dough, or percent of flour?", 2,
           "keeping two kinds of percent apart"),
    Family(ESTIMATE, "Estimate first, compute then", 2,
           "seeing in the head about how large an answer must be"),
    Family("true_hydration", "True hydration", 3,
           "finding the water inside milk, egg, butter and honey"),
    Family("preferment", "A part of the flour goes ahead", 3,
           "sharing flour and water between a preferment and the final dough"),
    Family("water_temperature", "How warm must the water be?", 3,
           "reaching a dough temperature by the multiplication rule"),
    Family("pan_volume", "What a pan holds", 4,
           "volumes with a lid, with a dome and with sloping walls"),
    Family("volume_ratio", "Flour for another pan", 4,
           "scaling by what pans hold, not by how long they are"),
    Family("units", "Units", 4,
           "inches, ounces, cups and degrees, each way"),
    Family("pieces", "So many pieces", 5,
           "from the dough that is wanted back to its flour"),
    Family("baked_mass", "What the oven takes away", 5,
           "dough, baked bread and the loss between them"),
    Family("rounding_cost", "What rounding costs", 5,
           "rounding once, at the end, and knowing what it changes"),
    Family("weighing_risk", "Small amounts on a scale", 5,
           "seeing when a scale is too coarse, and what to do then"),
    Family("published", "Two army cards and their manual", 5,
           "doing published kitchen arithmetic, and checking it"),
    Family("wrong_ingredient", "Which line does not fit?", 6,
           "catching a percentage that cannot be"),
    Family("reading_formula", "Reading a formula", 6,
           "telling from the numbers what bread it makes, and why"),
    Family("judge_formula", "Judging a formula", 6,
           "seeing which amount lies out of its usual band"),
)  # fmt: skip
"""Every family, in the order of the lessons."""

MAKERS: Mapping[str, Maker] = MappingProxyType(
    {
        "parts": parts.parts,
        "compare_ratios": comparing.compare_ratios,
        "weight_to_percent": percentages.weight_to_percent,
        "percent_to_weight": percentages.percent_to_weight,
        "several_flours": flours.several_flours,
        "dough_share": percentages.dough_share,
        "true_hydration": water.true_hydration,
        "preferment": preferments.preferment,
        "water_temperature": temperature.water_temperature,
        "pan_volume": pans.pan_volume,
        "volume_ratio": ratios.volume_ratio,
        "units": units.units,
        "pieces": sizes.pieces,
        "baked_mass": bake_loss.baked_mass,
        "rounding_cost": rounding.rounding_cost,
        "weighing_risk": weighing.weighing_risk,
        "published": published.published,
        "wrong_ingredient": judging.wrong_ingredient,
        "reading_formula": reading.reading_formula,
        "judge_formula": judging.judge_formula,
    }
)
"""What draws each family; `ESTIMATE` is made from another family's exercise."""
