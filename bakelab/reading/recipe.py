"""A whole recipe: from any of its written forms to lines and a formula."""

import os
import re
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace

from bakelab.errors import PanError, ReadError
from bakelab.formula import Assumption, Formula
from bakelab.pans import Pan, pan_in_text
from bakelab.pans import pan as read_pan
from bakelab.reading.assemble import (
    by_percentages,
    formula_rows,
    line_assumptions,
    percent_remarks,
)
from bakelab.reading.facts import bake_minutes, oven_c, stated_yield
from bakelab.reading.language import guess_language
from bakelab.reading.lines import lines_of
from bakelab.reading.model import Line, Recipe
from bakelab.reading.oven_changes import OvenChanges, oven_changes
from bakelab.reading.parts import MOST_LINES, Parts, parts_of
from bakelab.reading.saved import recipe_text, saved_formula_in
from bakelab.reading.sources import source_text
from bakelab.reading.vocabulary import LANGUAGES
from bakelab.reading.weights import MARKETS

__all__ = ["MOST_LINES", "read_recipe", "recipe_from_lines"]

_BRITISH = re.compile(
    r"(?i)\b(gas mark|caster sugar|castor sugar|icing sugar|"
    r"strong (?:white )?(?:bread )?"
    r"flour|bicarbonate of soda|sultanas|wholemeal|plain flour|loaf tin|clingfilm|"
    r"cling film|tea towel|demerara)\b"
)


def read_recipe(
    text_or_path: str | os.PathLike[str],
    *,
    language: str | None = None,
    market: str | None = None,
) -> Recipe:
    """Read a recipe as people write it.

    Parameters
    ----------
    text_or_path : str or path
        Pasted text, or the path of a `.txt`, `.md`, `.csv`, `.html` or
        `.json` file; a web page needs a schema.org Recipe for the best
        result. A formula that the lab saved as CSV or JSON is one as well.
    language : str, optional
        ``"en"``, ``"de"`` or ``"fr"``; guessed by default.
    market : str, optional
        What cups, spoons and pints mean: a key of `MARKETS`; by default
        US customary in English unless the words are British, and metric
        elsewhere.

    Returns
    -------
    Recipe
        Every ingredient line with its state; none is dropped.

    Raises
    ------
    ReadError
        If there is nothing that could be a recipe: an empty, binary,
        missing or far too long source; or for an unknown language or market.

    Examples
    --------
    >>> recipe = read_recipe("Bread\\n\\n500 g bread flour\\n340 g water\\n10 g salt")
    >>> recipe.formula.water_pct
    68.0
    """
    _check_choices(language, market)
    text, kind = source_text(text_or_path)
    saved = saved_formula_in(text)
    if saved is not None:
        return _saved_recipe(saved)
    parts = parts_of(text, kind)
    whole = "\n".join([*(i.reading for i in parts.items), *parts.method, *parts.intro])
    spoken = language or (parts.language if parts.language in LANGUAGES else "")
    spoken = spoken or guess_language(whole or parts.prose)
    where = market or _market(whole, spoken)
    lines, remarks = lines_of(parts, spoken, where)
    return _recipe(parts, lines, spoken, where, [*parts.remarks, *remarks])


def _check_choices(language: str | None, market: str | None) -> None:
    if language is not None and language not in LANGUAGES:
        raise ReadError(
            f"the language {language!r} is not read; choose one of "
            f"{', '.join(LANGUAGES)}"
        )
    if market is not None and market not in MARKETS:
        raise ReadError(f"no market {market!r}; choose one of {', '.join(MARKETS)}")


def recipe_from_lines(recipe: Recipe, lines: Sequence[Line]) -> Recipe:
    """The recipe with corrected lines, its formula worked out again."""
    formula, assumptions, remarks = _formula(
        lines, recipe.title, recipe.language, recipe.pan, recipe.oven,
        recipe.bake_minutes, recipe.stated_yield,
    )  # fmt: skip
    kept = tuple(r for r in recipe.remarks if "is stated, but" not in r)
    if formula is not None and recipe.formula is not None:
        formula = _with_words_of(formula, recipe.formula)
    return replace(
        recipe, lines=tuple(lines), formula=formula, assumptions=tuple(assumptions),
        remarks=(*kept, *remarks),
    )  # fmt: skip


