"""One invented example formula for each style of the usual bands."""

from functools import cache

from bakelab.formula import Formula, Row
from bakelab.ingredients import ingredient
from bakelab.ranges.table import style_key
from bakelab.tables import read_rows

__all__ = ["example_formula", "example_formulas"]

_COLUMNS = {
    "style": str,
    "title": str,
    "stage": str,
    "ingredient": str,
    "mass_g": float,
    "source": str,
}


def example_formula(style: str) -> Formula:
    """The example of one style, 500 g of flour; invented, baked by nobody yet.

    Raises
    ------
    FormulaError
        If there is no such style; names the closest ones.
    """
    return _examples()[style_key(style)]


def example_formulas() -> dict[str, Formula]:
    """All examples by style, in the order of the table of usual bands."""
    return dict(_examples())


@cache
def _examples() -> dict[str, Formula]:
    titles: dict[str, str] = {}
    rows: dict[str, list[Row]] = {}
    for line in read_rows("formulas/styles", _COLUMNS):
        titles[line["style"]] = line["title"]
        rows.setdefault(line["style"], []).append(
            _row(line["stage"], line["ingredient"], line["mass_g"])
        )
    return {
        style: Formula(tuple(rows[style]), title=title, style=style)
        for style, title in titles.items()
    }


def _row(stage: str, key: str, mass_g: float) -> Row:
    item = ingredient(key)
    starter = item.role == "starter"
    hydration = 100 * (1 / item.flour_share - 1) if starter else None
    return Row(stage, key, item.name, item.role, mass_g, hydration)
