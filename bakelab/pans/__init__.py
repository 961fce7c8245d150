"""Baking pans: measures, exact volumes, a table of usual ones, pans in prose."""

from bakelab.pans.pan import Pan
from bakelab.pans.phrases import PanMention, pan_in_text
from bakelab.pans.shapes import SHAPES
from bakelab.pans.spec import pan
from bakelab.pans.table import pan_names, pans
from bakelab.pans.water import volume_of_water, water_density

__all__ = [
    "SHAPES",
    "Pan",
    "PanMention",
    "pan",
    "pan_in_text",
    "pan_names",
    "pans",
    "volume_of_water",
    "water_density",
]
