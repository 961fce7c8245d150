"""Dry solids of the cooled loaf, foretold from the dough and its bake loss."""

import math

from bakelab.errors import FormulaError
from bakelab.formula import Formula, require_formula
from bakelab.variants.amounts import solids_g

__all__ = ["loaf_moisture_pct", "loaf_solids_pct", "loss_for_solids_pct"]


def loaf_solids_pct(formula: Formula, *, loss_pct: float) -> float:
    """Total solids in percent of the cooled loaf.

    Parameters
    ----------
    formula : Formula
        Everything in it is known; what is not counts as dry.
    loss_pct : float
        Bake loss in percent of the **dough**, all of it water. Fermentation
        also takes about one percent of the solids (from memory), which is
        left out here.

    Raises
    ------
    FormulaError
        If the loss is impossible or takes more water than the dough has.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 100), ("water", 60)])
    >>> round(loaf_solids_pct(dough, loss_pct=10), 1)
    60.2
    """
    require_formula(formula)
    dough_g = formula.dough_g
    if not (math.isfinite(loss_pct) and 0 <= loss_pct < 100 and dough_g > 0):
        raise FormulaError(f"a bake loss is 0 to 100 % of a dough, got {loss_pct}")
    dry_g, loaf_g = solids_g(formula), dough_g * (1 - loss_pct / 100)
    if dry_g > loaf_g:
        most = 100 * (1 - dry_g / dough_g)
        raise FormulaError(
            f"a bake loss of {loss_pct:g} % is more water than the dough has "
            f"({most:.1f} %); give a lower loss"
        )
    return 100 * dry_g / loaf_g


def loaf_moisture_pct(formula: Formula, *, loss_pct: float) -> float:
    """Water in percent of the cooled loaf; what `loaf_solids_pct` leaves."""
    require_formula(formula)
    return 100 - loaf_solids_pct(formula, loss_pct=loss_pct)


def loss_for_solids_pct(formula: Formula, *, solids_pct: float = 62.0) -> float:
    """The bake loss, in percent of the dough, that brings a loaf to so much solids.

    62 % is what 21 CFR 136.110(a) wants of bread in the United States;
    other countries have other rules. 0 where the dough has as much already.
    """
    require_formula(formula)
    if not 0 < solids_pct <= 100:
        raise FormulaError(f"solids are 0 to 100 % of a loaf, got {solids_pct:g}")
    dry_pct = loaf_solids_pct(formula, loss_pct=0)
    return max(0.0, 100 * (1 - dry_pct / solids_pct))
