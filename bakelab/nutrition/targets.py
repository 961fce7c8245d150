"""Published targets for the salt of bread."""

from dataclasses import dataclass
from functools import cache

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.tables import read_rows, read_table

__all__ = ["SODIUM_TO_SALT", "SaltTarget", "salt_target", "salt_targets"]

#: Grams of salt for each gram of sodium: NaCl 58.44 over Na 22.99 (atomic weights).
SODIUM_TO_SALT = 58.44 / 22.99
_COLUMNS = {
    "key": str, "name": str, "kind": str, "year": int, "salt_g": float,
    "sodium_mg": float, "source": str,
}  # fmt: skip


@dataclass(frozen=True)
class SaltTarget:
    """Salt in 100 g of bread that was asked for, or found on average."""

    key: str
    name: str
    kind: str
    year: int
    salt_g: float
    sodium_mg: float
    source: str


def salt_targets() -> pd.DataFrame:
    """All published targets and averages, one row each, with their source."""
    return read_table("salt_targets", _COLUMNS)


def salt_target(key: str = "uk_2012") -> SaltTarget:
    """One of the published targets.

    Raises
    ------
    FormulaError
        If there is none of that key.
    """
    known = _targets()
    if key not in known:
        raise FormulaError(f"no salt target {key!r}; use one of {', '.join(known)}")
    return known[key]


@cache
def _targets() -> dict[str, SaltTarget]:
    rows = read_rows("salt_targets", _COLUMNS)
    return {row["key"]: SaltTarget(**row) for row in rows}
