"""What a move does to dough and loaf, in plain words with their basis."""

import math
from functools import cache
from typing import Any

from bakelab.formula import Formula, Row
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.ranges import measures, shares
from bakelab.ranges.stages import dough_only
from bakelab.tables import read_rows
from bakelab.variants.amounts import amount_g

__all__ = ["consequences"]

_COLUMNS = {
    "measure": str,
    "direction": str,
    "least": float,
    "beyond": float,
    "text": str,
    "source": str,
}
#: What has to move as well, as amount and how much of it one point of the measure
#: brings: butter for oil is no more fat, honey for sugar no more sweetness.
_BACKED = {
    "salt": ("sodium", 387.58),  # mg in a gram of salt, USDA SR26 2047
    "sugar": ("sweetness", 1.0),
    "fat": ("fat", 1.0),
    "milk_solids": ("lean_solids", 1.0),
}
_PART = 0.5  # of the least move: honey is 82 % sugar, milk solids 73 % without fat


def consequences(before: Formula, after: Formula) -> tuple[str, ...]:
    """Sentences on what differs, each with its basis; empty if nothing does.

    Where a value passes a mark of the table, the sharper sentence stands
    in place of the plain one. Salt, sugar, fat and milk solids have to move
    in the dough, not only from one ingredient into another.
    """
    old, new = _all(before), _all(after)
    inside = _inside(before, after)
    said: dict[tuple[str, str], str] = {}
    for row in _rows():
        name = row["measure"]
        if (
            name in old
            and name in new
            and _holds(row, old[name], new[name], inside.get(name))
        ):
            said[name, row["direction"]] = f"{row['text']} ({row['source']})"
    return tuple(said.values())


def _holds(row: dict[str, Any], old: float, new: float, inside: float | None) -> bool:
    sign = 1 if row["direction"] == "up" else -1
    if sign * (new - old) < row["least"] - 1e-9:
        return False
    if inside is not None and sign * inside < _PART * row["least"]:
        return False
    if math.isnan(row["beyond"]):
        return True
    past = new > row["beyond"] if row["direction"] == "up" else new < row["beyond"]
    return bool(past)


def _all(formula: Formula) -> dict[str, float]:
    found = dict(measures(formula))
    grains = shares(formula)
    return found | {"whole": grains["whole"], "rye": grains["rye"]}


def _inside(before: Formula, after: Formula) -> dict[str, float]:
    """How much of each backed measure came into the dough; unknown rows: none."""
    old, new = dough_only(before), dough_only(after)
    if not all(is_ingredient(r.ingredient) for r in (*old.rows, *new.rows)):
        return {}
    return {
        measure: _pct(new, measure, what) / per - _pct(old, measure, what) / per
        for measure, (what, per) in _BACKED.items()
    }


def _pct(formula: Formula, measure: str, what: str) -> float:
    rows = [r for r in formula.rows if measure != "milk_solids" or _is_milk(r)]
    return 100 * amount_g(rows, what) / formula.flour_g


def _is_milk(row: Row) -> bool:
    if row.role == "dairy":
        return True
    return row.role == "liquid" and "milk" in ingredient(row.ingredient).allergens


@cache
def _rows() -> tuple[dict[str, Any], ...]:
    return tuple(read_rows("consequences", _COLUMNS))
