"""Charts: a data frame or pans in, a drawing out; nothing is fetched."""

from bakelab.charts.bands import band_strips
from bakelab.charts.heat import cut_map, heat_curves
from bakelab.charts.pan_drawing import PanDrawing, PanFill, pan_drawing, pan_svg
from bakelab.charts.style_map import style_map
from bakelab.charts.timeline import timeline
from bakelab.charts.weights import cup_bands, ingredient_shares, weighing_risks

__all__ = [
    "PanDrawing",
    "PanFill",
    "band_strips",
    "cup_bands",
    "cut_map",
    "heat_curves",
    "ingredient_shares",
    "pan_drawing",
    "pan_svg",
    "style_map",
    "timeline",
    "weighing_risks",
]
