"""From a recipe as people write it to a formula; nothing is dropped."""

from bakelab.reading.line import read_line
from bakelab.reading.model import STATES, Line, Recipe

__all__ = ["STATES", "Line", "Recipe", "read_line"]
