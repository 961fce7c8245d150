"""The misconceptions that wrong answers are recognised by."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING

from bakelab.errors import BakelabError
from bakelab.tables import read_rows, read_table

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["look_at", "misconception_name", "misconceptions"]

_COLUMNS: dict[str, type] = {"key": str, "name": str, "look_at": str, "source": str}


def misconceptions() -> pd.DataFrame:
    """Every misconception: ``key, name, look_at, source``."""
    return read_table("misconceptions", _COLUMNS)


def misconception_name(key: str) -> str:
    """Its name in words, such as "percent of the dough for percent of flour"."""
    return _row(key)["name"]


def look_at(key: str) -> str:
    """What to look at, in general words."""
    return _row(key)["look_at"]


def _row(key: str) -> Mapping[str, str]:
    try:
        return _rows()[key]
    except KeyError:
        raise BakelabError(
            f"no misconception {key!r}; misconceptions() lists all keys"
        ) from None


@cache
def _rows() -> Mapping[str, Mapping[str, str]]:
    return {row["key"]: row for row in read_rows("misconceptions", _COLUMNS)}
