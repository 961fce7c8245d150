"""Charts: a data frame or pans in, a drawing out; nothing is fetched."""

from bakelab.charts.pan_drawing import PanDrawing, PanFill, pan_drawing, pan_svg
from bakelab.charts.weights import cup_bands, ingredient_shares, weighing_risks

__all__ = [
    "PanDrawing",
    "PanFill",
    "cup_bands",
    "ingredient_shares",
    "pan_drawing",
    "pan_svg",
    "weighing_risks",
]
