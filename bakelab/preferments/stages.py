"""Which rows belong to the dough that is mixed last."""

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from bakelab.formula import Formula, Row
from bakelab.ranges.stages import dough_only, is_preferment, words_of

__all__ = ["add_row", "in_main_dough", "main_rows", "scaled_rows"]

_COOKED_OR_SOAKED = re.compile(
    r"\b(?:soaker|scald|tangzhong|yudane|roux|quellstuck|bruhstuck|kochstuck|"
    r"mehlkoch|trempage|empois)"
)


def main_rows(formula: Formula) -> list[Row]:
    """Rows of the final dough: no preferment, soaker, scald, topping or filling.

    A formula that has nothing else gives all its rows.
    """
    kept = dough_only(formula).rows
    chosen = [r for r in kept if in_main_dough(formula, r.stage)]
    return chosen or list(kept)


def in_main_dough(formula: Formula, stage: str) -> bool:
    """Whether a stage is mixed last: it neither ferments before nor is soaked."""
    if len(formula.stages) == 1:
        return True
    soaked = _COOKED_OR_SOAKED.search(" ".join(words_of(stage))) is not None
    return not soaked and not is_preferment(formula, stage)


def scaled_rows(formula: Formula, rows: Sequence[Row], factor: float) -> Formula:
    """The formula with some of its own rows scaled; the others stay."""
    chosen = {id(r) for r in rows}
    return formula.with_rows(
        replace(r, mass_g=r.mass_g * factor) if id(r) in chosen else r
        for r in formula.rows
    )


def add_row(formula: Formula, row: Row, after: Callable[[Row], bool]) -> Formula:
    """The formula with a row put after the last one that `after` chooses.

    A row of the same ingredient in the same stage takes its mass instead.
    """
    rows = list(formula.rows)
    for place, old in enumerate(rows):
        if (old.stage, old.ingredient, old.hydration_pct) == (
            row.stage,
            row.ingredient,
            row.hydration_pct,
        ):
            rows[place] = replace(old, mass_g=math.fsum((old.mass_g, row.mass_g)))
            return formula.with_rows(rows)
    places = [n for n, old in enumerate(rows) if after(old)]
    rows.insert(places[-1] + 1 if places else len(rows), row)
    return formula.with_rows(rows)
