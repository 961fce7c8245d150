"""Two to five variants side by side, what differs marked by sign and word."""

from collections.abc import Collection, Sequence

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.formula import Formula
from bakelab.ranges import measures
from bakelab.variants.family import Variant

__all__ = ["side_by_side"]

_SAME = 0.005  # less than what two decimals show
_MOST_BESIDE = 5
_SHOWN = ("percent", "grams", "both")
_SPARSE = {  # measures that stand there only where there is any
    "fat": "fat in the added fats (% of flour)",
    "sugar": "all sweeteners (% of flour)",
    "egg": "all egg (% of flour)",
    "milk_solids": "milk solids (% of flour)",
    "prefermented_flour": "flour prefermented (% of flour)",
}


def side_by_side(variants: Sequence[Variant], *, show: str = "percent") -> pd.DataFrame:
    """Two to five variants by ingredient, and what differs from the first.

    Every other one has a column of its values and one of words: "same",
    "up +0.40", "down −0.40", "new" or "gone". Derived values stand below
    the ingredients; fat, sugar, egg, milk solids and prefermented flour
    only where one of the variants has any.

    Parameters
    ----------
    variants : sequence of Variant
    show : {"percent", "grams", "both"}
        Ingredients in percent of flour, in grams, or one after the other.

    Raises
    ------
    FormulaError
        If there are fewer than two or more than five.
    """
    if not 2 <= len(variants) <= _MOST_BESIDE:
        raise FormulaError(f"two to five variants go side by side, got {len(variants)}")
    if show not in _SHOWN:
        raise FormulaError(
            f"no values {show!r} to show; use one of {', '.join(_SHOWN)}"
        )
    parts = [_ingredients(v.formula, show) for v in variants]
    derived = [_derived(v.formula) for v in variants]
    columns = [part | own for part, own in zip(parts, derived, strict=True)]
    labels = list(dict.fromkeys([*_labels(parts), *_labels(derived)]))
    table: dict[str, list[object]] = {"what": list(labels)}
    for n, (variant, column) in enumerate(zip(variants, columns, strict=True)):
        name = _free_name(variant.name, n, table)
        table[name] = [column.get(label) for label in labels]
        if n:
            table[f"{name}: difference"] = [
                _words(columns[0].get(label), column.get(label)) for label in labels
            ]
    return pd.DataFrame(table)


def _free_name(name: str, n: int, table: Collection[str]) -> str:
    """A heading that no variant before has, so that none takes another's place."""
    free = name
    while free in table or f"{free}: difference" in table:
        free = f"{free} ({n})"
    return free


def _labels(columns: Sequence[dict[str, float]]) -> list[str]:
    """In order, without the sparse ones that nobody has."""
    sparse = set(_SPARSE.values())
    every = dict.fromkeys(label for column in columns for label in column)
    return [k for k in every if k not in sparse or any(c.get(k) for c in columns)]


def _ingredients(formula: Formula, show: str) -> dict[str, float]:
    sums = formula.frame.groupby("label", sort=False)[["bakers_pct", "mass_g"]].sum()
    found: dict[str, float] = {}
    for label, pct, mass_g in sums.itertuples():
        if show != "grams":
            found[f"{label} (% of flour)"] = float(pct)
        if show != "percent":
            found[f"{label} (g)"] = float(mass_g)
    return found


def _derived(formula: Formula) -> dict[str, float]:
    own = measures(formula)
    return {
        "water as written (% of flour)": formula.water_pct,
        "true hydration (% of flour)": formula.hydration_pct,
        "all salt (% of flour)": formula.role_pct("salt"),
        **{label: own.get(measure, 0.0) for measure, label in _SPARSE.items()},
        "flour (g)": formula.flour_g,
        "dough (g)": formula.dough_g,
    }


def _words(old: float | None, new: float | None) -> str:
    if old is None:
        return "new"
    if new is None:
        return "gone"
    moved = new - old
    if abs(moved) <= _SAME:
        return "same"
    return f"{'up' if moved > 0 else 'down'} {moved:+.2f}".replace("-", "−")
