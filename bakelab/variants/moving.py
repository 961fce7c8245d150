"""Which rows a ratio moves, and how they are brought to a mass."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

from bakelab.errors import FormulaError
from bakelab.formula import ROLES, Formula, Row
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.preferments.stages import add_row, main_rows, scaled_rows

__all__ = ["MOST_PCT", "name_of", "percent", "rows_named", "to_mass", "with_flours"]

MOST_PCT = 1000.0
_LEAST_G = 1e-9


def rows_named(formula: Formula, what: str) -> list[Row]:
    """The rows that a role, "hydration", a key or a label names.

    An ingredient that is not in the formula but in the table has no rows.
    """
    role = "water" if what == "hydration" else what
    if role in ROLES:
        if role == "flour":
            raise FormulaError("all flour is 100 %; change the share of one flour")
        return [r for r in formula.rows if r.role == role]
    rows = [r for r in formula.rows if what in (r.ingredient, r.label)]
    if not rows and not is_ingredient(what):
        labels = ", ".join(dict.fromkeys(r.label for r in formula.rows))
        raise FormulaError(
            f"no {what!r} in this formula; it has {labels}, and an ingredient to add "
            "goes by its key"
        )
    return rows


def percent(formula: Formula, what: str) -> float:
    """What stands for a role, "hydration" or an ingredient, in percent of flour."""
    flour_g = formula.require_flour()
    if what == "hydration":
        return formula.hydration_pct
    return 100 * math.fsum(r.mass_g for r in rows_named(formula, what)) / flour_g


def name_of(formula: Formula, what: str) -> str:
    """What a ratio is called in a sentence."""
    if what == "water":
        return "water as written"
    if what == "hydration":
        return "true hydration"
    if what in ROLES:
        return what
    rows = rows_named(formula, what)
    return rows[0].label if rows else ingredient(what).name


def to_mass(formula: Formula, what: str, mass_g: float) -> Formula:
    """All rows of a role or an ingredient together brought to a mass.

    Rows of the final dough move; a preferment, a soaker and a topping keep
    theirs, unless the final dough has none of it. Water, and an ingredient
    of the table, may be new.

    Raises
    ------
    FormulaError
        If the stages before hold more than that, or a role has no rows.
    """
    rows = rows_named(formula, what)
    main = {id(r) for r in main_rows(formula)}
    movable = [r for r in rows if id(r) in main] or rows
    if not rows:
        return add_row(formula, _new_row(formula, what, mass_g), lambda _: False)
    kept_g = math.fsum(r.mass_g for r in rows) - math.fsum(r.mass_g for r in movable)
    wanted_g = mass_g - kept_g
    if wanted_g < -_LEAST_G:
        flour_g = formula.require_flour()
        raise FormulaError(
            f"{name_of(formula, what)} cannot be {100 * mass_g / flour_g:.4g} %: the "
            f"stages before the final dough hold {100 * kept_g / flour_g:.4g} % already"
        )
    return _rows_to(formula, movable, max(0.0, wanted_g))


def with_flours(formula: Formula, shares: Mapping[str, float]) -> Formula:
    """Shares of one or more flours set, the others giving way in proportion.

    Shares are in percent of all flour, that in starters and preferments
    included; only flour of the final dough moves.
    """
    total_g = formula.require_flour()
    main = [r for r in main_rows(formula) if r.role == "flour"]
    wanted = {k: total_g * p / 100 - _held_back(formula, main, k)
              for k, p in shares.items()}  # fmt: skip
    others = [r for r in main if r.ingredient not in shares]
    free_g = math.fsum(r.mass_g for r in main)
    rest_g = free_g - math.fsum(wanted.values())
    _check_flours(formula, wanted, shares, rest_g, others)
    made = formula
    if others:
        made = _rows_to(made, others, max(0.0, rest_g))
    for key, mass_g in wanted.items():
        rows = [r for r in main_rows(made) if r.role == "flour" and r.ingredient == key]
        if rows:
            made = _rows_to(made, rows, max(0.0, mass_g))
        elif mass_g > 0:
            stage = (main or main_rows(formula))[0].stage
            row = Row(stage, key, ingredient(key).name, "flour", mass_g)
            made = add_row(made, row, partial(_flour_of, stage))
    return made


def _flour_of(stage: str, row: Row) -> bool:
    return row.role == "flour" and row.stage == stage


def _held_back(formula: Formula, main: Sequence[Row], key: str) -> float:
    """Grams of a flour outside the final dough."""
    inside = {id(r) for r in main}
    return math.fsum(
        r.mass_g
        for r in formula.rows
        if r.role == "flour" and r.ingredient == key and id(r) not in inside
    )


def _check_flours(
    formula: Formula,
    wanted: Mapping[str, float],
    shares: Mapping[str, float],
    rest_g: float,
    others: Sequence[Row],
) -> None:
    total_g = formula.flour_g
    asked = ", ".join(
        f"{name_of(formula, k)} cannot be {p:g} %" for k, p in shares.items()
    )
    low = [k for k, g in wanted.items() if g < -_LEAST_G * max(1.0, total_g)]
    if low:
        raise FormulaError(f"{asked}: the stages before hold more of it already")
    free_g = math.fsum(wanted.values()) + rest_g
    if rest_g < -_LEAST_G * max(1.0, total_g) or (not others and rest_g > 1e-6):
        raise FormulaError(
            f"{asked}: the flours weighed into the final dough are "
            f"{100 * free_g / total_g:.1f} % of all flour, and the others have to "
            "make up the rest"
        )


def _new_row(formula: Formula, what: str, mass_g: float) -> Row:
    key = {"hydration": "water", "salt": "salt_table"}.get(what, what)
    if not is_ingredient(key):
        raise FormulaError(f"the formula has no {what}; add it to the recipe first")
    item = ingredient(key)
    if item.role == "starter":
        raise FormulaError(
            f"the formula has no {item.name}; put flour into a levain first, with "
            "with_preferment"
        )
    return Row(main_rows(formula)[-1].stage, key, item.name, item.role, mass_g)


def _rows_to(formula: Formula, rows: Sequence[Row], mass_g: float) -> Formula:
    have_g = math.fsum(r.mass_g for r in rows)
    if have_g > 0:
        return scaled_rows(formula, rows, mass_g / have_g)
    first = rows[0]  # they stand at nothing: the first one takes it all
    return formula.with_rows(
        replace(r, mass_g=mass_g) if r is first else r for r in formula.rows
    )
