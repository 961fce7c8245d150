"""Yeast of another kind, and a starter of another hydration."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row, require_formula
from bakelab.ingredients import ingredient
from bakelab.preferments.stages import main_rows
from bakelab.ranges.measures import YEAST_PER_FRESH
from bakelab.variants.change import Change
from bakelab.variants.moving import to_mass

__all__ = ["YEAST_SETS", "YEAST_STATUS", "rehydrate_starter", "swap_yeast"]

_USUAL = "1 : 0.40 : 0.33"
_OTHER = "1 : 0.5 : 0.35"
YEAST_SETS: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        _USUAL: MappingProxyType(dict(YEAST_PER_FRESH)),
        _OTHER: MappingProxyType(
            {"yeast_fresh": 1.0, "yeast_active_dry": 0.5, "yeast_instant": 0.35}
        ),
    }
)
#: Where each set comes from.
YEAST_STATUS: Mapping[str, str] = MappingProxyType(
    {
        _USUAL: "common practice, no source; a packet of 7.2 g for a cake of 17 g "
        "(USDA SR26 18375, 18374) makes 0.42",
        _OTHER: "Gisslen, Professional Baking; from memory, not checked",
    }
)
_LEAST_G = 1e-9


def swap_yeast(formula: Formula, to: str, *, ratios: str = _USUAL) -> Change:
    """All yeast as another kind, the true hydration staying.

    Parameters
    ----------
    formula : Formula
    to : str
        ``"yeast_fresh"``, ``"yeast_active_dry"`` or ``"yeast_instant"``.
    ratios : str
        A key of `YEAST_SETS`, fresh : active dry : instant; `YEAST_STATUS`
        says where each comes from.

    Returns
    -------
    Change
        Plain water makes up for the water of fresh yeast, where it can.

    Raises
    ------
    FormulaError
        If the formula has no such yeast, or there is no such set.
    """
    require_formula(formula)
    if ratios not in YEAST_SETS:
        raise FormulaError(f"no set {ratios!r}; use one of {', '.join(YEAST_SETS)}")
    worth = YEAST_SETS[ratios]
    yeasts = [r for r in formula.rows if r.role == "yeast" and r.ingredient in worth]
    if to not in worth or not yeasts:
        raise FormulaError(
            f"yeast is exchanged among {', '.join(worth)}, in a formula that has one; "
            f"got {to!r}"
        )
    item, rows, said = ingredient(to), [], []
    for row in formula.rows:
        if row not in yeasts:
            rows.append(row)
            continue
        mass_g = row.mass_g * worth[to] / worth[row.ingredient]
        rows.append(replace(row, ingredient=to, label=item.name, mass_g=mass_g))
        said.append(
            f"{row.mass_g:.2f} g {row.label} becomes {mass_g:.2f} g {item.name}"
        )
    said.append(f"by {ratios} (fresh : active dry : instant): {YEAST_STATUS[ratios]}")
    return _watered(formula, formula.with_rows(_merged(rows)), said, "rising_power")


def rehydrate_starter(formula: Formula, hydration_pct: float) -> Change:
    """A starter of another hydration, its flour and all water staying."""
    require_formula(formula)
    starters = [r for r in formula.rows if r.role == "starter"]
    if not starters or not 30 <= hydration_pct <= 300:
        raise FormulaError(
            "give a starter's hydration of 30 to 300 %, for a formula that has one"
        )
    rows, said = [], []
    for row in formula.rows:
        if row.role != "starter":
            rows.append(row)
            continue
        old = 100.0 if row.hydration_pct is None else row.hydration_pct
        mass_g = row.mass_g / (1 + old / 100) * (1 + hydration_pct / 100)
        rows.append(replace(row, mass_g=mass_g, hydration_pct=hydration_pct))
        said.append(f"{row.mass_g:.1f} g at {old:g} % becomes {mass_g:.1f} g")
    return _watered(formula, formula.with_rows(rows), said, "flour")


def _watered(before: Formula, after: Formula, said: list[str], held: str) -> Change:
    """Plain water makes up for the water that came or went."""
    surplus_g = after.water_g - before.water_g
    plain_g = after.plain_water_g
    have_g = sum(r.mass_g for r in main_rows(after) if r.role == "water")
    if abs(surplus_g) <= _LEAST_G:
        return Change(after, tuple(said), (held, "hydration"))
    if surplus_g > have_g:
        lacking = (
            f"cannot hold the true hydration: the dough has {have_g:.1f} g of water, "
            f"and {surplus_g:.1f} g would have to go"
        )
        return Change(after, tuple(said), (held,), (lacking,))
    made = to_mass(after, "water", plain_g - surplus_g)
    said.append(f"water {plain_g:.1f} g becomes {plain_g - surplus_g:.1f} g to make up")
    return Change(made, tuple(said), (held, "hydration"))


def _merged(rows: list[Row]) -> list[Row]:
    """Rows of one stage and ingredient added up, the first label kept."""
    sums: dict[tuple[str, str, float | None], Row] = {}
    for row in rows:
        place = (row.stage, row.ingredient, row.hydration_pct)
        before = sums.get(place)
        mass_g = row.mass_g + (before.mass_g if before else 0.0)
        sums[place] = replace(before or row, mass_g=mass_g)
    return list(sums.values())
