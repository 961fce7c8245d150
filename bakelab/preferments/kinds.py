"""The kinds of preferment, with their usual bands."""

import difflib
import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.tables import read_rows, read_table

__all__ = ["Kind", "kind", "kinds"]

_COLUMNS = {
    "kind": str,
    "name": str,
    "flour_low": float,
    "flour_high": float,
    "hydration_low": float,
    "hydration_high": float,
    "yeast_low": float,
    "yeast_high": float,
    "salt_pct": float,
    "hours_low": float,
    "hours_high": float,
    "source": str,
}


@dataclass(frozen=True)
class Kind:
    """One kind of preferment; percentages are of its own flour.

    `flour` is the band of all flour that goes into it, `hours` the time
    from mixing to use. A band of nothing is (nan, nan).
    """

    key: str
    name: str
    flour: tuple[float, float]
    hydration: tuple[float, float]
    yeast: tuple[float, float]
    salt_pct: float
    hours: tuple[float, float]
    source: str

    @property
    def rises(self) -> bool:
        """Whether baker's yeast is usual in it."""
        return not math.isnan(self.yeast[0])

    @property
    def is_levain(self) -> bool:
        """Whether a ripe starter raises it."""
        return self.key.startswith("levain")

    @property
    def stage(self) -> str:
        """What its stage is called in a formula."""
        return self.name.partition(" (")[0].casefold().partition(" with")[0]

    def middle(self, what: str) -> float:
        """The middle of a band: "flour", "hydration", "yeast" or "hours"."""
        low, high = getattr(self, what)
        return float(low + high) / 2


def kinds() -> pd.DataFrame:
    """The table of kinds, with a source on every row."""
    return read_table("preferments", _COLUMNS)


def kind(key: str) -> Kind:
    """The kind of a key such as ``"poolish"``.

    Raises
    ------
    FormulaError
        If there is none; names the closest.
    """
    found = _kinds().get(key)
    if found is None:
        close = difflib.get_close_matches(key, _kinds(), 3, 0.3) or list(_kinds())
        raise FormulaError(f"no preferment {key!r}; closest: {', '.join(close)}")
    return found


@cache
def _kinds() -> Mapping[str, Kind]:
    made = {}
    for row in read_rows("preferments", _COLUMNS):
        made[row["kind"]] = Kind(
            row["kind"],
            row["name"],
            (row["flour_low"], row["flour_high"]),
            (row["hydration_low"], row["hydration_high"]),
            (row["yeast_low"], row["yeast_high"]),
            row["salt_pct"],
            (row["hours_low"], row["hours_high"]),
            row["source"],
        )
    return MappingProxyType(made)
