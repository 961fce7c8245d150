"""The arithmetic behind any single number of a formula, in words."""

import math
from collections.abc import Iterable

from bakelab.errors import FormulaError
from bakelab.formula.contents import contents
from bakelab.formula.model import ROLES, Formula
from bakelab.formula.needed import require_formula

__all__ = ["working"]


def working(formula: Formula, what: str) -> str:
    """How a number of the formula comes about.

    Parameters
    ----------
    formula : Formula
    what : str
        ``"flour"``, ``"dough"``, ``"water"`` (as written), ``"hydration"``
        (true), a role such as ``"salt"``, or an ingredient's key or label.

    Raises
    ------
    FormulaError
        If the formula has no such thing, or no flour.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 400), ("salt_table", 7.6)])
    >>> working(dough, "salt")
    'salt 1.9 % = 7.6 g / 400 g x 100'
    """
    require_formula(formula)
    if what == "dough":
        parts = _sum((r.label, r.mass_g) for r in formula.rows)
        return f"dough {_g(formula.dough_g)} = {parts}"
    flour = formula.require_flour()
    if what == "flour":
        return f"flour {_g(flour)} = {_sum(_flours(formula))}"
    if what == "hydration":
        return (
            f"true hydration {formula.hydration_pct:.1f} % = ({_sum(_waters(formula))})"
            f" / {_g(flour)} x 100"
        )
    name, mass_g = _named(formula, what)
    return f"{name} {100 * mass_g / flour:.1f} % = {_g(mass_g)} / {_g(flour)} x 100"


def _named(formula: Formula, what: str) -> tuple[str, float]:
    if what in ROLES:
        name = "water as written" if what == "water" else what
        return name, formula.role_g(what)
    rows = [r for r in formula.rows if what in (r.ingredient, r.label)]
    if not rows:
        labels = ", ".join(r.label for r in formula.rows)
        raise FormulaError(f"no {what!r} in this formula; it has {labels}")
    return rows[0].label, math.fsum(r.mass_g for r in rows)


def _flours(formula: Formula) -> list[tuple[str, float]]:
    inside = [
        (r.label, contents(r.ingredient, r.role, r.mass_g, r.hydration_pct).flour_g)
        for r in formula.rows
    ]
    return [(label, mass_g) for label, mass_g in inside if mass_g > 0]


def _waters(formula: Formula) -> list[tuple[str, float]]:
    inside = [
        (r.label, contents(r.ingredient, r.role, r.mass_g, r.hydration_pct).water_g)
        for r in formula.rows
    ]
    return [(label, mass_g) for label, mass_g in inside if mass_g > 0]


def _sum(parts: Iterable[tuple[str, float]]) -> str:
    return " + ".join(f"{label} {_g(mass_g)}" for label, mass_g in parts)


def _g(mass_g: float) -> str:
    return f"{round(mass_g, 1):g} g" if mass_g < 1e5 else f"{mass_g:.0f} g"
