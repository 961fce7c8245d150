"""All stages of a formula seen as one, and each stage for itself."""

import math
from dataclasses import replace

import pandas as pd

from bakelab.formula import Formula, Row

__all__ = ["STAGE_COLUMNS", "overall", "stage_table"]

STAGE_COLUMNS = (
    "stage",
    "flour_g",
    "flour_pct",
    "hydration_pct",
    "yeast_pct",
    "salt_pct",
    "mass_g",
)


def overall(formula: Formula) -> Formula:
    """The same formula in one stage, equal ingredients added up.

    The flour and water inside a starter stay in the starter's row.

    Examples
    --------
    >>> rows = (Row("poolish", "water", "water", "water", 150.0),
    ...         Row("final dough", "water", "water", "water", 200.0))
    >>> [r.mass_g for r in overall(Formula(rows)).rows]
    [350.0]
    """
    sums: dict[tuple[str, str, float | None], Row] = {}
    for row in formula.rows:
        key = (row.ingredient, row.role, row.hydration_pct)
        before = sums.get(key)
        mass_g = row.mass_g + (before.mass_g if before else 0.0)
        sums[key] = replace(before or row, stage="dough", mass_g=mass_g)
    return formula.with_rows(sums.values())


def stage_table(formula: Formula) -> pd.DataFrame:
    """One row per stage, columns `STAGE_COLUMNS`.

    `flour_pct` is of **all** flour: for a preferment, the percent of flour
    prefermented. Hydration, yeast and salt are over the stage's own flour
    and missing where it has none.
    """
    total_g = formula.flour_g or math.nan
    records = []
    for stage in formula.stages:
        part = formula.with_rows(r for r in formula.rows if r.stage == stage)
        flour_g = part.flour_g
        records.append(
            (
                stage,
                flour_g,
                100 * flour_g / total_g,
                part.hydration_pct,
                part.role_pct("yeast"),
                part.role_pct("salt"),
                part.dough_g,
            )
        )
    return pd.DataFrame(records, columns=list(STAGE_COLUMNS))
