"""From a recipe as people write it to a formula; nothing is dropped."""

from bakelab.reading.line import read_line
from bakelab.reading.model import STATES, Line, Recipe
from bakelab.reading.recipe import read_recipe, recipe_from_lines
from bakelab.reading.weights import MARKETS

__all__ = [
    "MARKETS",
    "STATES",
    "Line",
    "Recipe",
    "read_line",
    "read_recipe",
    "recipe_from_lines",
]
