"""The usual exchanges of one ingredient for others, by name."""

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.formula import Formula
from bakelab.tables import read_rows, read_table
from bakelab.variants.change import Change
from bakelab.variants.exchange import exchange

__all__ = ["substitute", "substitutions"]

_COLUMNS = {
    "key": str,
    "name": str,
    "from": str,
    "into": str,
    "balance": str,
    "held": str,
    "source": str,
}


@dataclass(frozen=True)
class _Swap:
    old: tuple[str, ...]
    into: tuple[str, ...]
    balance: tuple[str, ...]
    held: tuple[str, ...]


def substitutions() -> pd.DataFrame:
    """The exchanges that are known, with what each holds and what gives way."""
    return read_table("substitutions", _COLUMNS)


def substitute(formula: Formula, key: str, *, share_pct: float = 100.0) -> Change:
    """Exchange an ingredient for others, holding what the table says.

    Parameters
    ----------
    formula : Formula
    key : str
        Of `substitutions`, such as ``"butter_to_oil"``; `exchange` takes any
        other ingredients.
    share_pct : float
        How much of the ingredient is exchanged, in percent.

    Returns
    -------
    Change
        `sentences` explain it line by line; what cannot be held is in
        `not_held`.

    Raises
    ------
    FormulaError
        If the formula lacks the ingredient.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 500), ("butter_unsalted", 50)])
    >>> for line in substitute(dough, "butter_to_oil").sentences[:3]:
    ...     print(line)
    50.0 g Unsalted butter becomes 40.6 g Vegetable oil, 9.0 g Water
    fat stays at 48.9 g
    water stays at 9.0 g
    """
    swap = _swap(key)
    return exchange(
        formula,
        swap.old,
        swap.into,
        hold=swap.held,
        balance=swap.balance,
        share_pct=share_pct,
    )


def _swap(key: str) -> _Swap:
    if key not in _swaps():
        close = difflib.get_close_matches(key, _swaps(), 3, 0.3) or list(_swaps())
        raise FormulaError(f"no exchange {key!r}; closest: {', '.join(close)}")
    return _swaps()[key]


@cache
def _swaps() -> Mapping[str, _Swap]:
    lists = ("from", "into", "balance", "held")
    return MappingProxyType(
        {
            row["key"]: _Swap(*(_words(row[name]) for name in lists))
            for row in read_rows("substitutions", _COLUMNS)
        }
    )


def _words(cell: str) -> tuple[str, ...]:
    return tuple(word for word in cell.split("|") if word)