def _saved_recipe(formula: Formula) -> Recipe:
    """A saved formula as a recipe in grams, with the pan that it states."""
    recipe = read_recipe(recipe_text(formula))
    if formula.stated_pan and recipe.pan is None:
        with suppress(PanError):
            told = replace(recipe, pan=read_pan(formula.stated_pan))
            recipe = recipe_from_lines(told, recipe.lines)
    if recipe.formula is None:
        return recipe
    return replace(recipe, formula=_with_words_of(recipe.formula, formula))


def _with_words_of(formula: Formula, other: Formula) -> Formula:
    """The formula with what no line tells: the style and the notes of another."""
    return replace(
        formula,
        style=formula.style or other.style,
        notes=formula.notes or other.notes,
    )


def _market(text: str, language: str) -> str:
    if language == "en":
        return "uk" if _BRITISH.search(text) else "us"
    return "metric"


def _recipe(
    parts: Parts, lines: list[Line], language: str, market: str, remarks: list[str]
) -> Recipe:
    texts = [*parts.intro, *parts.method]
    told = [f"{k}: {v}" for k, v in parts.facts]
    pan = _pan([*parts.method, *parts.intro, parts.title, *told, parts.prose])
    oven = oven_c([*parts.method, *told, parts.prose])
    minutes = bake_minutes([*(parts.method or [parts.prose])], parts.facts)
    makes = stated_yield([*texts, parts.prose], parts.facts)
    turned = oven_changes(parts.method or [parts.prose], oven, minutes)
    heat = "" if oven is None else turned.words(oven)
    formula, assumptions, more = _formula(
        lines, parts.title, language, pan, heat, minutes, makes
    )
    if oven is not None:
        more += _unplaced(oven, turned)
    if any(ln.assumed for ln in lines) or language != "en":
        assumptions.append(_market_note(market))
    final = _with_percent_masses(lines)
    return Recipe(
        parts.title, language, tuple(final), pan, oven, minutes, makes, formula,
        tuple(assumptions), (*remarks, *more), "\n".join(parts.method), market,
        heat,
    )  # fmt: skip


def _unplaced(first_c: float, turned: OvenChanges) -> list[str]:
    """What is said where the text turns the oven at a time that it does not tell."""
    if turned.unplaced_c is None:
        return []
    remark = (
        f"the oven starts at {first_c:.0f} °C and is turned to "
        f"{turned.unplaced_c:.0f} °C, but after how many minutes is not understood, "
        "so only the first setting is kept; write 'after 10 minutes reduce to "
        f"{turned.unplaced_c:.0f} °C'"
    )
    return [remark]


def _with_percent_masses(lines: Sequence[Line]) -> list[Line]:
    return by_percentages(lines)[0]


def _market_note(market: str) -> Assumption:
    name, cup = MARKETS[market].name, MARKETS[market].cup_ml
    return Assumption(
        "household measures",
        "cups and spoons",
        f"{name}, cup {cup:.0f} mL",
        "language and words of the recipe",
    )


def _pan(texts: Sequence[str]) -> Pan | None:
    mentions = [m for text in texts if text for m in pan_in_text(text)]
    sized = [m for m in mentions if m.certain]
    return (sized or mentions)[0].pan if mentions else None


def _formula(
    lines: Sequence[Line],
    title: str,
    language: str,
    pan: Pan | None,
    oven: str,
    minutes: tuple[float, float] | None,
    makes: str,
) -> tuple[Formula | None, list[Assumption], list[str]]:
    weighed, assumptions = by_percentages(lines)
    rows = formula_rows(weighed)
    if not rows:
        return None, assumptions, []
    assumptions = [*line_assumptions(weighed), *assumptions]
    formula = Formula(
        rows,
        title=title,
        stated_yield=makes,
        stated_pan=pan.text_spec if pan is not None and pan.has_volume else "",
        oven=oven,
        bake_minutes=minutes,
        assumptions=tuple(assumptions),
        language=language,
    )
    return formula, assumptions, percent_remarks(formula, weighed)
