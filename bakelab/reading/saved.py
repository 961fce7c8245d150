"""A formula of the lab as the text of a recipe, and files that the lab has saved."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import groupby

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row, formula_from_csv, formula_from_json
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.reading.line import read_line

__all__ = ["recipe_text", "saved_formula_in"]

_MARK, _HEAD = "bakelab formula", 200  # where both kinds of file say what they are
_DIGITS = 7  # of a weight in grams: a formula comes back to a ten-millionth


def recipe_text(formula: Formula) -> str:
    """Title, a line for each ingredient in grams, stage by stage, pan and oven.

    The pan is written only where the reader understands it in prose; else it has
    to be given beside the text.

    Examples
    --------
    >>> dough = Formula.from_pairs([("water", 340), ("salt_table", 8)], title="Brine")
    >>> recipe_text(dough).splitlines()
    ['# Brine', '', '340 g Water', '8 g Table salt']
    """
    text = "\n".join(_lines(formula)) + "\n"
    if not formula.stated_pan:
        return text
    from bakelab.reading.recipe import read_recipe  # which reads saved files by us

    with_pan = f"{text}\nBake in a {formula.stated_pan} pan.\n"
    found = read_recipe(with_pan).formula
    return with_pan if found and found.stated_pan == formula.stated_pan else text


def saved_formula_in(text: str) -> Formula | None:
    """The formula of a CSV or JSON that the lab has written, else None."""
    if _MARK not in text[:_HEAD]:
        return None
    for read in (formula_from_json, formula_from_csv):
        try:
            return read(text)
        except FormulaError:
            continue
    return None


def _lines(formula: Formula) -> Iterator[str]:
    yield f"# {formula.title.strip() or 'Bread'}"
    staged = len(formula.stages) > 1
    for stage, rows in groupby(formula.rows, key=lambda row: row.stage):
        yield ""
        if staged:
            yield f"## {stage[:1].upper()}{stage[1:]}"
            yield ""
        yield from (_line(row) for row in rows)
    yield from _oven(formula)


def _line(row: Row) -> str:
    """The weight and the word that is read as this very ingredient."""
    weight = f"{_grams(row.mass_g)} g"
    words = [row.label]
    if is_ingredient(row.ingredient):
        words.append(ingredient(row.ingredient).name)
    lines = [f"{weight} {word}" for word in words]
    return next((ln for ln in lines if _is(ln, row.ingredient)), lines[0])


def _grams(mass_g: float) -> str:
    """A weight that is the same in every language: `1.234` may be a thousand."""
    text = f"{Decimal(f'{mass_g:.{_DIGITS}g}'):f}"
    return f"{text}0" if len(text.partition(".")[2]) == 3 else text


def _is(line: str, key: str) -> bool:
    return read_line(line).ingredient == key


def _oven(formula: Formula) -> Iterator[str]:
    if not formula.oven and formula.bake_minutes is None:
        return
    first, *later = formula.oven.split(", from ")
    heat = f" at {first}" if formula.oven else ""
    time = ""
    if formula.bake_minutes is not None:
        low, high = formula.bake_minutes
        span = f"{low:g} to {high:g}" if low < high else f"{low:g}"
        time = f" for {span} minutes"
    yield ""
    in_all = " in all" if later and time else ""
    yield f"Bake{heat}{time}{in_all}."
    for change in later:
        minutes, _, setting = change.partition(" min ")
        yield f"After {minutes} minutes turn the oven to {setting}."
