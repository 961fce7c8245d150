"""What measuring by cups costs in precision, and weights of one's own kitchen."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from bakelab.formula import Formula
from bakelab.reading import Line, Recipe
from bakelab.reading.assemble import formula_rows

__all__ = ["Measure", "cup_sentences", "household_lines", "measures_in"]

_WATERY = ("water", "liquid", "dairy", "egg")
_LEAST_SPREAD = 0.02  # a band under 2 % of its middle is not worth a sentence
_CUPS = ("cup", "pint", "quart")


@dataclass(frozen=True)
class Measure:
    """One household measure of one ingredient, as the recipe uses it."""

    key: str
    measure: str
    label: str


def household_lines(recipe: Recipe) -> tuple[Line, ...]:
    """Lines in the dough whose mass comes from a cup, a spoon or a piece."""
    return tuple(
        line
        for line in recipe.lines
        if line.state in ("read", "doubt")
        and line.basis in ("density", "count")
        and line.ingredient
        and line.mass_g
    )


def measures_in(recipe: Recipe) -> tuple[Measure, ...]:
    """The measures whose weight can be set for one's own kitchen."""
    found = (_measure(line) for line in household_lines(recipe))
    return tuple(dict.fromkeys(one for one in found if one is not None))


def cup_sentences(recipe: Recipe) -> tuple[str, ...]:
    """The band of every cup, and what all of them do to the hydration."""
    wide = [line for line in household_lines(recipe) if _is_wide(line)]
    if not wide:
        return ()
    bands = "; ".join(_band_words(line) for line in wide)
    low, high = (_hydration(recipe.lines, wet=wet) for wet in (False, True))
    if math.isnan(low) or math.isnan(high):
        return (f"{bands}.",)
    return (f"{bands}; true hydration {low:.0f}–{high:.0f} %.",)


def _measure(line: Line) -> Measure | None:
    unit = line.unit or "piece"
    if line.basis == "count":
        unit = _counted(line)
    return Measure(line.ingredient, unit, f"{line.label}, 1 {unit}") if unit else None


def _counted(line: Line) -> str:
    """The piece that a counted line was weighed by: `50 g per large (…)`."""
    return line.assumed.partition(" per ")[2].partition(" (")[0]


def _is_wide(line: Line) -> bool:
    low, high = line.mass_low_g or 0.0, line.mass_high_g or 0.0
    return high - low > _LEAST_SPREAD * (high + low) / 2


def _band_words(line: Line) -> str:
    amount = _written_amount(line)
    return (
        f"{amount} {line.label}: {_round(line.mass_low_g)}–{_round(line.mass_high_g)} g"
    )


def _written_amount(line: Line) -> str:
    if line.low is None:
        return ""
    number = (
        f"{line.low:.3g}" if line.low == line.high else f"{line.low:g}–{line.high:g}"
    )
    many = line.high is not None and line.high > 1 and line.unit in _CUPS
    unit = f"{line.unit}s" if many else line.unit or ""
    return f"{number} {unit}".strip()


def _round(mass_g: float | None) -> str:
    value = mass_g or 0.0
    return f"{value:.0f}" if value >= 20 else f"{value:.1f}"


def _hydration(lines: Iterable[Line], *, wet: bool) -> float:
    """True hydration where all flour is light and all water heavy, or opposite."""
    moved: Sequence[Line] = [_moved(line, wet=wet) for line in lines]
    rows = formula_rows(moved)
    return Formula(rows).hydration_pct if rows else math.nan


def _moved(line: Line, *, wet: bool) -> Line:
    if line.role == "flour":
        return replace(line, mass_g=line.mass_low_g if wet else line.mass_high_g)
    if line.role in _WATERY:
        return replace(line, mass_g=line.mass_high_g if wet else line.mass_low_g)
    return line
