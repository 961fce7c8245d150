"""A whole collection as tables: the cups an author really uses, and each recipe."""

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from bakelab.checking.case import Case, Entry
from bakelab.checking.check import check_file
from bakelab.checking.model import KINDS, Report
from bakelab.checking.usual import claimed_style
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.ranges import style_name
from bakelab.units import CUPS_ML, kitchen_units

if TYPE_CHECKING:
    import pandas as pd

__all__ = [
    "CUP_COLUMNS",
    "RECIPE_COLUMNS",
    "check_folder",
    "cup_weights",
    "recipe_table",
]

CUP_COLUMNS = ("recipe", "ingredient", "line", "cup_g", "low_g", "high_g", "state")
RECIPE_COLUMNS = ("name", "recipe", "style", "flour_g", "water_pct", "hydration_pct",
                  "salt_pct", *KINDS)  # fmt: skip


def check_folder(paths: Iterable[str]) -> tuple[Report, ...]:
    """A report for every recipe of some files and folders that can be read."""
    from bakelab.checking.source import files_of

    return tuple(report for path in files_of(paths) for report in check_file(path))


def cup_weights(reports: Iterable[Report]) -> "pd.DataFrame":
    """What a cup weighs by each line that has a weight and a volume.

    Returns
    -------
    DataFrame
        Columns `CUP_COLUMNS`: `cup_g` as printed, `low_g` to `high_g` the
        usual band of the ingredient, `state` where the line lies on it:
        "below the usual", "in the usual band" or "above the usual".
    """
    import pandas as pd

    rows = [row for report in reports for row in _cups(report)]
    return pd.DataFrame(rows, columns=list(CUP_COLUMNS))


def _cups(report: Report) -> Iterable[tuple[object, ...]]:
    for entry in _case(report).entries:
        known = is_ingredient(entry.line.ingredient)
        if known and entry.masses and entry.volumes:
            yield _cup(report, entry)


def _cup(report: Report, entry: Entry) -> tuple[object, ...]:
    from bakelab.ranges import place

    item = ingredient(entry.line.ingredient)
    volume = entry.volumes[0]
    size = kitchen_units()[volume.amount.unit or "ml"].size / CUPS_ML["us"]
    mass = entry.masses[0].grams_exact()
    cup_g = (mass.low + mass.high) / 2 / (volume.value * size)
    low, high = item.cup_low_g, item.cup_high_g
    state = "" if math.isnan(low) else place(cup_g, low, high)
    return (report.title, item.name, entry.line.text, cup_g, low, high, state)


def recipe_table(reports: Iterable[Report]) -> "pd.DataFrame":
    """One row per recipe: style, flour, hydration, salt, and what was found.

    Returns
    -------
    DataFrame
        Columns `RECIPE_COLUMNS`; the style is the one that the title
        claims, empty if it claims none. The worst come first.
    """
    import pandas as pd

    table = pd.DataFrame([_recipe(r) for r in reports], columns=list(RECIPE_COLUMNS))
    return table.sort_values(list(KINDS), ascending=False, ignore_index=True)


def _recipe(report: Report) -> Sequence[object]:
    formula = report.recipe.formula
    claim = claimed_style(_case(report))
    style = style_name(claim[0]) if claim else ""
    if formula is None or formula.flour_g <= 0:
        numbers: tuple[float, ...] = (math.nan,) * 4
    else:
        numbers = (formula.flour_g, formula.water_pct, formula.hydration_pct,
                   formula.role_pct("salt"))  # fmt: skip
    return (report.name, report.title, style, *numbers, *report.counts().values())


def _case(report: Report) -> Case:
    return Case(report.recipe, report.text, market=report.recipe.market,
                first_line=report.first_line)  # fmt: skip
