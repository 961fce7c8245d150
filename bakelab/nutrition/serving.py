"""Energy and salt of a bread, per 100 g and per serving, from what is in the dough."""

import math
import re
from dataclasses import dataclass
from html import escape

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.formula import Formula, require_formula
from bakelab.nutrition.targets import SODIUM_TO_SALT, SaltTarget, salt_target
from bakelab.units import Q_, Quantity, in_unit

__all__ = ["NOT_A_LABEL", "USUAL_LOSS_PCT", "Nutrition", "nutrition"]

#: Bake loss of the dough, percent: Gisslen, Professional Baking, ch. 6, converted.
USUAL_LOSS_PCT = (10.0, 12.0)
NOT_A_LABEL = (
    "Worked out from a table of compositions, not measured: it is not a label claim. "
    "What a label may say is set by the rules of your market."
)
# Atwater's general factors, kcal per g of protein, fat and carbohydrate by difference;
# the check against a published bread is in the tests.
_PROTEIN, _FAT, _CARB = 4.0, 9.0, 4.0
_KJ = 4.184  # per kcal, the thermochemical calorie (exact)
_ROWS = ("energy_kcal", "energy_kj", "protein_g", "fat_g", "carb_g", "sugars_g",
         "fibre_g", "sodium_mg", "salt_g")  # fmt: skip
_COUNT = re.compile(
    r"(?i)\b(\d{1,3})\s+(?:\w+\s+){0,2}(?:rolls?|buns?|pieces?|servings?|slices?|"
    r"portions?|bagels?|pizzas?|loaves|breads?|brötchen|stück|scheiben|portionen|"
    r"parts|pains?|tranches)\b"
)


@dataclass(frozen=True)
class Nutrition:
    """What 100 g of the baked bread hold, and one serving.

    Each value is given at the least and at the most bake loss, and so is
    `serving_g`. What the yeast eats and what a filling or glaze adds are
    not counted. `unknown` are ingredients outside the table: they count as
    nothing, so the values are too low where there are any.
    """

    loss_pct: tuple[float, float]
    serving_g: tuple[float, float] | None
    per_100_g_dough: tuple[float, ...]
    unknown: tuple[str, ...]
    caution: str = NOT_A_LABEL

    def per_100_g(self, name: str) -> tuple[float, float]:
        """Lowest and highest of a value in 100 g of bread.

        Parameters
        ----------
        name : str
            "energy_kcal", "energy_kj", "protein_g", "fat_g", "carb_g",
            "sugars_g", "fibre_g", "sodium_mg" or "salt_g".

        Raises
        ------
        FormulaError
            If there is no such value.
        """
        if name not in _ROWS:
            raise FormulaError(f"no value {name!r}; use one of {', '.join(_ROWS)}")
        inside = self.per_100_g_dough[_ROWS.index(name)]
        least, most = self.loss_pct
        return inside / (1 - least / 100), inside / (1 - most / 100)

    def per_serving(self, name: str) -> tuple[float, float] | None:
        """Lowest and highest of a value in one serving; None without its weight.

        A share of the whole bread holds the same, whatever bakes off.
        """
        if self.serving_g is None:
            return None
        low, high = self.per_100_g(name)
        at_least_loss, at_most_loss = self.serving_g
        return low * at_least_loss / 100, high * at_most_loss / 100

    def against(self, target: SaltTarget | str = "uk_2012") -> str:
        """The salt of 100 g beside a published target, in a sentence."""
        one = salt_target(target) if isinstance(target, str) else target
        low, high = self.per_100_g("salt_g")
        side = "above" if low > one.salt_g else "below" if high < one.salt_g else "at"
        return (
            f"{_band(low, high, 2)} g of salt in 100 g of bread, {side} the "
            f"{one.salt_g:g} g of the {one.kind} {one.name}, {one.year} ({one.source})"
        )

    @property
    def frame(self) -> pd.DataFrame:
        """One row per value: per 100 g and per serving, low and high."""
        rows = []
        for name in _ROWS:
            serving = self.per_serving(name) or (math.nan, math.nan)
            rows.append((name, *self.per_100_g(name), *serving))
        columns = ["value", "low_100_g", "high_100_g", "low_serving", "high_serving"]
        return pd.DataFrame(rows, columns=columns)

    def _repr_html_(self) -> str:
        table = self.frame.round(2).to_html(index=False, na_rep="–")
        missing = f" Not counted: {', '.join(self.unknown)}." if self.unknown else ""
        return f"{table}<p><small>{escape(self.caution + missing)}</small></p>"


