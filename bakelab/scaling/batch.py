"""The batch that is made: its weights, step by step, and what sticks to the bowl."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace

from bakelab.errors import FitError, PanError
from bakelab.formula import Formula
from bakelab.pans import Pan, pan
from bakelab.scaling.before import time_before
from bakelab.scaling.words import grams, pct_of
from bakelab.weighing import eggs_of

__all__ = [
    "egg_remarks",
    "scaled",
    "settled",
    "weights_working",
    "with_sticking",
]

LEAST_DOUGH_G = 1.0
MOST_DOUGH_G = 1e7


def with_sticking(
    factor: float, sticking_pct: float, *, fixed: bool
) -> tuple[float, tuple[str, ...]]:
    """The factor with what sticks to bowl and hands made on top, and its line."""
    if not sticking_pct:
        return factor, ()
    if fixed:
        line = f"{sticking_pct:g} % sticks to bowl and hands; the batch is as given."
        return factor, (line,)
    made = factor / (1 - sticking_pct / 100)
    line = (
        f"{sticking_pct:g} % of the batch sticks to bowl and hands, so more is made: "
        f"{factor:.4f} / (1 - {sticking_pct / 100:g}) = {made:.4f}."
    )
    return made, (line,)


def scaled(formula: Formula, factor: float) -> Formula:
    """The formula times a factor, or the refusal of an absurd batch."""
    dough_g = formula.dough_g * factor
    if not LEAST_DOUGH_G <= dough_g <= MOST_DOUGH_G:
        size = f"{dough_g:.3g} g" if dough_g < 1 else f"{dough_g / 1e6:,.0f} tonnes"
        raise FitError(
            f"that would be {size} of dough; fit to between "
            f"{LEAST_DOUGH_G:g} g and {MOST_DOUGH_G / 1e6:g} tonnes"
        )
    return formula.scaled(factor)


def settled(new: Formula, formula: Formula, pans: Sequence[Pan]) -> Formula:
    """The scaled formula with the pan it is for now, so that it can be fitted on.

    Pans of several kinds, or none, cannot be stated as one: then no pan is. The
    time was one for the recipe's own pan and dough, and is no longer stated.
    """
    if new == formula:
        return new
    now = _stated(pans[0]) if len(pans) == 1 and pans[0].has_volume else ""
    same = new.dough_g == formula.dough_g and now == formula.stated_pan
    if same:
        return new
    notes = "\n".join(filter(None, (formula.notes, time_before(formula))))
    return replace(new, stated_pan=now, bake_minutes=None, notes=notes)


def _stated(one: Pan) -> str:
    """The spec of a pan; the words it was given in where shorter, or measured."""
    spec = one.text_spec
    plain = len(one.text) < len(spec) or one.capacity_cm3 is not None
    with suppress(PanError):
        if plain and pan(one.text) == one:
            return one.text
    return spec


def weights_working(formula: Formula, new: Formula, factor: float) -> list[str]:
    """The new flour by the ratio, and every weight from its percentage."""
    flour = new.flour_g
    lines = [
        f"Flour: {grams(formula.flour_g)} x {factor:.4f} = {grams(flour)}.",
    ]
    lines += [
        f"{row.label}: {pct_of(100 * row.mass_g / flour, flour)} x {grams(flour)} = "
        f"{grams(row.mass_g)}."
        for row in new.rows
    ]
    lines.append(
        f"Dough: {grams(formula.dough_g)} x {factor:.4f} = {grams(new.dough_g)}."
    )
    return lines


def egg_remarks(new: Formula) -> list[str]:
    """Eggs by the piece, beside the grams."""
    return [f"Eggs: {egg.text}." for egg in eggs_of(new)]
