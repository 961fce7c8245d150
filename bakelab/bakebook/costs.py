"""What the ingredients of a trial cost, where every price is known."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from bakelab.formula import Formula

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Cost", "ingredients_cost"]

FREE = ("water",)  # from the tap: counted as nothing unless it has a price


@dataclass(frozen=True)
class Cost:
    """Cost of the ingredients; `total` is None unless every price is known.

    `words` says what is missing or assumed.
    """

    total: float | None
    currency: str
    words: str


def ingredients_cost(
    formula: Formula,
    prices: pd.DataFrame,
    *,
    factor: float = 1.0,
    on: date | None = None,
) -> Cost | None:
    """What the ingredients cost, by the prices of the house on that day.

    Parameters
    ----------
    formula : Formula
    prices : DataFrame
        Columns ``ingredient``, ``price``, ``currency``, ``per_g``, ``date``.
        The newest price up to the day counts, else the first one after it.
    factor : float
        The batch over the formula.
    on : date, optional
        The day; the newest prices by default.

    Returns
    -------
    Cost or None
        None if no ingredient has a price.
    """
    known = _prices(prices, on) if len(prices) else {}
    grams: dict[str, float] = {}
    labels: dict[str, str] = {}
    for row in formula.rows:
        grams[row.ingredient] = grams.get(row.ingredient, 0.0) + row.mass_g * factor
        labels.setdefault(row.ingredient, row.label)
    if not any(key in known for key in grams):
        return None
    free = [key for key in grams if key in FREE and key not in known]
    missing = [labels[key] for key in grams if key not in known and key not in free]
    money = sorted({known[key]["currency"] for key in grams if key in known})
    words = "water counted as nothing" if free else ""
    if missing or len(money) != 1:
        return Cost(None, "", _why_not(missing, money))
    each = {key: row["price"] / row["per_g"] for key, row in known.items()}
    total = math.fsum(g * each.get(key, 0.0) for key, g in grams.items())
    return Cost(total, money[0], words)


def _why_not(missing: list[str], money: list[str]) -> str:
    if missing:
        return f"no price of {', '.join(missing)}"
    return f"prices in several currencies: {', '.join(money)}"


def _prices(prices: pd.DataFrame, on: date | None) -> dict[str, Mapping[str, Any]]:
    """The price that counts on the day, for each ingredient."""
    day = "9999-12-31" if on is None else on.isoformat()
    found: dict[str, Mapping[str, Any]] = {}
    records = [_cleaned(row) for row in prices.to_dict("records")]
    for row in sorted(records, key=lambda r: r["date"]):
        usable = row["ingredient"] and row["price"] is not None and row["per_g"]
        if usable and (row["date"] <= day or row["ingredient"] not in found):
            found[row["ingredient"]] = row
    return found


def _cleaned(row: Mapping[Any, Any]) -> dict[str, Any]:
    def number(name: str) -> float | None:
        value = row.get(name)
        return None if value is None or math.isnan(value) else float(value)

    def text(name: str) -> str:
        value = row.get(name)
        return value if isinstance(value, str) else ""

    return {
        "ingredient": text("ingredient"),
        "price": number("price"),
        "per_g": number("per_g"),
        "currency": text("currency"),
        "date": text("date"),
    }
