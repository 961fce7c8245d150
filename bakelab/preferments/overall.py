"""All stages of a formula seen as one, and each stage for itself."""

import math
from collections.abc import Iterator
from dataclasses import replace

import pandas as pd

from bakelab.formula import Assumption, Formula, Row, require_formula
from bakelab.preferments.kinds import Kind, kind, kinds
from bakelab.ranges import INSIDE, place
from bakelab.ranges.stages import dough_only, flour_inside

__all__ = [
    "STAGE_COLUMNS",
    "overall",
    "stage_sentences",
    "stage_table",
    "unusual_stages",
]

STAGE_COLUMNS = (
    "stage",
    "flour_g",
    "flour_pct",
    "hydration_pct",
    "yeast_pct",
    "salt_pct",
    "mass_g",
)
_USUAL_FLOUR = "wheat_bread"


def overall(formula: Formula, *, open_starters: bool = False) -> Formula:
    """The same formula in one stage, equal ingredients added up.

    Toppings, fillings and washes stay stages of their own. The flour and
    water inside a starter stay in the starter's row, unless
    `open_starters`: then they join the flours of its stage in proportion
    (of the whole dough where it has none) and the water, and the formula
    says so among its assumptions.

    Examples
    --------
    >>> rows = (Row("poolish", "water", "water", "water", 150.0),
    ...         Row("final dough", "water", "water", "water", 200.0))
    >>> [r.mass_g for r in overall(Formula(rows)).rows]
    [350.0]
    """
    require_formula(formula)
    if open_starters:
        formula = _opened(formula)
    mixed = {id(r) for r in dough_only(formula).rows}
    sums: dict[tuple[str, str, str, float | None], Row] = {}
    for row in formula.rows:
        stage = "dough" if id(row) in mixed else row.stage
        key = (stage, row.ingredient, row.role, row.hydration_pct)
        before = sums.get(key)
        mass_g = row.mass_g + (before.mass_g if before else 0.0)
        sums[key] = replace(before or row, stage=stage, mass_g=mass_g)
    return formula.with_rows(sums.values())


def stage_table(formula: Formula) -> pd.DataFrame:
    """One row per stage, columns `STAGE_COLUMNS`.

    `flour_pct` is of **all** flour: for a preferment, the percent of flour
    prefermented. Hydration (true), yeast and salt are over the stage's own
    flour and missing where it has none.
    """
    require_formula(formula)
    total_g = formula.flour_g or math.nan
    records = []
    for stage in formula.stages:
        part = _part(formula, stage)
        flour_g = part.flour_g
        records.append(
            (
                stage,
                flour_g,
                100 * flour_g / total_g,
                part.hydration_pct,
                part.role_pct("yeast"),
                part.role_pct("salt"),
                part.dough_g,
            )
        )
    return pd.DataFrame(records, columns=list(STAGE_COLUMNS))


def stage_sentences(formula: Formula) -> tuple[str, ...]:
    """Each stage in a sentence; what is unusual for its kind is said."""
    require_formula(formula)
    total_g = formula.require_flour()
    return tuple(_sentence(formula, stage, total_g) for stage in formula.stages)


def unusual_stages(formula: Formula) -> tuple[str, ...]:
    """What is unusual for the kind of each stage; empty if nothing is.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 500), ("water", 400)])
    >>> rows = [replace(r, stage="poolish", mass_g=300) for r in dough.rows]
    >>> unusual_stages(dough.with_rows([*rows, *dough.rows]))
    ()
    """
    require_formula(formula)
    total_g = formula.require_flour()
    found = []
    for stage in formula.stages:
        part = _part(formula, stage)
        if part.flour_g > 0:
            share = 100 * part.flour_g / total_g
            found += [
                f"{stage}: {w}" for w in _unusual(stage, share, part.hydration_pct)
            ]
    return tuple(found)


def _sentence(formula: Formula, stage: str, total_g: float) -> str:
    part = _part(formula, stage)
    if part.flour_g <= 0:
        return f"{stage}: {part.dough_g:.1f} g, no flour of its own"
    share = 100 * part.flour_g / total_g
    said = (
        f"{stage}: {part.dough_g:.1f} g with {share:.1f} % of all flour, "
        f"hydration {part.hydration_pct:.1f} %, yeast {part.role_pct('yeast'):.2f} %, "
        f"salt {part.role_pct('salt'):.2f} % of its own flour"
    )
    unusual = [*_unusual(stage, share, part.hydration_pct)]
    return f"{said}; {'; '.join(unusual)}" if unusual else said


def _unusual(stage: str, share: float, hydration: float) -> Iterator[str]:
    usual = _kind_of(stage, hydration)
    if usual is None:
        return
    for name, value, (low, high) in (
        ("flour share", share, usual.flour),
        ("hydration", hydration, usual.hydration),
    ):
        # A starter or yeast brings some water: a point either side is no matter.
        if place(value, low - 1, high + 1) != INSIDE:
            where = place(value, low, high)
            band = f"{low:g} to {high:g} %" if low < high else f"{low:g} %"
            yield f"{name} {where} for a {usual.stage} ({band}, common practice)"


def _kind_of(stage: str, hydration: float) -> Kind | None:
    """The kind with the stage's name; of two, the one of the nearer hydration."""
    name = stage.rstrip(" 0123456789").casefold()
    found = [k for k in map(kind, kinds()["kind"]) if name == k.stage != "soaker"]
    return min(found, default=None, key=lambda k: _beyond(hydration, *k.hydration))


def _beyond(value: float, low: float, high: float) -> float:
    return max(low - value, value - high, 0.0)


def _part(formula: Formula, stage: str) -> Formula:
    return formula.with_rows(r for r in formula.rows if r.stage == stage)


def _opened(formula: Formula) -> Formula:
    """Starters as flour and water."""
    rows: list[Row] = []
    noted: list[Assumption] = []
    for row in formula.rows:
        if row.role != "starter":
            rows.append(row)
            continue
        flours = _flours_for(formula, row.stage)
        whole_g = math.fsum(r.mass_g for r in flours)
        flour_g = flour_inside(row)
        rows += [
            replace(r, stage=row.stage, mass_g=flour_g * r.mass_g / whole_g)
            for r in flours
        ]
        rows.append(
            Row(row.stage, "water", "water", "water", max(0.0, row.mass_g - flour_g))
        )
        names = ", ".join(dict.fromkeys(r.label for r in flours))
        noted.append(
            Assumption("flour in the starter", row.label, names, "the flours beside it")
        )
    opened = formula.with_rows(rows)
    return replace(opened, assumptions=(*formula.assumptions, *noted))


def _flours_for(formula: Formula, stage: str) -> list[Row]:
    flours = [r for r in formula.rows if r.role == "flour" and r.mass_g > 0]
    own = [r for r in flours if r.stage == stage]
    fallback = Row(stage, _USUAL_FLOUR, "bread flour", "flour", 1.0)
    return own or flours or [fallback]
