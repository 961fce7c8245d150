"""More or less of the flour prefermented, the overall formula staying."""

import math
from dataclasses import replace

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row, require_formula
from bakelab.formula.contents import contents
from bakelab.preferments.stages import add_row, main_rows
from bakelab.preferments.taking import LEAST_G, check_share
from bakelab.ranges.stages import flour_inside, is_preferment

__all__ = ["prefermented_pct", "with_prefermented"]


def prefermented_pct(formula: Formula) -> float:
    """Percent of all flour in preferments and starters."""
    require_formula(formula)
    inside = math.fsum(flour_inside(r) for r in _fermented(formula))
    return 100 * inside / formula.require_flour()


def with_prefermented(formula: Formula, flour_pct: float) -> Formula:
    """The formula with its preferments larger or smaller.

    Every preferment and starter is scaled alike, so that each keeps its own
    hydration, yeast and salt; the final dough gives or takes the difference,
    ingredient by ingredient. Total flour, all water and salt stay.

    Raises
    ------
    FormulaError
        If nothing in the formula ferments before the dough, or the final
        dough has not enough of something.
    """
    check_share("prefermented flour", flour_pct, 100.0)
    now = prefermented_pct(formula)
    if now <= 0:
        raise FormulaError(
            "nothing ferments before this dough; put a part of its flour into a "
            "preferment first, with with_preferment"
        )
    factor = flour_pct / now
    main = main_rows(formula)
    moved = {id(r) for r in _fermented(formula)}
    rows = [
        replace(r, mass_g=r.mass_g * factor) if id(r) in moved else r
        for r in formula.rows
    ]
    made = formula.with_rows(rows)
    stage = next((r.stage for r in main if id(r) not in moved), main[-1].stage)
    for row in _fermented(formula):
        made = _given_back(made, row, row.mass_g * (1 - factor), stage)
    return made.with_rows(r for r in made.rows if r.mass_g > 0)


def _fermented(formula: Formula) -> list[Row]:
    early = {s for s in formula.stages if is_preferment(formula, s)}
    return [r for r in formula.rows if r.role == "starter" or r.stage in early]


def _given_back(formula: Formula, row: Row, mass_g: float, stage: str) -> Formula:
    """The final dough gets what the preferment lost, or gives what it gained."""
    if row.role == "starter":
        inside = contents(row.ingredient, row.role, mass_g, row.hydration_pct)
        made = _flour_back(formula, inside.flour_g, stage)
        return _back(made, Row(stage, "water", "water", "water", 0.0), inside.water_g)
    return _back(formula, replace(row, stage=stage, mass_g=0.0), mass_g)


def _flour_back(formula: Formula, mass_g: float, stage: str) -> Formula:
    flours = [r for r in main_rows(formula) if r.role == "flour"]
    have_g = math.fsum(r.mass_g for r in flours)
    if have_g <= 0:
        raise FormulaError("the final dough has no flour to exchange with the starter")
    for row in flours:
        share_g = mass_g * row.mass_g / have_g
        formula = _back(formula, replace(row, stage=stage, mass_g=0.0), share_g)
    return formula


def _back(formula: Formula, row: Row, mass_g: float) -> Formula:
    if mass_g >= 0:
        return add_row(formula, replace(row, mass_g=mass_g), lambda r: _near(r, row))
    rows = [r for r in main_rows(formula) if _same(r, row)]
    have_g = math.fsum(r.mass_g for r in rows)
    if have_g + mass_g < -LEAST_G:
        raise FormulaError(
            f"the preferment would take {-mass_g:.1f} g {row.label} from the final "
            f"dough, which has {have_g:.1f} g: a lower share fits"
        )
    factor = max(0.0, 1 + mass_g / have_g) if have_g else 1.0
    chosen = {id(r) for r in rows}
    return formula.with_rows(
        replace(r, mass_g=r.mass_g * factor) if id(r) in chosen else r
        for r in formula.rows
    )


def _same(row: Row, other: Row) -> bool:
    return row.ingredient == other.ingredient and row.role == other.role


def _near(row: Row, other: Row) -> bool:
    return row.stage == other.stage and row.role == other.role
