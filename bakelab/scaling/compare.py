"""Formulas side by side: percentages, grams, and what differs."""

import math
from collections.abc import Sequence

import pandas as pd

from bakelab.errors import FitError
from bakelab.formula import Formula, require_flour

__all__ = ["compare"]

_SAME_PCT = 0.005


def compare(formula: Formula, *others: Formula) -> pd.DataFrame:
    """Formulas side by side, differences marked by sign and in words.

    Parameters
    ----------
    formula : Formula
        The one that the others are compared with.
    *others : Formula

    Returns
    -------
    DataFrame
        `role, ingredient, label`, then per formula `<name> %` and
        `<name> g`, and for each of the others `<name> sign` ("+", "−" or
        "=") and `<name> change` in words. The name is the title, or a
        number where there is none or it is not the only one. An ingredient
        that is in several stages is one row. The last rows are the true
        hydration, the water as written, flour and dough.

    Raises
    ------
    FitError
        If there is nothing to compare with.
    FormulaError
        If one of them has no flour.
    """
    if not others:
        raise FitError("give at least two formulas to compare")
    formulas = (formula, *others)
    for one in formulas:
        require_flour(one)
    names = _names(formulas)
    columns: dict[str, list[object]] = {"role": [], "ingredient": [], "label": []}
    lines = _lines(formulas)
    columns["role"] = [line[0] for line in lines]
    columns["ingredient"] = [line[1] for line in lines]
    columns["label"] = [line[2] for line in lines]
    first = [line[3][0] for line in lines]
    for i, name in enumerate(names):
        cells = [line[3][i] for line in lines]
        columns[f"{name} %"] = [pct for pct, _ in cells]
        columns[f"{name} g"] = [mass_g for _, mass_g in cells]
        if i:
            changes = [_change(a, b) for a, b in zip(first, cells, strict=True)]
            columns[f"{name} sign"] = [sign for sign, _ in changes]
            columns[f"{name} change"] = [text for _, text in changes]
    return pd.DataFrame(columns)


Cell = tuple[float, float]
Line = tuple[str, str, str, tuple[Cell, ...]]


def _lines(formulas: Sequence[Formula]) -> list[Line]:
    sums = [_by_ingredient(one) for one in formulas]
    keys = dict.fromkeys(key for one in sums for key in one)
    rows = {r.ingredient: r for one in reversed(formulas) for r in reversed(one.rows)}
    lines: list[Line] = [
        (
            rows[key].role,
            key,
            rows[key].label,
            tuple(map(_cell, formulas, (one.get(key, 0.0) for one in sums))),
        )
        for key in keys
    ]
    return [*lines, *_totals(formulas)]


def _totals(formulas: Sequence[Formula]) -> list[Line]:
    wanted = {
        "true hydration": [f.water_g for f in formulas],
        "water as written": [f.plain_water_g for f in formulas],
        "all flour": [f.flour_g for f in formulas],
        "dough": [f.dough_g for f in formulas],
    }
    return [
        ("total", "", label, tuple(map(_cell, formulas, masses)))
        for label, masses in wanted.items()
    ]


def _by_ingredient(formula: Formula) -> dict[str, float]:
    masses: dict[str, list[float]] = {}
    for row in formula.rows:
        masses.setdefault(row.ingredient, []).append(row.mass_g)
    return {key: math.fsum(parts) for key, parts in masses.items()}


def _cell(formula: Formula, mass_g: float) -> Cell:
    return 100 * mass_g / formula.flour_g, mass_g


def _change(old: Cell, new: Cell) -> tuple[str, str]:
    points = new[0] - old[0]
    if abs(points) < _SAME_PCT:
        return "=", "the same percentage"
    sign, word = ("+", "more") if points > 0 else ("−", "less")
    if old[0] == 0:
        return sign, f"new: {new[0]:.2f} % of flour"
    if new[0] == 0:
        return sign, f"left out: was {old[0]:.2f} % of flour"
    share = 100 * abs(points) / old[0]
    return sign, f"{abs(points):.2f} points {word} ({share:.0f} % {word})"


def _names(formulas: Sequence[Formula]) -> list[str]:
    titles = [one.title or f"formula {i}" for i, one in enumerate(formulas, 1)]
    return [
        title if titles.count(title) == 1 else f"{title} ({i})"
        for i, title in enumerate(titles, 1)
    ]
