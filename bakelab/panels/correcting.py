"""Correcting one read line: its words, ingredient, weight or state."""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction

from bakelab.errors import ReadError, UnitError
from bakelab.ingredients import find_ingredient, ingredient
from bakelab.ingredients.table import all_ingredients
from bakelab.reading import MARKETS, STATES, Line, Recipe, read_line
from bakelab.reading.amounts import Amount
from bakelab.reading.weights import Weighed, weigh
from bakelab.units import kitchen_units, number, quantity

__all__ = ["corrected", "line_as_row", "lines_counted", "market_of"]

MOST_G = 1e8
BY_HAND = "corrected by hand"


def corrected(
    line: Line, field: str, value: str, *, language: str, market: str
) -> Line:
    """The line with one field set by hand.

    Parameters
    ----------
    line : Line
    field : {"text", "ingredient", "grams", "state"}
    value : str
        As typed.
    language, market : str
        Of the recipe, for words and household measures.

    Raises
    ------
    ReadError, UnitError
        If the field cannot take the value; the line is left as it was.
    """
    change = _CHANGES.get(field)
    if change is None:
        raise ReadError(f"no field {field!r} to correct; use {', '.join(_CHANGES)}")
    return change(line, value.strip(), language, market)


def line_as_row(line: Line) -> Mapping[str, str]:
    """What the table of lines shows of a line."""
    told = line.state in ("doubt", "unread") or line.remark.startswith(BY_HAND)
    shown = line.remark if told else ""
    if line.state in ("doubt", "read") and line.mass_g is None:
        shown = shown or "no weight: not in the formula until you give its grams"
    return {
        "text": line.text.strip().removeprefix("- "),
        "ingredient": _name(line),
        "grams": "" if line.mass_g is None else f"{_tidy(line.mass_g)}",
        "state": line.state,
        "remark": shown,
    }


def lines_counted(recipe: Recipe) -> str:
    """How many lines were read, and in which states, in a sentence."""
    counts = [(len(recipe.by_state(state)), state) for state in STATES]
    words = ", ".join(f"{count} {state}" for count, state in counts if count)
    return (
        f"{len(recipe.lines)} lines: {words or 'none'}. Correct any of them in place."
    )


def market_of(recipe: Recipe) -> str:
    """What the reader took cups and spoons for: a key of `MARKETS`."""
    return recipe.market


def _text(line: Line, value: str, language: str, market: str) -> Line:
    if not value:
        raise ReadError(
            "a line cannot be empty; choose the state 'not in dough' to leave it out"
        )
    return read_line(
        value, language=language, market=market, line_no=line.line_no, stage=line.stage
    )


def _ingredient(line: Line, value: str, language: str, market: str) -> Line:
    if not value:
        raise ReadError("an ingredient needs a name; the line is left as it was")
    key = _by_name().get(value.casefold())
    if key is None:
        found = find_ingredient(value, language=language)
        key = found.key if found else None
    if key is None:
        remark = f"{BY_HAND}; {value!r} is not in the table, so its water counts as 0"
        named = replace(line, ingredient="", label=value, role="other", remark=remark)
        return replace(named, state="doubt")
    item = ingredient(key)
    named = replace(line, ingredient=key, label=item.name, role=item.role)
    named = replace(named, hydration_pct=None, remark=BY_HAND)
    return _weighed_again(named, market)


def _grams(line: Line, value: str, _language: str, _market: str) -> Line:
    mass_g = _mass(value)
    given = replace(line, mass_g=mass_g, mass_low_g=mass_g, mass_high_g=mass_g)
    given = replace(given, basis="stated", assumed="", remark=BY_HAND)
    if line.state == "not in dough":
        return given
    known = bool(line.ingredient or line.label)
    unnamed = f"{BY_HAND}; give the ingredient too"
    return replace(given, state="read") if known else replace(
        given, state="doubt", label=line.text.strip(), role="other", remark=unnamed
    )  # fmt: skip


def _state(line: Line, value: str, _language: str, _market: str) -> Line:
    for state in STATES:
        if value == state:
            return replace(line, state=state, remark=BY_HAND)
    raise ReadError(f"no state {value!r}; choose one of {', '.join(STATES)}")


_CHANGES: Mapping[str, Callable[[Line, str, str, str], Line]] = {
    "text": _text,
    "ingredient": _ingredient,
    "grams": _grams,
    "state": _state,
}


def _weighed_again(line: Line, market: str) -> Line:
    """A known ingredient's own weight for the amount on the line."""
    found = _mass_of(line, market)
    if found is not None:
        line = replace(
            line, mass_g=found.mid_g, mass_low_g=found.low_g, mass_high_g=found.high_g,
            basis="count" if found.basis == "count" else "density",
            assumed=found.assumed,
        )  # fmt: skip
    if line.state == "not in dough":
        return line
    return replace(line, state="doubt" if line.mass_g is None else "read")


def _mass_of(line: Line, market: str) -> Weighed | None:
    if line.low is None or line.basis in ("stated", "percent") or line.unit == "%":
        return None
    if line.unit is not None and line.unit not in kitchen_units():
        return None
    low, high = Fraction(line.low), Fraction(line.high or line.low)
    amount = Amount(low, high, line.unit, None, 0, 0)
    found = weigh(amount, line.ingredient, MARKETS[market])
    return found if found is not None and found.basis != "stated" else None


def _mass(value: str) -> float:
    try:
        mass_g = float(number(value))
    except UnitError:
        mass_g = float(quantity(value, dimension="[mass]").to("g").magnitude)
    if not (math.isfinite(mass_g) and 0 <= mass_g <= MOST_G):
        raise UnitError(
            f"{value[:40]!r} is no weight for a line; give 0 to {MOST_G:.0f} g"
        )
    return mass_g


def _name(line: Line) -> str:
    known = all_ingredients()
    return known[line.ingredient].name if line.ingredient in known else line.label


def _by_name() -> Mapping[str, str]:
    return {i.name.casefold(): key for key, i in all_ingredients().items()}


def _tidy(mass_g: float) -> str:
    """Grams with the places a cook can use: 378, 28.4, 6.98."""
    places = 0 if mass_g >= 100 else 1 if mass_g >= 10 else 2
    text = f"{mass_g:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
