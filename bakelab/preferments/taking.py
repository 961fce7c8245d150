"""Masses taken out of the dough into a stage of their own."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.preferments.stages import main_rows

__all__ = ["LEAST_G", "Wanted", "check_share", "rows_of", "taken_out"]

LEAST_G = 1e-9  # a row with less is left out
_FINAL = "final dough"
_PLAIN = ("", "dough")  # names of a stage that becomes the final dough


@dataclass(frozen=True)
class Wanted:
    """A mass wanted out of some rows, and what to call it."""

    rows: Sequence[Row]
    mass_g: float
    name: str


def rows_of(formula: Formula, *, key: str | None = None, role: str = "") -> list[Row]:
    """Rows of the final dough with a key, or with a role where there is no key."""
    rows = main_rows(formula)
    if key is not None:
        return [r for r in rows if r.ingredient == key]
    return [r for r in rows if r.role == role]


def taken_out(formula: Formula, wanted: Sequence[Wanted], stage: str) -> Formula:
    """The formula with each wanted mass moved into `stage`, put first.

    What is wanted comes out of its rows in proportion.

    Raises
    ------
    FormulaError
        If the rows hold less than is wanted.
    """
    taken: dict[int, float] = {}
    for want in wanted:
        have_g = math.fsum(r.mass_g for r in want.rows)
        if want.mass_g > have_g * (1 + 1e-12):
            raise FormulaError(_too_little(want, have_g, stage))
        for row in want.rows:
            share = row.mass_g / have_g if have_g else 0.0
            taken[id(row)] = taken.get(id(row), 0.0) + want.mass_g * share
    first = [
        replace(r, stage=stage, mass_g=taken[id(r)])
        for r in formula.rows
        if taken.get(id(r), 0.0) > LEAST_G
    ]
    rest = [_left(r, taken.get(id(r), 0.0)) for r in formula.rows]
    return formula.with_rows([*first, *(r for r in rest if r is not None)])


def check_share(name: str, value: float, most: float) -> None:
    """A `FormulaError` for a share that is not between 0 and `most` percent."""
    if not (math.isfinite(value) and 0 <= value <= most):
        raise FormulaError(
            f"{name} is {value} %; give a share between 0 and {most:.0f} %"
        )


def _too_little(want: Wanted, have_g: float, stage: str) -> str:
    other = ", or name another liquid" if want.name == "water" else ""
    return (
        f"the {stage} wants {want.mass_g:.1f} g {want.name}, but the dough has "
        f"{have_g:.1f} g: take less flour for it, or a lower share{other}"
    )


def _left(row: Row, taken_g: float) -> Row | None:
    stage = _FINAL if row.stage in _PLAIN else row.stage
    rest_g = max(0.0, row.mass_g - taken_g)
    if taken_g and rest_g <= LEAST_G:
        return None
    return replace(row, stage=stage, mass_g=rest_g)
