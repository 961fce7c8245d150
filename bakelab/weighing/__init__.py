"""From exact grams to weights that a real scale shows."""

from bakelab.weighing.eggs import EGG_SIZE, EggCount, count_eggs, eggs_of
from bakelab.weighing.remedies import (
    RISK_LIMIT_PCT,
    Remedy,
    Spoons,
    Stock,
    nearest_spoons,
    stock_for,
)
from bakelab.weighing.scales import (
    HALF_GRAM_SCALE,
    KITCHEN_SCALE,
    QUARTER_OUNCE_SCALE,
    SPOON_AND_KITCHEN_SCALE,
    SPOON_SCALE,
    Scale,
    scale_from_text,
)
from bakelab.weighing.weighed import FRAME_COLUMNS, Weighed, round_to_scale

__all__ = [
    "EGG_SIZE",
    "FRAME_COLUMNS",
    "HALF_GRAM_SCALE",
    "KITCHEN_SCALE",
    "QUARTER_OUNCE_SCALE",
    "RISK_LIMIT_PCT",
    "SPOON_AND_KITCHEN_SCALE",
    "SPOON_SCALE",
    "EggCount",
    "Remedy",
    "Scale",
    "Spoons",
    "Stock",
    "Weighed",
    "count_eggs",
    "eggs_of",
    "nearest_spoons",
    "round_to_scale",
    "scale_from_text",
    "stock_for",
]
