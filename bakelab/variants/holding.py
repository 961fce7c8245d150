"""Other ingredients making up for a move, so that amounts stay."""

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from bakelab.formula import Formula, Row
from bakelab.ingredients import ingredient
from bakelab.preferments.stages import add_row, main_rows, scaled_rows
from bakelab.variants.amounts import AMOUNTS, amount_g, in_one_gram
from bakelab.variants.balance import Balance, solve

__all__ = ["HOLDS", "made_up", "maker_rows", "with_changes"]

HOLDS: Mapping[str, str] = MappingProxyType(
    {
        "flour": "the flour's weight",
        "dough": "the dough's weight",
        "pan": "the dough's weight, so that the pan is as full",
        "liquids": "all the water, plain water making up",
        "sweetness": "all sweetness, the sweeteners making up",
        "fat": "all fat, the fats making up",
        "solids": "the dry solids of the dough, everything being scaled",
    }
)
_AMOUNT = {"liquids": "water", "sweetness": "sweetness", "fat": "fat",
           "dough": "mass", "pan": "mass"}  # fmt: skip
#: What makes up for an amount: a role of the formula.
_MAKER: Mapping[str, str] = MappingProxyType(
    {"liquids": "water", "sweetness": "sweetener", "fat": "fat",
     "dough": "water", "pan": "water"}
)  # fmt: skip
_LEAST_G = 1e-9


def made_up(
    before: Formula, moved: Formula, what: str, holds: Sequence[str]
) -> tuple[Formula, list[str], dict[str, str]]:
    """The moved formula with amounts brought back to what they were before.

    Returns the formula, sentences on what made up, and for each of `holds`
    that could not be held a sentence that says so.
    """
    surplus = {
        h: amount_g(moved.rows, _AMOUNT[h]) - amount_g(before.rows, _AMOUNT[h])
        for h in holds
    }
    missed: dict[str, str] = {}
    while True:
        kept = [h for h in holds if h not in missed]
        makers = _makers(moved, what, kept)
        found = _found(makers, kept, surplus)
        lost = [kept[place] for place, _ in found.missed]
        if not lost:
            break
        missed |= {h: _cannot(h, what, surplus[h]) for h in lost}
    made = with_changes(moved, list(makers.values()), found.masses_g)
    said = [
        _making_up(role, rows, change_g)
        for (role, rows), change_g in zip(makers.items(), found.masses_g, strict=True)
        if abs(change_g) > _LEAST_G
    ]
    return made, said, missed


def maker_rows(formula: Formula, role: str, *, without: str = "") -> list[Row]:
    """Rows of the final dough that can make up; water may be a new row of 0 g."""
    if without in (role, "hydration" if role == "water" else role):
        return []
    rows = [
        r
        for r in main_rows(formula)
        if r.role == role and without not in (r.ingredient, r.label)
    ]
    if not rows and role == "water" and without != "water":
        stage = main_rows(formula)[-1].stage
        return [Row(stage, "water", ingredient("water").name, "water", 0.0)]
    return rows


def with_changes(
    formula: Formula, groups: Sequence[Sequence[Row]], changes_g: Sequence[float]
) -> Formula:
    """Each group of rows brought up or down together; a new row is added."""
    for rows, change_g in zip(groups, changes_g, strict=True):
        have_g = math.fsum(r.mass_g for r in rows)
        if abs(change_g) <= _LEAST_G:
            continue
        if have_g > 0:
            factor = max(0.0, 1 + change_g / have_g)
            formula = scaled_rows(formula, rows, factor)
        else:
            row = rows[0]
            new = Row(row.stage, row.ingredient, row.label, row.role, change_g)
            formula = add_row(formula, new, lambda _: False)
    return formula


def _per_gram(rows: Sequence[Row]) -> dict[str, float]:
    """What one gram of a group of rows holds of each amount."""
    mass_g = math.fsum(r.mass_g for r in rows)
    if mass_g <= 0:
        return {what: in_one_gram(rows[0].ingredient, what)
                for what in AMOUNTS}  # fmt: skip
    return {what: amount_g(rows, what) / mass_g for what in AMOUNTS}


def _making_up(role: str, rows: Sequence[Row], change_g: float) -> str:
    have_g = math.fsum(r.mass_g for r in rows)
    name = rows[0].label if len(rows) == 1 else role
    return f"{name} {have_g:.1f} g becomes {have_g + change_g:.1f} g to make up"


def _cannot(hold: str, what: str, surplus_g: float) -> str:
    maker = _MAKER[hold]
    if what in (maker, "hydration") and maker in ("water", what):
        return f"cannot hold {HOLDS[hold]}: {maker} itself is what moves"
    return (
        f"cannot hold {HOLDS[hold]}: there is not enough {maker} to make up "
        f"{abs(surplus_g):.1f} g"
    )


def _makers(moved: Formula, what: str, holds: Sequence[str]) -> dict[str, list[Row]]:
    return {
        role: rows
        for role in dict.fromkeys(_MAKER[h] for h in holds)
        if (rows := maker_rows(moved, role, without=what))
    }


def _found(
    makers: Mapping[str, Sequence[Row]],
    holds: Sequence[str],
    surplus: Mapping[str, float],
) -> Balance:
    columns = [_per_gram(rows) for rows in makers.values()]
    return solve(
        [[column[_AMOUNT[h]] for column in columns] for h in holds],
        [-surplus[h] for h in holds],
        least_g=[-math.fsum(r.mass_g for r in rows) for rows in makers.values()],
    )
