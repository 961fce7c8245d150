"""What a move does to dough and loaf, in plain words with their basis."""

import math
from functools import cache
from typing import Any

from bakelab.formula import Formula
from bakelab.ranges import measures, shares
from bakelab.tables import read_rows

__all__ = ["consequences"]

_COLUMNS = {
    "measure": str,
    "direction": str,
    "least": float,
    "beyond": float,
    "text": str,
    "source": str,
}


def consequences(before: Formula, after: Formula) -> tuple[str, ...]:
    """Sentences on what differs, each with its basis; empty if nothing does.

    Where a value passes a mark of the table, the sharper sentence stands
    in place of the plain one.
    """
    old, new = _all(before), _all(after)
    said: dict[tuple[str, str], str] = {}
    for row in _rows():
        name = row["measure"]
        if name in old and name in new and _holds(row, old[name], new[name]):
            said[name, row["direction"]] = f"{row['text']} ({row['source']})"
    return tuple(said.values())


def _holds(row: dict[str, Any], old: float, new: float) -> bool:
    moved = new - old if row["direction"] == "up" else old - new
    if moved < row["least"] - 1e-9:
        return False
    if math.isnan(row["beyond"]):
        return True
    past = new > row["beyond"] if row["direction"] == "up" else new < row["beyond"]
    return bool(past)


def _all(formula: Formula) -> dict[str, float]:
    found = dict(measures(formula))
    grains = shares(formula)
    return found | {"whole": grains["whole"], "rye": grains["rye"]}


@cache
def _rows() -> tuple[dict[str, Any], ...]:
    return tuple(read_rows("consequences", _COLUMNS))
