"""The table of ingredients: role, composition, weights of kitchen measures."""

import difflib
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from functools import cache
from types import MappingProxyType
from typing import Any

import pandas as pd

from bakelab.errors import TableError, UnknownIngredientError
from bakelab.tables import read_rows

__all__ = [
    "INGREDIENT_ROLES",
    "Ingredient",
    "all_ingredients",
    "ingredient",
    "ingredients",
    "is_ingredient",
]

INGREDIENT_ROLES = (
    "flour",
    "water",
    "liquid",
    "yeast",
    "starter",
    "salt",
    "sweetener",
    "fat",
    "egg",
    "dairy",
    "leavening",
    "inclusion",
    "other",
)


@dataclass(frozen=True)
class Ingredient:
    """One row of `data/ingredients.csv`; a float that was not measured is NaN.

    Composition is per 100 g as sold, `cup_*` in grams per US cup of
    236.588 mL, `portions` in grams per measure, `flour_share` in grams of
    flour per gram. `en`, `de` and `fr` are the words by which recipes call
    the ingredient.
    """

    key: str
    name: str
    role: str
    en: tuple[str, ...]
    de: tuple[str, ...]
    fr: tuple[str, ...]
    water_g: float
    protein_g: float
    fat_g: float
    carb_g: float
    fibre_g: float
    sugars_g: float
    sodium_mg: float
    cup_low_g: float
    cup_mid_g: float
    cup_high_g: float
    portions: Mapping[str, float] = field(hash=False)
    flour_share: float
    allergens: tuple[str, ...]
    source: str


_COLUMNS: dict[str, type] = {
    f.name: float if f.type is float else str for f in fields(Ingredient)
}


def ingredients() -> pd.DataFrame:
    """The table of ingredients by key, as written; blank = not measured."""
    return _frame().copy()


def ingredient(key: str) -> Ingredient:
    """The ingredient of a key such as `wheat_bread`.

    Raises
    ------
    UnknownIngredientError
        If the key is not in the table; the closest keys are named.
    """
    try:
        return all_ingredients()[key]
    except KeyError:
        raise UnknownIngredientError(_unknown(key)) from None


def is_ingredient(key: str) -> bool:
    """Whether a key is in the table of ingredients."""
    return key in all_ingredients()


@cache
def all_ingredients() -> Mapping[str, Ingredient]:
    """Every ingredient by key, read once."""
    items: dict[str, Ingredient] = {}
    for row in read_rows("ingredients", _COLUMNS):
        item = _ingredient(row)
        if item.key in items:
            raise TableError(f"ingredients.csv: key {item.key!r} stands there twice")
        items[item.key] = item
    return MappingProxyType(items)


@cache
def _frame() -> pd.DataFrame:
    rows = read_rows("ingredients", _COLUMNS)
    return pd.DataFrame(rows, columns=list(_COLUMNS)).set_index("key")


def _ingredient(row: dict[str, Any]) -> Ingredient:
    if row["role"] not in INGREDIENT_ROLES:
        raise TableError(
            f"ingredients.csv, {row['key']}: role is {row['role']!r}, "
            f"expected one of {', '.join(INGREDIENT_ROLES)}"
        )
    parts = {name: _words(row[name]) for name in ("en", "de", "fr", "allergens")}
    return Ingredient(**row | parts | {"portions": _portions(row)})


def _words(cell: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in cell.split("|") if word.strip())


def _portions(row: dict[str, Any]) -> Mapping[str, float]:
    portions = {}
    for part in filter(None, map(str.strip, row["portions"].split(";"))):
        measure, _, grams = part.partition("=")
        try:
            portions[measure.strip()] = float(grams)
        except ValueError:
            raise TableError(
                f"ingredients.csv, {row['key']}: portion is {part!r}, "
                "expected one such as 'tsp=6'"
            ) from None
    return MappingProxyType(portions)


def _unknown(key: str) -> str:
    close = difflib.get_close_matches(key, all_ingredients(), n=3, cutoff=0.5)
    close = close or sorted(k for k in all_ingredients() if k.split("_")[0] in key)[:3]
    hint = f"closest: {', '.join(close)}" if close else "ingredients() lists all keys"
    return f"no ingredient {key!r}; {hint}"