def nutrition(
    formula: Formula,
    *,
    serving: Quantity | None = None,
    servings: int | None = None,
    loss_pct: tuple[float, float] = USUAL_LOSS_PCT,
) -> Nutrition:
    """Energy and salt of the baked bread, per 100 g and per serving.

    Parameters
    ----------
    formula : Formula
        As it goes into the oven.
    serving : Quantity, [mass], optional
        Weight of one serving of cooled bread, such as a slice.
    servings : int, optional
        In how many the bread is divided; by default what the recipe says
        that it makes, such as "12 rolls".
    loss_pct : (float, float)
        Least and most that bakes off, percent of the dough: only water.

    Returns
    -------
    Nutrition

    Raises
    ------
    FormulaError
        If there is nothing in the dough, or the serving or loss is impossible.

    Notes
    -----
    Protein and carbohydrate count 4 kcal/g, fat 9 kcal/g (Atwater's general
    factors), salt is sodium times 2.542. The flour's own moisture and all
    water stay in the bread but for the bake loss.

    Examples
    --------
    >>> dough = Formula.from_pairs(
    ...     [("wheat_bread", 500), ("water", 325), ("salt_table", 9)]
    ... )
    >>> low, high = nutrition(dough).per_100_g("salt_g")
    >>> print(f"{low:.2f} to {high:.2f} g")
    1.19 to 1.22 g
    """
    require_formula(formula)
    if formula.dough_g <= 0:
        raise FormulaError("the dough weighs nothing; give a formula with weights")
    least, most = loss_pct
    if not 0 <= least <= most < 50:
        raise FormulaError(
            f"a bake loss of {least:g} to {most:g} % is not computed; give the least "
            "and the most, from 0 up to 50 %"
        )
    weight = _serving(formula, serving, servings, (least, most))
    return Nutrition((least, most), weight, _values(formula), formula.unknown)


def _serving(
    formula: Formula, serving: Quantity | None, servings: int | None,
    loss: tuple[float, float],
) -> tuple[float, float] | None:  # fmt: skip
    if serving is not None:
        mass_g = in_unit(serving, "g", "serving")
        if not 0 < mass_g < math.inf:
            raise FormulaError(
                f"a serving of {mass_g:g} g is none; give it above 0 g, such as "
                f"{Q_(40, 'g'):~P}"
            )
        return mass_g, mass_g
    count = _servings_of(formula) if servings is None else servings
    if count is None:
        return None
    if count < 1:
        raise FormulaError(f"got {count:g} servings; give 1 or more")
    low, high = (formula.dough_g * (1 - share / 100) / count for share in loss)
    return low, high


def _servings_of(formula: Formula) -> int | None:
    match = _COUNT.search(formula.stated_yield)
    return int(match[1]) if match and int(match[1]) > 0 else None


def _values(formula: Formula) -> tuple[float, ...]:
    inside = formula.composition()
    kcal = _PROTEIN * inside["protein"] + _FAT * inside["fat"] + _CARB * inside["carb"]
    sodium_mg = inside["sodium_mg"]
    return (kcal, kcal * _KJ, inside["protein"], inside["fat"], inside["carb"],
            inside["sugars"], inside["fibre"], sodium_mg,
            sodium_mg / 1000 * SODIUM_TO_SALT)  # fmt: skip


def _band(low: float, high: float, places: int) -> str:
    first, last = f"{low:.{places}f}", f"{high:.{places}f}"
    return first if first == last else f"{first} to {last}"
