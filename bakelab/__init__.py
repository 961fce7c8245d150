"""A lab for people who develop bread recipes.

>>> import bakelab
>>> text = "500 g bread flour\\n340 g water\\n10 g salt\\n5 g instant yeast"
>>> bread = bakelab.read_recipe(text).formula
>>> round(bakelab.fit(bread, dough="600 g").factor, 3)
0.702
"""

from typing import TYPE_CHECKING

from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.later import later, listed
from bakelab.pans import Pan, pan, pans
from bakelab.ranges import trade_ranges
from bakelab.reading import read_recipe
from bakelab.scaling import compare, fit, likely_pans
from bakelab.weighing import round_to_scale

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook
    from bakelab.checking import check

__all__ = [
    "BakeBook",
    "BakelabError",
    "Formula",
    "Pan",
    "check",
    "compare",
    "fit",
    "likely_pans",
    "pan",
    "pans",
    "read_recipe",
    "round_to_scale",
    "trade_ranges",
]
__version__ = "0.1.0"
__getattr__ = later(
    __name__, {"BakeBook": "bakelab.bakebook", "check": "bakelab.checking"}
)
__dir__ = listed(__name__)
