"""Ingredients: the table, and finding one in the words of a recipe line."""

from bakelab.ingredients.search import Match, find_ingredient, head_is_equipment
from bakelab.ingredients.table import (
    INGREDIENT_ROLES,
    Ingredient,
    ingredient,
    ingredients,
    is_ingredient,
)

__all__ = [
    "INGREDIENT_ROLES",
    "Ingredient",
    "Match",
    "find_ingredient",
    "head_is_equipment",
    "ingredient",
    "ingredients",
    "is_ingredient",
]
