"""A formula's measures: the numbers that the usual bands are about."""

import math
from dataclasses import dataclass

from bakelab.formula import Formula, Row, require_formula
from bakelab.ranges.stages import dough_only, flour_inside, is_preferment, known

__all__ = [
    "YEAST_PER_FRESH",
    "Measured",
    "measured",
    "measures",
]

#: Grams that raise like one gram of fresh yeast; common practice, no source.
YEAST_PER_FRESH = {"yeast_fresh": 1.0, "yeast_active_dry": 0.40, "yeast_instant": 0.33}

_LIQUID_PER_DRIED_EGG = 4.0  # common practice, no source


@dataclass(frozen=True)
class Measured:
    """A measure's value, and in words how it was counted."""

    value: float
    note: str


def measures(formula: Formula) -> dict[str, float]:
    """The formula's own measures, keyed as in the usual bands.

    Parameters
    ----------
    formula : Formula

    Returns
    -------
    dict of str to float
        ``hydration, salt, yeast_..., sugar, fat, egg, milk_solids,
        prefermented_flour``, all in percent of all flour. Only the kind
        of yeast that is used has an entry; a formula without yeast has
        ``yeast_fresh`` 0. Toppings and fillings are left out.

    Raises
    ------
    FormulaError
        If the formula has no flour.

    Examples
    --------
    >>> dough = Formula.from_pairs(
    ...     [("wheat_bread", 500), ("water", 310), ("salt_table", 9)]
    ... )
    >>> {k: round(v, 2) for k, v in measures(dough).items() if v}
    {'hydration': 62.0, 'salt': 1.8}
    """
    return {name: found.value for name, found in measured(formula).items()}


def measured(formula: Formula) -> dict[str, Measured]:
    """As `measures`, each with a note on what was counted and what assumed."""
    require_formula(formula)
    dough = dough_only(formula)
    flour_g = dough.require_flour()
    found = {"hydration": Measured(dough.hydration_pct, _hydration_note(dough))}
    found["salt"] = _role(dough, "salt", "salt as weighed")
    found.update(_yeast(dough, flour_g))
    found["sugar"] = _role(dough, "sweetener", "all sweeteners as weighed")
    found["fat"] = _fat(dough, flour_g)
    found["egg"] = _egg(dough, flour_g)
    found["milk_solids"] = _milk_solids(dough, flour_g)
    found["prefermented_flour"] = _prefermented(dough, flour_g)
    return found


def _role(formula: Formula, role: str, note: str) -> Measured:
    return Measured(formula.role_pct(role), note)


def _hydration_note(formula: Formula) -> str:
    note = "all added water over all flour"
    unknown = formula.unknown
    return f"{note}; no water counted for {', '.join(unknown)}" if unknown else note


def _yeast(formula: Formula, flour_g: float) -> dict[str, Measured]:
    by_kind: dict[str, float] = {}
    for row in formula.rows:
        if row.role == "yeast" and row.mass_g > 0:
            kind = _yeast_kind(row.ingredient)
            by_kind[kind] = by_kind.get(kind, 0.0) + row.mass_g
    if not by_kind:
        return {"yeast_fresh": Measured(0.0, "no yeast weighed")}
    kind = max(by_kind, key=lambda k: by_kind[k] / YEAST_PER_FRESH[k])
    fresh_g = math.fsum(g / YEAST_PER_FRESH[k] for k, g in by_kind.items())
    note = "yeast as weighed"
    if len(by_kind) > 1:
        note = "all kinds as one: fresh 1, active dry 0.40, instant 0.33"
    return {kind: Measured(100 * fresh_g * YEAST_PER_FRESH[kind] / flour_g, note)}


def _yeast_kind(key: str) -> str:
    name = key.lower()
    if any(word in name for word in ("fresh", "compressed", "cake")):
        return "yeast_fresh"
    if any(word in name for word in ("instant", "rapid", "quick", "osmo")):
        return "yeast_instant"
    return "yeast_active_dry"


def _fat(formula: Formula, flour_g: float) -> Measured:
    rows = [r for r in formula.rows if r.role == "fat"]
    grams = math.fsum(r.mass_g * _per_gram(r, "fat_g", 1.0) for r in rows)
    note = "fat within the added fats; that of egg, milk and flour not counted"
    unknown = [r.label for r in rows if known(r) is None]
    if unknown:
        note += f"; {', '.join(unknown)} assumed to be all fat"
    return Measured(100 * grams / flour_g, note)


def _egg(formula: Formula, flour_g: float) -> Measured:
    rows = [r for r in formula.rows if r.role == "egg"]
    dried = [r for r in rows if _per_gram(r, "water_g", 0.76) < 0.2]
    grams = math.fsum(r.mass_g for r in rows)
    grams += math.fsum(r.mass_g * (_LIQUID_PER_DRIED_EGG - 1) for r in dried)
    note = "egg, yolk and white as weighed"
    if dried:
        note += f"; dried egg counted as {_LIQUID_PER_DRIED_EGG:g} times its weight"
    return Measured(100 * grams / flour_g, note)


def _milk_solids(formula: Formula, flour_g: float) -> Measured:
    rows = [r for r in formula.rows if _is_dairy(r)]
    grams = math.fsum(r.mass_g * (1 - _per_gram(r, "water_g", 0.88)) for r in rows)
    note = "dairy less its water"
    unknown = [r.label for r in rows if known(r) is None]
    if unknown:
        note += f"; {', '.join(unknown)} assumed to hold 88 % water"
    return Measured(100 * grams / flour_g, note)


def _is_dairy(row: Row) -> bool:
    if row.role == "dairy":
        return True
    item = known(row)
    return row.role == "liquid" and item is not None and "milk" in item.allergens


def _prefermented(formula: Formula, flour_g: float) -> Measured:
    stages = [s for s in formula.stages if is_preferment(formula, s)]
    grams = math.fsum(
        flour_inside(r)
        for r in formula.rows
        if r.role == "starter" or r.stage in stages
    )
    note = "flour in starters"
    if stages:
        note = f"flour in {', '.join(stages)}, and in starters"
    return Measured(100 * grams / flour_g, note)


def _per_gram(row: Row, field: str, unknown: float) -> float:
    item = known(row)
    value = math.nan if item is None else float(getattr(item, field))
    return unknown if math.isnan(value) else value / 100
