"""Amounts that can be held: water, fat, sweetness and the rest, in grams."""

import math
from collections.abc import Iterable, Mapping
from types import MappingProxyType

from bakelab.formula import Formula, Row
from bakelab.formula.contents import NUTRIENTS, contents
from bakelab.ingredients import ingredient, is_ingredient

__all__ = ["AMOUNTS", "amount_g", "in_one_gram", "solids_g"]

#: Sweetness of milk sugar beside white sugar (16 %): A Dictionary of Food and
#: Nutrition (Oxford), "sweeteners", as quoted at encyclopedia.com. Every other
#: sugar counts as 1, so that honey is as sweet as the sugars in it.
_MILK_SUGAR = 0.16
_MILK_SUGAR_PER_PROTEIN = 5.09 / 3.37  # skim milk, USDA SR28 01085
_SWEETENED = ("milk_condensed", "milk_chocolate_drink")  # the rest holds milk sugar
_NUTRIENT = {"sodium": NUTRIENTS.index("sodium_mg")} | {
    what: NUTRIENTS.index(what) for what in ("fat", "sugars", "protein")
}

#: What is held: words for it. Sodium is in mg, all else in g.
AMOUNTS: Mapping[str, str] = MappingProxyType(
    {
        "mass": "mass",
        "water": "water",
        "fat": "fat",
        "sugars": "sugars",
        "sweetness": "sweetness (as white sugar)",
        "protein": "protein",
        "sodium": "sodium",
        "solids": "dry solids",
        "lean_solids": "dry solids without fat",
    }
)


def in_one_gram(key: str, what: str) -> float:
    """What one gram of an ingredient of the table holds of an amount."""
    item = ingredient(key)
    return _inside(Row("", key, item.name, item.role, 1.0), what)


def amount_g(rows: Iterable[Row], what: str) -> float:
    """What rows hold; water is added water, without the flour's own moisture.

    Flour and starter bring no sweetness. An ingredient outside the table
    holds its mass, and water where it is called water.
    """
    return math.fsum(_inside(row, what) for row in rows)


def solids_g(formula: Formula) -> float:
    """Everything in the dough but water, the flour's own moisture too, in g."""
    return formula.dough_g * (1 - formula.composition()["water"] / 100)


def _inside(row: Row, what: str) -> float:
    if what == "mass":
        return row.mass_g
    if what == "sweetness":
        return row.mass_g * _sweetness(row) / 100
    inside = contents(row.ingredient, row.role, row.mass_g, row.hydration_pct)
    if what == "water":
        return inside.water_g
    if what in _NUTRIENT:
        return inside.nutrients[_NUTRIENT[what]]
    moist = row.role in ("flour", "starter")  # with the flour's own moisture
    dry_g = row.mass_g - (inside.nutrients[0] if moist else inside.water_g)
    fat_g = inside.nutrients[_NUTRIENT["fat"]]
    return dry_g - fat_g if what == "lean_solids" else dry_g


def _sweetness(row: Row) -> float:
    """In percent of white sugar's; flour and starter bring none."""
    if row.role in ("flour", "starter") or not is_ingredient(row.ingredient):
        return 0.0
    item = ingredient(row.ingredient)
    sugars = _known(item.sugars_g)
    if item.role != "dairy":
        return sugars
    milk_sugar = sugars
    if item.key in _SWEETENED:
        milk_sugar = min(sugars, _MILK_SUGAR_PER_PROTEIN * _known(item.protein_g))
    return sugars - milk_sugar * (1 - _MILK_SUGAR)


def _known(value: float) -> float:
    return 0.0 if math.isnan(value) else value
