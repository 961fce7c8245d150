"""Charts: a data frame or pans in, a drawing out; nothing is fetched."""

from typing import TYPE_CHECKING

from bakelab.charts.bands import band_strips
from bakelab.charts.late_parsers import put_off_parsers
from bakelab.charts.pan_drawing import PanDrawing, PanFill, pan_drawing, pan_svg
from bakelab.charts.style_map import style_map
from bakelab.charts.timeline import timeline
from bakelab.later import later, listed

if TYPE_CHECKING:
    from bakelab.charts.against import against_chart
    from bakelab.charts.control import control_bands
    from bakelab.charts.effects import batch_chart, effect_bars, residual_charts
    from bakelab.charts.grid import variant_grid
    from bakelab.charts.heat import cut_map, heat_curves
    from bakelab.charts.pairs import pairs_chart
    from bakelab.charts.surface import surface_chart
    from bakelab.charts.tasting import (
        few_chart,
        guess_chart,
        likeness_chart,
        power_chart,
        rank_chart,
    )
    from bakelab.charts.weights import cup_bands, ingredient_shares, weighing_risks

__all__ = [
    "PanDrawing",
    "PanFill",
    "against_chart",
    "band_strips",
    "batch_chart",
    "control_bands",
    "cup_bands",
    "cut_map",
    "effect_bars",
    "few_chart",
    "guess_chart",
    "heat_curves",
    "ingredient_shares",
    "likeness_chart",
    "pairs_chart",
    "pan_drawing",
    "pan_svg",
    "power_chart",
    "rank_chart",
    "residual_charts",
    "style_map",
    "surface_chart",
    "timeline",
    "variant_grid",
    "weighing_risks",
]
# Charts of results bring the statistics with them: they come when asked for.
__getattr__ = later(
    __name__,
    {
        "against_chart": "bakelab.charts.against",
        "batch_chart": "bakelab.charts.effects",
        "control_bands": "bakelab.charts.control",
        "cup_bands": "bakelab.charts.weights",
        "cut_map": "bakelab.charts.heat",
        "effect_bars": "bakelab.charts.effects",
        "few_chart": "bakelab.charts.tasting",
        "guess_chart": "bakelab.charts.tasting",
        "heat_curves": "bakelab.charts.heat",
        "ingredient_shares": "bakelab.charts.weights",
        "likeness_chart": "bakelab.charts.tasting",
        "pairs_chart": "bakelab.charts.pairs",
        "power_chart": "bakelab.charts.tasting",
        "rank_chart": "bakelab.charts.tasting",
        "residual_charts": "bakelab.charts.effects",
        "surface_chart": "bakelab.charts.surface",
        "variant_grid": "bakelab.charts.grid",
        "weighing_risks": "bakelab.charts.weights",
    },
)
__dir__ = listed(__name__)

put_off_parsers()
