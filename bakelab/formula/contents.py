"""What is inside one weighed ingredient: flour, water, nutrients."""

import math
from dataclasses import dataclass

from bakelab.ingredients import Ingredient, ingredient, is_ingredient

__all__ = ["NUTRIENTS", "RowContents", "contents"]

NUTRIENTS = ("water", "protein", "fat", "carb", "fibre", "sugars", "sodium_mg")

_STARTER_FLOUR = "wheat_all_purpose"


@dataclass(frozen=True)
class RowContents:
    """Grams of flour and of added water in a row, and its nutrients in g."""

    flour_g: float
    water_g: float
    nutrients: tuple[float, ...]


def contents(
    key: str, role: str, mass_g: float, hydration_pct: float | None
) -> RowContents:
    """What `mass_g` of an ingredient holds.

    The flour's own moisture is not added water. A starter of a given
    hydration is flour and water in that ratio. An ingredient outside the
    table holds nothing that is known, unless its role says that it is
    flour or water.
    """
    if role == "starter":
        return _starter(mass_g, 100.0 if hydration_pct is None else hydration_pct)
    item = ingredient(key) if is_ingredient(key) else None
    share = item.flour_share if item is not None else 0.0
    flour = mass_g if role == "flour" else mass_g * share
    nutrients = _nutrients(item, mass_g)
    if role == "flour":
        water = 0.0
    elif role == "water":
        water = mass_g
    else:
        water = mass_g - flour if share else nutrients[0]
    return RowContents(flour, water, nutrients)


def _starter(mass_g: float, hydration_pct: float) -> RowContents:
    flour = mass_g / (1 + hydration_pct / 100)
    water = mass_g - flour
    inside = _nutrients(ingredient(_STARTER_FLOUR), flour)
    return RowContents(flour, water, (inside[0] + water, *inside[1:]))


def _nutrients(item: Ingredient | None, mass_g: float) -> tuple[float, ...]:
    if item is None:
        return (0.0,) * len(NUTRIENTS)
    per_100 = (
        item.water_g,
        item.protein_g,
        item.fat_g,
        item.carb_g,
        item.fibre_g,
        item.sugars_g,
        item.sodium_mg,
    )
    return tuple(0.0 if math.isnan(v) else v * mass_g / 100 for v in per_100)
