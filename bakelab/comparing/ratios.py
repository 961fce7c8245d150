"""The ratios of what was baked, and what the scale leaves open in each."""

import math
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import pandas as pd

from bakelab.comparing.data import ComparisonError
from bakelab.formula import Formula, Row
from bakelab.weighing import Scale

__all__ = ["RATIO_ROLES", "doubt_column", "ratios_of", "with_ratios"]

_SHORT = 6  # letters of a key that tell two formulas of one name apart
RATIO_ROLES = ("salt", "yeast", "starter", "sweetener", "fat", "egg", "dairy")
"""Roles whose share of the flour is a column of its own."""


def ratios_of(
    formula: Formula, *, scale: Scale | None = None, batch: float = 1.0
) -> dict[str, float]:
    """Ratios of a formula in percent of flour, by column.

    Parameters
    ----------
    formula : Formula
    scale : Scale, optional
        With it, every ratio has a second column (`doubt_column`): how far
        rounding to the scale's steps can put it off, in the same percent.
        Every weight is taken to be half a step off, all the bad way.
    batch : float
        How many times the formula was weighed out.

    Examples
    --------
    >>> from bakelab.weighing import KITCHEN_SCALE
    >>> pairs = [("wheat_bread", 500), ("water", 325), ("salt_table", 10)]
    >>> found = ratios_of(Formula.from_pairs(pairs), scale=KITCHEN_SCALE)
    >>> round(found["salt_pct"], 3), round(found["salt_pct_doubt"], 3)
    (2.0, 0.102)
    """
    found = {
        "hydration_pct": formula.hydration_pct,
        "water_pct": formula.water_pct,
        **{f"{role}_pct": formula.role_pct(role) for role in RATIO_ROLES},
        **_flours(formula),
    }
    if scale is None:
        return found
    doubts = {
        doubt_column(column): _doubt(formula, column, pct, scale, batch)
        for column, pct in found.items()
    }
    return found | doubts


def with_ratios(
    bakes: pd.DataFrame,
    formula_of: Callable[[str], Formula],
    *,
    names: Mapping[str, str] | None = None,
    scale: Scale | None = None,
) -> pd.DataFrame:
    """The table of bakes with the ratios of each bake's formula beside it.

    Two more columns help to compare: `variant`, a name that no two formulas
    share, and `day`, the local date of the bake.

    Parameters
    ----------
    bakes : DataFrame
        As of `BakeBook.bakes()`: a row per bake with `formula_key`; a
        `batch_factor` is taken as the size of the batch.
    formula_of : callable
        Gives the formula of a key, as `BakeBook.formula` does.
    names : mapping of str to str, optional
        Names of formulas by key, where they have one.
    scale : Scale, optional
        See `ratios_of`.

    Raises
    ------
    ComparisonError
        If the table has no column `formula_key`.
    """
    if "formula_key" not in bakes.columns:
        raise ComparisonError(
            "the table of bakes has no column formula_key; take it from book.bakes()"
        )
    keys = bakes["formula_key"].astype(str)
    formulas = {key: formula_of(key) for key in dict.fromkeys(keys)}
    sizes = _batches(bakes)
    pairs = list(zip(keys, sizes, strict=True))
    known = {
        (key, size): ratios_of(formulas[key], scale=scale, batch=size)
        for key, size in dict.fromkeys(pairs)
    }
    rows = [known[pair] for pair in pairs]
    more = pd.DataFrame(rows, index=bakes.index)
    calls = _names(bakes, keys, names or {})
    more["variant"] = [calls[key] for key in keys]
    if "started_at" in bakes.columns:
        more["day"] = [_local_day(moment) for moment in bakes["started_at"]]
    fresh = [c for c in more.columns if c not in bakes.columns]
    return pd.concat([bakes, more[fresh]], axis=1)


def doubt_column(ratio: str) -> str:
    """The column with what the scale leaves open in a ratio."""
    return f"{ratio}_doubt"


def _names(
    bakes: pd.DataFrame, keys: "pd.Series[str]", names: Mapping[str, str]
) -> dict[str, str]:
    """A name for every formula; the start of its key where two share one."""
    titles = bakes["title"] if "title" in bakes.columns else pd.Series("", bakes.index)
    calls: dict[str, str] = {}
    for key, title in zip(keys, titles.fillna("").astype(str), strict=True):
        own = names.get(key, "").strip()
        apart = own and title and own.casefold() not in title.casefold()
        calls[key] = f"{title}: {own}" if apart else title or own or "no name"
    shared = [name for name, times in Counter(calls.values()).items() if times > 1]
    return {
        key: f"{name} ({key[:_SHORT]})" if name in shared else name
        for key, name in calls.items()
    }


def _local_day(moment: Any) -> str | None:
    if pd.isna(moment):
        return None
    return f"{pd.Timestamp(moment).to_pydatetime().astimezone():%Y-%m-%d}"


def _batches(bakes: pd.DataFrame) -> list[float]:
    if "batch_factor" not in bakes.columns:
        return [1.0] * len(bakes)
    sizes = pd.to_numeric(bakes["batch_factor"], errors="coerce")
    return [s if math.isfinite(s) and s > 0 else 1.0 for s in sizes.astype(float)]


def _flours(formula: Formula) -> dict[str, float]:
    """The share of each flour where there are several."""
    keys = dict.fromkeys(r.ingredient for r in formula.rows if r.role == "flour")
    if len(keys) < 2:
        return {}
    return {f"{key}_pct": _pct(_rows(formula, f"{key}_pct"), formula) for key in keys}


def _rows(formula: Formula, column: str) -> list[Row]:
    name = column.removesuffix("_pct")
    if name in RATIO_ROLES:
        return [r for r in formula.rows if r.role == name]
    if name in ("hydration", "water"):
        return [r for r in formula.rows if r.ingredient == "water"]
    return [r for r in formula.rows if r.ingredient == name]


def _pct(rows: Iterable[Row], formula: Formula) -> float:
    return 100 * math.fsum(r.mass_g for r in rows) / formula.require_flour()


def _doubt(
    formula: Formula, column: str, pct: float, scale: Scale, batch: float
) -> float:
    flour = [r for r in formula.rows if r.role == "flour"]
    own = _off(_rows(formula, column), scale, batch)
    base = _off(flour, scale, batch)
    return (100 * own + pct * base) / (formula.require_flour() * batch)


def _off(rows: Iterable[Row], scale: Scale, batch: float) -> float:
    """Grams that half a step of every weight can add up to."""
    return math.fsum(scale.step_g(r.mass_g * batch) / 2 for r in rows if r.mass_g > 0)
