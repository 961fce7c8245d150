"""Flours blended to a protein content, with gluten where they do not reach."""

import math
from collections.abc import Sequence

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.preferments.stages import main_rows
from bakelab.variants.amounts import in_one_gram
from bakelab.variants.balance import solve
from bakelab.variants.change import Change
from bakelab.variants.moving import with_flours

__all__ = ["blend_to_protein"]

_GLUTEN = "wheat_gluten"
_GLUTEN_COST = 10.0  # flours are moved before gluten is added
_LEAST_G = 1e-9


def blend_to_protein(
    formula: Formula,
    target_pct: float,
    *,
    strong: str = _GLUTEN,
    flours: Sequence[str] = (),
) -> Change:
    """The weighed flours blended to a protein content, their weight staying.

    Parameters
    ----------
    formula : Formula
    target_pct : float
        Protein in percent of all weighed flour, as weighed.
    strong : str
        Key of a stronger flour or of wheat gluten, added as far as it is
        needed; gluten is counted as flour, so that the percentages stay.
    flours : sequence of str
        Keys of flours that are shifted among each other first, as little as
        possible; one may be new. Without them the strong one is added and
        all others give way in proportion.

    Raises
    ------
    FormulaError
        If the flours cannot reach it; says what they reach.
    """
    weighed = [r for r in formula.rows if r.role == "flour" and r.mass_g > 0]
    have_g = math.fsum(r.mass_g for r in weighed)
    if have_g <= 0:
        raise FormulaError("the formula has no weighed flour to blend")
    if not 0 <= target_pct <= 100:
        raise FormulaError(f"protein is 0 to 100 %, got {target_pct:g} %")
    inside_g = math.fsum(r.mass_g * _protein(r.ingredient) for r in weighed)
    movable = {ingredient(key).key: _main_g(formula, key) for key in flours}
    groups = [(_protein(key), grams) for key, grams in movable.items()]
    groups = groups or [_all_main(formula)]
    found = solve(
        [[1.0] * (len(groups) + 1), [*(p for p, _ in groups), _protein(strong)]],
        [0.0, have_g * target_pct / 100 - inside_g],
        least_g=[*(-grams for _, grams in groups), 0.0],
        costs=[*(1.0 for _ in groups), _GLUTEN_COST],
    )
    if found.missed:
        raise FormulaError(_out_of_reach(target_pct, groups, strong, inside_g, have_g))
    grams = _grams(formula, movable, found.masses_g, strong)
    made = with_flours(
        formula, {key: 100 * g / formula.flour_g for key, g in grams.items()}
    )
    said = _told(formula, grams, strong, have_g)
    said.append(f"protein {100 * inside_g / have_g:.1f} % becomes {target_pct:.1f} %")
    return Change(made, tuple(said), ("flour",))


def _told(
    formula: Formula, grams: dict[str, float], strong: str, have_g: float
) -> list[str]:
    said = [
        f"{ingredient(key).name} {_all_g(formula, key):.1f} g becomes {g:.1f} g"
        for key, g in grams.items()
        if abs(g - _all_g(formula, key)) > _LEAST_G and key != strong
    ]
    added_g = grams.get(strong, 0.0) - _all_g(formula, strong)
    if added_g > _LEAST_G:
        name = ingredient(strong).name
        said.insert(0, f"{added_g:.1f} g of the flour's {have_g:.0f} g as {name}")
    return said


def _protein(key: str) -> float:
    return in_one_gram(key, "protein") if is_ingredient(key) else 0.0


def _all_main(formula: Formula) -> tuple[float, float]:
    """Protein in a gram of the final dough's flours together, and their mass."""
    rows = [r for r in main_rows(formula) if r.role == "flour"]
    mass_g = math.fsum(r.mass_g for r in rows)
    inside_g = math.fsum(r.mass_g * _protein(r.ingredient) for r in rows)
    return (inside_g / mass_g if mass_g else 0.0), mass_g


def _grams(
    formula: Formula,
    movable: dict[str, float],
    changes_g: Sequence[float],
    strong: str,
) -> dict[str, float]:
    """Grams in the end of the flours that move; the rest give way or stay."""
    grams = {
        key: _all_g(formula, key) + change
        for key, change in zip(movable, changes_g, strict=False)
    }
    before_g = grams.get(strong, _all_g(formula, strong))
    if changes_g[-1] > _LEAST_G:
        return grams | {strong: before_g + changes_g[-1]}
    return grams


def _all_g(formula: Formula, key: str) -> float:
    return _sum(formula.rows, key)


def _main_g(formula: Formula, key: str) -> float:
    return _sum(main_rows(formula), key)


def _sum(rows: Sequence[Row], key: str) -> float:
    return math.fsum(
        r.mass_g for r in rows if r.role == "flour" and r.ingredient == key
    )


def _out_of_reach(
    target_pct: float,
    groups: Sequence[tuple[float, float]],
    strong: str,
    inside_g: float,
    have_g: float,
) -> str:
    proteins = [protein for protein, _ in groups]
    free_g = math.fsum(grams for _, grams in groups)
    own_g = math.fsum(protein * grams for protein, grams in groups)
    ends = [
        100 * (inside_g - own_g + free_g * p) / have_g
        for p in (*(proteins if len(proteins) > 1 else ()), _protein(strong))
    ]
    low, high = min(*ends, 100 * inside_g / have_g), max(*ends, 100 * inside_g / have_g)
    return (
        f"these flours have between {low:.1f} and {high:.1f} % protein, got "
        f"{target_pct:g} %: name a weaker or stronger flour with flours="
    )
