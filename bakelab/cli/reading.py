"""`bakelab read`: what is understood of a recipe, line by line."""

import argparse
import json
import re
import sys
from collections.abc import Iterator
from pathlib import Path

from bakelab.errors import ReadError
from bakelab.reading import Line, Recipe, read_recipe

__all__ = ["read", "recipe_of", "shown"]

_CELSIUS = re.compile(r"(\d+) °C")
_STEP_F = 5  # common practice, no source


def read(options: argparse.Namespace) -> int:
    """Print the recipe; 1 if a line is in doubt or unread, or there is none."""
    recipe = recipe_of(options)
    if options.json:
        print(json.dumps(recipe.to_dict(), ensure_ascii=False, indent=1))
    else:
        print("\n".join(shown(recipe)))
    doubtful = recipe.by_state("doubt") or recipe.by_state("unread")
    return int(bool(doubtful or not recipe.lines))


def recipe_of(options: argparse.Namespace) -> Recipe:
    """The recipe that the command names; standard input for ``-``."""
    return read_recipe(
        sys.stdin.read() if options.file == "-" else _path(options.file),
        language=options.language,
        market=options.market,
    )


def _path(file: str) -> Path:
    if not file.strip():
        raise ReadError("no file is named; give the path of a recipe, or - for input")
    return Path(file)


def shown(recipe: Recipe) -> Iterator[str]:
    """Lines of text for the terminal."""
    yield recipe.title or "Recipe without a title"
    yield ""
    yield f"{'state':<12} {'grams':>9}  {'role':<10} line"
    for line in recipe.lines:
        yield _line(line)
    if not recipe.lines:
        yield "No ingredient line was found; write each ingredient with its amount."
    yield ""
    yield from _facts(recipe)
    for remark in recipe.remarks:
        yield f"Note: {remark}"
    for one in recipe.assumptions:
        yield f"Assumed: {one.subject}: {one.value} ({one.basis})"


def _line(line: Line) -> str:
    grams = "" if line.mass_g is None else f"{line.mass_g:.1f} g"
    text = f"{line.state:<12} {grams:>9}  {line.role or '-':<10} {line.text}"
    return f"{text}\n{'':<35}({line.remark})" if line.remark else text


def _with_fahrenheit(match: re.Match[str]) -> str:
    """`190 °C (about 375 °F)`: dials are marked in steps of 5 °F, or 25."""
    dial_f = _STEP_F * round((float(match[1]) * 1.8 + 32) / _STEP_F)
    return f"{match[0]} (about {dial_f} °F)"


def _facts(recipe: Recipe) -> Iterator[str]:
    if recipe.pan is not None:
        yield f"Pan: {recipe.pan.describe()}"
    if recipe.oven_c is not None:
        yield f"Oven: {_CELSIUS.sub(_with_fahrenheit, recipe.oven)}"
    if recipe.bake_minutes is not None:
        low, high = recipe.bake_minutes
        yield f"Time: {low:g} min" if low == high else f"Time: {low:g}-{high:g} min"
    if recipe.formula is not None and recipe.formula.flour_g > 0:
        formula = recipe.formula
        yield (
            f"Flour {formula.flour_g:.0f} g, dough {formula.dough_g:.0f} g, water as "
            f"written {formula.water_pct:.1f} %, true hydration "
            f"{formula.hydration_pct:.1f} %"
        )
