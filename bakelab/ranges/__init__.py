"""Usual bands of the trade, and where a formula lies on them."""

from bakelab.ranges.against import AGAINST_COLUMNS, against_ranges
from bakelab.ranges.examples import example_formula, example_formulas
from bakelab.ranges.measures import Measured, measured, measures
from bakelab.ranges.shares import shares
from bakelab.ranges.suggestion import StyleGuess, suggest_style
from bakelab.ranges.table import (
    ABOVE,
    BELOW,
    COMMON_PRACTICE,
    INSIDE,
    MEASURES,
    NO_BAND,
    Band,
    band,
    bands,
    place,
    style_key,
    style_name,
    styles,
    trade_ranges,
)

__all__ = [
    "ABOVE",
    "AGAINST_COLUMNS",
    "BELOW",
    "COMMON_PRACTICE",
    "INSIDE",
    "MEASURES",
    "NO_BAND",
    "Band",
    "Measured",
    "StyleGuess",
    "against_ranges",
    "band",
    "bands",
    "example_formula",
    "example_formulas",
    "measured",
    "measures",
    "place",
    "shares",
    "style_key",
    "style_name",
    "styles",
    "suggest_style",
    "trade_ranges",
]
