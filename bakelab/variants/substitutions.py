"""Ingredients exchanged so that the balance stays, solved and explained."""

import difflib
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType

import numpy as np
import pandas as pd

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.ingredients import Ingredient, ingredient
from bakelab.tables import read_rows, read_table
from bakelab.variants.change import Change, change

__all__ = [
    "YEAST_SETS",
    "blend_to_protein",
    "rehydrate_starter",
    "substitute",
    "substitutions",
    "swap_yeast",
]

YEAST_SETS: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        # Fresh 1 : active dry 0.40 : instant 0.33; common practice, no source.
        "1 : 0.40 : 0.33": MappingProxyType(
            {"yeast_fresh": 1.0, "yeast_active_dry": 0.40, "yeast_instant": 0.33}
        ),
        # Gisslen, Professional Baking; from memory, unverified.
        "1 : 0.5 : 0.35": MappingProxyType(
            {"yeast_fresh": 1.0, "yeast_active_dry": 0.5, "yeast_instant": 0.35}
        ),
    }
)
_COLUMNS = {
    "key": str, "name": str, "from": str, "into": str, "held": str, "source": str
}  # fmt: skip


@dataclass(frozen=True)
class _Swap:
    key: str
    name: str
    old: str
    into: tuple[str, ...]
    held: tuple[str, ...]


def substitutions() -> pd.DataFrame:
    """The exchanges that are known, with what each holds."""
    return read_table("substitutions", _COLUMNS)


def substitute(formula: Formula, key: str, *, share_pct: float = 100.0) -> Change:
    """Exchange an ingredient for others, holding what the table says.

    Parameters
    ----------
    formula : Formula
    key : str
        Of `substitutions`, such as ``"butter_to_oil"``.
    share_pct : float
        How much of the ingredient is exchanged, in percent.

    Returns
    -------
    Change
        `sentences` explain it line by line.

    Raises
    ------
    FormulaError
        If the formula lacks the ingredient, or a mass would be negative.
    """
    swap = _swap(key)
    rows = [r for r in formula.rows if r.ingredient == swap.old and r.mass_g > 0]
    if not rows:
        raise FormulaError(
            f"the formula has no {ingredient(swap.old).name} to exchange"
        )
    if not (math.isfinite(share_pct) and 0 < share_pct <= 100):
        raise FormulaError(f"a share is over 0 and up to 100 %, got {share_pct}")
    made = formula
    for row in rows:
        taken_g = row.mass_g * share_pct / 100
        new = _new_rows(row.stage, swap.into, _solved(swap, taken_g))
        made = _exchanged(made, row, taken_g, new)
    taken_g = math.fsum(r.mass_g for r in rows) * share_pct / 100
    return Change(made, _explained(swap, taken_g), swap.held)


def _swap(key: str) -> _Swap:
    if key not in _swaps():
        close = difflib.get_close_matches(key, _swaps(), 3, 0.3) or list(_swaps())
        raise FormulaError(f"no exchange {key!r}; closest: {', '.join(close)}")
    return _swaps()[key]


@cache
def _swaps() -> Mapping[str, _Swap]:
    return MappingProxyType(
        {
            r["key"]: _Swap(
                r["key"], r["name"], r["from"],
                tuple(r["into"].split("|")), tuple(r["held"].split("|")),
            )
            for r in read_rows("substitutions", _COLUMNS)
        }
    )  # fmt: skip


def _solved(swap: _Swap, mass_g: float) -> list[float]:
    """Masses of the new ingredients: as many equations as unknowns, exact."""
    new = [ingredient(k) for k in swap.into]
    matrix = np.array([[_holds(item, what) for item in new] for what in swap.held])
    wanted = np.array([_holds(ingredient(swap.old), what) for what in swap.held])
    masses = np.linalg.solve(matrix, wanted * mass_g)
    if (masses < -1e-9).any():
        raise FormulaError(
            f"{swap.name}: {', '.join(swap.held)} cannot all be held at once"
        )
    return [float(m) for m in masses]


def _holds(item: Ingredient, what: str) -> float:
    """Grams of something in one gram (sodium in mg)."""
    water, fat = _known(item.water_g), _known(item.fat_g)
    per_100 = {
        "mass": 100.0,
        "water": water,
        "fat": fat,
        "sugars": _known(item.sugars_g),
        "protein": _known(item.protein_g),
        "sodium": _known(item.sodium_mg),
        "solids": 100 - water,
        "lean_solids": 100 - water - fat,
    }
    return per_100[what] / 100


def _known(value: float) -> float:
    return 0.0 if math.isnan(value) else value


def _exchanged(
    formula: Formula, old: Row, taken_g: float, new: Sequence[Row]
) -> Formula:
    kept: list[Row] = []
    for row in formula.rows:
        if row != old:
            kept.append(row)
        elif old.mass_g - taken_g > 1e-9:
            kept.append(replace(old, mass_g=old.mass_g - taken_g))
    return formula.with_rows(_merged([*kept, *new]))


