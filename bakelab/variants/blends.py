"""Flours blended to a protein content, with gluten where they do not reach."""

import math
from collections.abc import Sequence
from dataclasses import replace

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row, require_formula
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.preferments.stages import main_rows
from bakelab.variants.amounts import in_one_gram
from bakelab.variants.balance import Balance, solve
from bakelab.variants.change import Change
from bakelab.variants.holding import HOLDS
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
        needed, or taken out where there is too much of it. Gluten is
        counted as flour, so that the percentages stay; where it stood
        beside the flour it is counted from then on, and that is said.
    flours : sequence of str
        Keys of flours that are shifted among each other first, as little as
        possible; one may be new. Without them the strong one is added and
        all others give way in proportion.

    Raises
    ------
    FormulaError
        If the flours cannot reach it; says what they reach.
    """
    formula, beside = _counted(formula, strong)
    weighed = [r for r in formula.rows if r.role == "flour" and r.mass_g > 0]
    have_g = math.fsum(r.mass_g for r in weighed)
    if have_g <= 0:
        raise FormulaError("the formula has no weighed flour to blend")
    if not 0 <= target_pct <= 100:
        raise FormulaError(f"protein is 0 to 100 %, got {target_pct:g} %")
    inside_g = math.fsum(r.mass_g * _protein(r.ingredient) for r in weighed)
    movable = {
        ingredient(key).key: _main_g(formula, key) for key in flours if key != strong
    }
    groups = [(_protein(key), grams) for key, grams in movable.items()]
    groups = groups or [_all_main(formula, strong)]
    groups.append((_protein(strong), _main_g(formula, strong)))
    last_cost = 1.0 if strong in flours else _GLUTEN_COST
    found = _balanced(groups, have_g * target_pct / 100 - inside_g, last_cost)
    if found.missed:
        raise FormulaError(_out_of_reach(target_pct, groups, inside_g, have_g))
    grams = _grams(formula, movable, found.masses_g, strong)
    made = with_flours(
        formula, {key: 100 * g / formula.flour_g for key, g in grams.items()}
    )
    said = _told(formula, grams, strong, have_g)
    said.append(f"protein {100 * inside_g / have_g:.1f} % becomes {target_pct:.1f} %")
    return Change(made, tuple(said), ("dough",) if beside else ("flour",), beside)


def _balanced(
    groups: Sequence[tuple[float, float]], protein_g: float, last_cost: float
) -> Balance:
    """Flours (protein in a gram, mass) moved so that so much protein comes or goes."""
    return solve(
        [[1.0] * len(groups), [protein for protein, _ in groups]],
        [0.0, protein_g],
        least_g=[-grams for _, grams in groups],
        costs=[1.0] * (len(groups) - 1) + [last_cost],
    )


def _counted(formula: Formula, strong: str) -> tuple[Formula, tuple[str, ...]]:
    """What stands beside the flour counted as flour, and a sentence that says so."""
    require_formula(formula)
    found = [r for r in formula.rows if r.ingredient == strong and r.role == "other"]
    added_g = math.fsum(r.mass_g for r in found)
    if not added_g:
        return formula, ()
    flour_g = formula.flour_g
    counted = formula.with_rows(
        replace(r, role="flour") if r in found else r for r in formula.rows
    )
    words = (
        f"cannot hold {HOLDS['flour']}: {added_g:.1f} g {found[0].label} is counted as "
        f"flour, {flour_g:.1f} g becomes {flour_g + added_g:.1f} g, and every "
        "percentage is of that"
    )
    return counted, (words,)


def _told(
    formula: Formula, grams: dict[str, float], strong: str, have_g: float
) -> list[str]:
    said = [
        f"{ingredient(key).name} {_all_g(formula, key):.1f} g becomes {g:.1f} g"
        for key, g in grams.items()
        if abs(g - _all_g(formula, key)) > _LEAST_G and key != strong
    ]
    before_g = _all_g(formula, strong)
    added_g = grams.get(strong, before_g) - before_g
    name = ingredient(strong).name
    if abs(added_g) > _LEAST_G and before_g > 0:
        said.insert(0, f"{name} {before_g:.1f} g becomes {before_g + added_g:.1f} g")
    elif added_g > _LEAST_G:
        said.insert(0, f"{added_g:.1f} g of the flour's {have_g:.0f} g as {name}")
    return said


def _protein(key: str) -> float:
    return in_one_gram(key, "protein") if is_ingredient(key) else 0.0


def _all_main(formula: Formula, strong: str) -> tuple[float, float]:
    """Protein in a gram of the final dough's other flours, and their mass."""
    rows = [
        r for r in main_rows(formula) if r.role == "flour" and r.ingredient != strong
    ]
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
    if abs(changes_g[-1]) > _LEAST_G:
        return grams | {strong: _all_g(formula, strong) + changes_g[-1]}
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
    inside_g: float,
    have_g: float,
) -> str:
    free_g = math.fsum(grams for _, grams in groups)
    own_g = math.fsum(protein * grams for protein, grams in groups)
    ends = [100 * (inside_g - own_g + free_g * p) / have_g for p, _ in groups]
    return (
        f"these flours have between {min(ends):.1f} and {max(ends):.1f} % protein, got "
        f"{target_pct:g} %: name a weaker or stronger flour with flours="
    )
