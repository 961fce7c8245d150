"""The table of usual bands: what a baker would call normal for a style."""

import difflib
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.tables import read_rows

__all__ = [
    "ABOVE",
    "BELOW",
    "COMMON_PRACTICE",
    "INSIDE",
    "MEASURES",
    "NO_BAND",
    "Band",
    "RangeRow",
    "band",
    "bands",
    "place",
    "range_rows",
    "style_key",
    "style_name",
    "styles",
    "trade_ranges",
]

BELOW = "below the usual"
INSIDE = "in the usual band"
ABOVE = "above the usual"
NO_BAND = "no usual band"
COMMON_PRACTICE = "common practice, no source"

#: Measures of the table, in the order a baker reads them, with their words.
MEASURES = {
    "hydration": "Hydration (all added water)",
    "salt": "Salt",
    "yeast_fresh": "Yeast, fresh",
    "yeast_active_dry": "Yeast, active dry",
    "yeast_instant": "Yeast, instant",
    "sugar": "Sugar and other sweeteners",
    "fat": "Fat",
    "egg": "Egg",
    "milk_solids": "Milk solids",
    "prefermented_flour": "Prefermented flour",
    "loading_cm3_g": "Pan volume over dough",
    "dough_c": "Dough temperature",
    "core_end_c": "Core at the end of the bake",
    "bake_loss": "Bake loss",
}


class RangeRow(NamedTuple):
    """One row of the table of usual bands."""

    style: str
    name: str
    family: str
    measure: str
    low: float
    high: float
    unit: str
    basis: str
    source: str


_COLUMNS = RangeRow.__annotations__


@dataclass(frozen=True)
class Band:
    """A usual band: from `low` to `high`, both counted in."""

    low: float
    high: float
    unit: str
    sources: tuple[str, ...]

    @property
    def text(self) -> str:
        """The band as a baker writes it: ``1.5 to 2.2 % of flour``."""
        if self.low == self.high:
            return f"{self.low:g} {self.unit}"
        return f"{self.low:g} to {self.high:g} {self.unit}"


def trade_ranges(style: str | None = None) -> pd.DataFrame:
    """Usual bands of the trade, one row per style, measure and source.

    Parameters
    ----------
    style : str, optional
        Key or printed name of a style; all of them by default.

    Returns
    -------
    DataFrame
        ``style, name, family, measure, low, high, unit, basis, source``.
        Percentages are of all flour. Hydration is the true hydration:
        all added water, that in egg, dairy, fat and sweeteners counted,
        without the flour's own moisture. Where sources differ each
        keeps its row. No row means the measure is not usual there.

    Raises
    ------
    FormulaError
        If there is no such style; names the closest ones.

    Examples
    --------
    >>> trade_ranges("bagel").query("measure == 'hydration'").low.item()
    50.0
    """
    table = _table()
    if style is None:
        return table.copy()
    return table[table["style"] == style_key(style)].reset_index(drop=True)


def styles() -> pd.DataFrame:
    """Every style of the table: ``style, name, family``."""
    columns = ["style", "name", "family"]
    return _table()[columns].drop_duplicates().reset_index(drop=True)


def style_key(style: str) -> str:
    """Key of a style, from the key or the printed name.

    Raises
    ------
    FormulaError
        If there is no such style; names the closest ones.
    """
    names = _names()
    if style in names:
        return style
    wanted = style.strip().casefold()
    for key, name in names.items():
        if wanted in (name.casefold(), key.replace("_", " ")):
            return key
    close = difflib.get_close_matches(wanted.replace(" ", "_"), names, n=3, cutoff=0.4)
    hint = ", ".join(close or list(names)[:3])
    raise FormulaError(f"no style {style!r} in the usual bands; closest: {hint}")


def style_name(style: str) -> str:
    """Printed name of a style, from its key or from the name itself."""
    return _names()[style_key(style)]


def band(style: str, measure: str) -> Band | None:
    """Widest band that all sources of one style and measure span.

    Parameters
    ----------
    style : str
        Key or printed name of a style.
    measure : str
        One of `MEASURES`.

    Returns
    -------
    Band or None
        None where the measure is not usual for the style.

    Raises
    ------
    FormulaError
        If the style or the measure is not in the table.
    """
    if measure not in MEASURES:
        raise FormulaError(
            f"no measure {measure!r} in the usual bands; use one of "
            f"{', '.join(MEASURES)}"
        )
    return bands(style).get(measure)


def bands(style: str) -> dict[str, Band]:
    """All bands of a style by measure; see `band`."""
    return dict(_envelopes()[style_key(style)])


def place(value: float, low: float, high: float) -> str:
    """Where a value lies against a band, in words.

    The ends belong to the band, and a difference smaller than a
    millionth of the value is not one.

    Examples
    --------
    >>> place(1.2, 1.5, 2.0)
    'below the usual'
    """
    slack = 1e-6 * max(abs(value), 1e-6)
    if value < low - slack:
        return BELOW
    if value > high + slack:
        return ABOVE
    return INSIDE


def range_rows(style: str) -> list[RangeRow]:
    """The rows of one style, as `trade_ranges` but without a data frame."""
    return list(_rows_of()[style_key(style)])


@cache
def _rows() -> tuple[RangeRow, ...]:
    return tuple(RangeRow(**row) for row in read_rows("trade_ranges", _COLUMNS))


@cache
def _rows_of() -> dict[str, list[RangeRow]]:
    found: dict[str, list[RangeRow]] = {}
    for row in _rows():
        found.setdefault(row.style, []).append(row)
    return found


@cache
def _table() -> pd.DataFrame:
    return pd.DataFrame(_rows(), columns=list(_COLUMNS))


@cache
def _names() -> dict[str, str]:
    return {row.style: row.name for row in _rows()}


@cache
def _envelopes() -> dict[str, dict[str, Band]]:
    found: dict[str, dict[str, Band]] = {style: {} for style in _names()}
    for row in _rows():
        old = found[row.style].get(row.measure)
        new = Band(row.low, row.high, row.unit, (row.source,))
        found[row.style][row.measure] = new if old is None else _wider(old, new)
    return found


def _wider(one: Band, other: Band) -> Band:
    sources = tuple(dict.fromkeys(one.sources + other.sources))
    low, high = min(one.low, other.low), max(one.high, other.high)
    return Band(low, high, one.unit, sources)