def _new_rows(stage: str, keys: Sequence[str], masses: Sequence[float]) -> list[Row]:
    return [
        Row(stage, key, ingredient(key).name, ingredient(key).role, max(0.0, mass_g))
        for key, mass_g in zip(keys, masses, strict=True)
        if mass_g > 1e-9
    ]


def _merged(rows: Sequence[Row]) -> list[Row]:
    """Rows of one stage and ingredient added up, the first label kept."""
    sums: dict[tuple[str, str, float | None], Row] = {}
    for row in rows:
        place = (row.stage, row.ingredient, row.hydration_pct)
        before = sums.get(place)
        sums[place] = (
            row
            if before is None
            else replace(before, mass_g=before.mass_g + row.mass_g)
        )
    return list(sums.values())


def _explained(swap: _Swap, taken_g: float) -> tuple[str, ...]:
    masses = _solved(swap, taken_g)
    parts = [
        f"{mass_g:.1f} g {ingredient(key).name}"
        for key, mass_g in zip(swap.into, masses, strict=True)
    ]
    lines = [f"{taken_g:.1f} g {ingredient(swap.old).name} becomes {', '.join(parts)}"]
    for what in swap.held:
        amount = taken_g * _holds(ingredient(swap.old), what)
        unit = "mg" if what == "sodium" else "g"
        lines.append(f"{what.replace('_', ' ')} stays at {amount:.1f} {unit}")
    return tuple(lines)


def swap_yeast(formula: Formula, to: str, *, ratios: str = "1 : 0.40 : 0.33") -> Change:
    """All yeast as another kind, by one of the published sets of ratios.

    `to` is ``"yeast_fresh"``, ``"yeast_active_dry"`` or ``"yeast_instant"``;
    `ratios` a key of `YEAST_SETS`.
    """
    if ratios not in YEAST_SETS:
        raise FormulaError(f"no set {ratios!r}; use one of {list(YEAST_SETS)}")
    worth = YEAST_SETS[ratios]
    yeasts = [r for r in formula.rows if r.role == "yeast" and r.ingredient in worth]
    if to not in worth or not yeasts:
        raise FormulaError(f"yeast is exchanged among {', '.join(worth)}; got {to!r}")
    item = ingredient(to)
    rows, said = [], []
    for row in formula.rows:
        if row not in yeasts:
            rows.append(row)
            continue
        mass_g = row.mass_g * worth[to] / worth[row.ingredient]
        rows.append(replace(row, ingredient=to, label=item.name, mass_g=mass_g))
        said.append(
            f"{row.mass_g:.2f} g {row.label} becomes {mass_g:.2f} g {item.name}"
        )
    note = f"by {ratios} (fresh : active dry : instant)"
    return Change(formula.with_rows(_merged(rows)), (*said, note), ("rising power",))


def blend_to_protein(
    formula: Formula, target_pct: float, *, strong: str = "wheat_gluten"
) -> Change:
    """The weighed flours and a strong one blended to a protein content.

    `target_pct` is protein in percent of the blend as weighed, `strong` the
    key of a stronger flour or of wheat gluten. The blend weighs what the
    flours weighed.
    """
    flours = [r for r in formula.rows if r.role == "flour" and r.mass_g > 0]
    have_g = math.fsum(r.mass_g for r in flours)
    if have_g <= 0:
        raise FormulaError("the formula has no weighed flour to blend")
    inside = math.fsum(
        r.mass_g * _holds(ingredient(r.ingredient), "protein") for r in flours
    )
    now_pct, strong_pct = (
        100 * inside / have_g,
        100 * _holds(ingredient(strong), "protein"),
    )
    low, high = sorted((now_pct, strong_pct))
    if not low - 1e-9 <= target_pct <= high + 1e-9:
        band = f"between {low:.1f} and {high:.1f} %"
        raise FormulaError(f"a blend has {band} protein, got {target_pct:g} %")
    share = (target_pct - now_pct) / (strong_pct - now_pct) if high > low else 0.0
    rows = [
        replace(r, mass_g=r.mass_g * (1 - share)) if r in flours else r
        for r in formula.rows
    ]
    item = ingredient(strong)
    added = Row(flours[0].stage, strong, item.name, "flour", have_g * share)
    said = f"{added.mass_g:.1f} g of the flour's {have_g:.0f} g as {item.name}"
    protein = f"protein {now_pct:.1f} % becomes {target_pct:.1f} %"
    return Change(formula.with_rows([*rows, added]), (said, protein), ("flour",))


def rehydrate_starter(formula: Formula, hydration_pct: float) -> Change:
    """A starter of another hydration, its flour and all water staying."""
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
    made = change(formula.with_rows(rows), "hydration", to=formula.hydration_pct)
    return Change(made.formula, tuple(said), ("flour", "true hydration"))
