"""A whole recipe: from any of its written forms to lines and a formula."""

import os
import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from bakelab.formula import Assumption, Formula
from bakelab.ingredients import is_ingredient
from bakelab.pans import Pan, pan_in_text
from bakelab.reading.assemble import (
    by_percentages,
    formula_rows,
    line_assumptions,
    percent_remarks,
)
from bakelab.reading.built import counted_once
from bakelab.reading.facts import bake_minutes, oven_c, stated_yield
from bakelab.reading.headings import heading, is_total
from bakelab.reading.language import guess_language
from bakelab.reading.line import read_line
from bakelab.reading.model import Line, Recipe
from bakelab.reading.nested import sums_left_out
from bakelab.reading.prose import lines_from_prose, missing_from_list
from bakelab.reading.sections import MOST_TEXT_LINES, Item, Sections, cut
from bakelab.reading.sources import LONGEST_TEXT, source_text
from bakelab.reading.tablelike import TableReader, looks_like_csv
from bakelab.reading.vocabulary import LANGUAGES
from bakelab.reading.webpage import (
    WebRecipe,
    recipe_in_html,
    recipe_in_json,
    visible_text,
)
from bakelab.reading.weights import MARKETS

__all__ = ["MOST_LINES", "read_recipe", "recipe_from_lines"]

MOST_LINES = 400  # ingredient lines of one recipe that are interpreted
_BRITISH = re.compile(
    r"(?i)\b(gas mark|caster sugar|castor sugar|icing sugar|"
    r"strong (?:white )?(?:bread )?"
    r"flour|bicarbonate of soda|sultanas|wholemeal|plain flour|loaf tin|clingfilm|"
    r"cling film|tea towel|demerara)\b"
)


_MEASURES = ("g", "kg", "ml", "l", "dl", "cl", "oz", "lb", "cup", "tbsp", "tsp")
_LEFT = (
    f"only the first {MOST_TEXT_LINES} lines were read and {{}} were left: "
    "give one recipe at a time"
)
_DRAINED = re.compile(
    r"(?i)\b(?:drain|strain|pour off|discard|remove (?:the |any )?(?:leftover|excess|"
    r"remaining)|abgießen|abtropfen|égoutter|égouttez)\b[^.\n]{0,60}"
)


@dataclass
class _Parts:
    """A recipe in pieces, whatever form it came in."""

    title: str = ""
    language: str = ""
    items: list[Item] = field(default_factory=list)
    method: list[str] = field(default_factory=list)
    intro: list[str] = field(default_factory=list)
    facts: list[tuple[str, str]] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    prose: str = ""


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
        result.
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
        missing or far too long source.

    Examples
    --------
    >>> recipe = read_recipe("Bread\\n\\n500 g bread flour\\n340 g water\\n10 g salt")
    >>> recipe.formula.water_pct
    68.0
    """
    text, kind = source_text(text_or_path)
    parts = _parts(text, kind)
    whole = "\n".join([*(i.reading for i in parts.items), *parts.method, *parts.intro])
    spoken = language or (parts.language if parts.language in LANGUAGES else "")
    spoken = spoken or guess_language(whole or parts.prose)
    where = market or _market(whole, spoken)
    lines, remarks = _lines(parts, spoken, where)
    return _recipe(parts, lines, spoken, where, [*parts.remarks, *remarks])


def recipe_from_lines(recipe: Recipe, lines: Sequence[Line]) -> Recipe:
    """The recipe with corrected lines, its formula worked out again."""
    formula, assumptions, remarks = _formula(
        lines, recipe.title, recipe.language, recipe.pan, recipe.oven_c,
        recipe.bake_minutes, recipe.stated_yield,
    )  # fmt: skip
    kept = tuple(r for r in recipe.remarks if "is stated, but" not in r)
    return replace(
        recipe, lines=tuple(lines), formula=formula, assumptions=tuple(assumptions),
        remarks=(*kept, *remarks),
    )  # fmt: skip


def _parts(text: str, kind: str) -> _Parts:
    if kind == "json":
        found = recipe_in_json(text)
        return _web_parts(found) if found else _text_parts(text[:LONGEST_TEXT])
    if kind == "html":
        found = recipe_in_html(text)
        return (
            _web_parts(found)
            if found
            else _text_parts(visible_text(text)[:LONGEST_TEXT])
        )
    rows = looks_like_csv(text)
    if rows is not None and len(rows) > 1:
        return _table_parts(rows)
    return _text_parts(text)


def _web_parts(found: WebRecipe) -> _Parts:
    text = "\n".join(["Ingredients", "", *(f"- {t}" for t in found.ingredients)])
    sections = cut(text)
    items = [replace(i, line_no=n) for n, i in enumerate(sections.items, 1)]
    return _Parts(found.title, found.language, items, list(found.method), [],
                  list(found.facts))  # fmt: skip


def _table_parts(rows: list[list[str]]) -> _Parts:
    reader = TableReader()
    items = []
    for number, cells in enumerate(rows, 1):
        reading = reader.read(cells)
        if reading is not None:
            text = ", ".join(c for c in cells if c)
            stage = reader.stage.casefold() or "dough"
            items.append(Item(number, text, reading, stage))
    return _Parts(items=items)


def _text_parts(text: str) -> _Parts:
    found: Sections = cut(text)
    remarks = [_LEFT.format(found.left)] if found.left else []
    if _has_list(found.items) and not _is_wrapped(found.items):
        return _Parts(
            found.title,
            "",
            found.items,
            found.method,
            found.intro,
            found.facts,
            remarks,
        )
    method = [" ".join(part.split()) for part in re.split(r"\n\s*\n", text)]
    return _Parts(found.title, "", found.items, method, [], found.facts, remarks, text)


def _has_list(items: Sequence[Item]) -> bool:
    """Whether at least two lines name a known ingredient with an amount."""
    known = measured = 0
    for item in items[:MOST_LINES]:
        line = read_line(item.reading)
        known += line.low is not None and is_ingredient(line.ingredient)
        measured += line.unit in _MEASURES and len(item.text.split()) < 12
        if known > 1 or measured > 2:
            return True
    return False


def _is_wrapped(items: Sequence[Item]) -> bool:
    """Whether the lines are those of a paragraph with breaks inside."""
    long = [i for i in items if len(i.text) > 50 and i.text == i.reading.strip()]
    broken = [i for i in long if i.text.endswith(",") or i.text[:1].islower()]
    return 2 * len(long) > len(items) and 2 * len(broken) >= len(long)


def _market(text: str, language: str) -> str:
    if language == "en":
        return "uk" if _BRITISH.search(text) else "us"
    return "metric"


def _lines(parts: _Parts, language: str, market: str) -> tuple[list[Line], list[str]]:
    remarks: list[str] = []
    chosen, left = _one_list(parts.items, remarks)
    lines = [
        _line(i, language, market, chosen=i in chosen) for i in parts.items[:MOST_LINES]
    ]
    lines += [_beyond(i) for i in parts.items[MOST_LINES:]]
    if parts.prose:
        lines = lines_from_prose(parts.prose, language, market) or lines
    else:
        lines = sums_left_out([i.reading for i in parts.items], lines)
    if left:
        remarks.append(left)
    lines = counted_once(_drained(lines, parts.method))
    lines += missing_from_list(parts.method, lines, language, market)
    return lines, remarks


def _drained(lines: list[Line], method: Sequence[str]) -> list[Line]:
    """Soaking water that the method pours away is not in the dough."""
    text = "\n".join(method)
    poured = _DRAINED.search(text)
    if poured is None:
        return lines
    remark = f"poured away: {poured.group()}"
    return [
        replace(ln, state="not in dough", remark=remark) if _soaks(ln) else ln
        for ln in lines
    ]


def _soaks(line: Line) -> bool:
    opened = heading(line.stage)
    return line.role == "water" and opened is not None and opened.value == "soaker"


def _line(item: Item, language: str, market: str, *, chosen: bool) -> Line:
    line = read_line(
        item.reading, language=language, market=market, line_no=item.line_no,
        stage=item.stage, in_dough=item.in_dough,
    )  # fmt: skip
    line = replace(line, text=item.text)
    if is_total(line.label) or is_total(line.text.split(":")[0]):
        return replace(line, state="not in dough", remark="a sum of the other lines")
    if not chosen:
        remark = "the same list in other units or another batch size: not added"
        return replace(line, state="not in dough", remark=remark)
    return line


def _beyond(item: Item) -> Line:
    remark = f"a recipe here has up to {MOST_LINES} ingredient lines: give one recipe"
    return Line(item.line_no, item.text, "unread", stage=item.stage, remark=remark)


def _one_list(items: Sequence[Item], remarks: list[str]) -> tuple[list[Item], str]:
    """Of two lists in two unit systems or two batch sizes, take one."""
    systems = list(dict.fromkeys(i.system for i in items if i.system))
    chosen = list(items)
    said = ""
    if len(systems) > 1:
        taken = "metric" if "metric" in systems else systems[0]
        chosen = [i for i in chosen if i.system in ("", taken)]
        named = " and ".join(systems)
        said = f"the recipe gives its list in {named} units; {taken} was taken"
    groups = list(dict.fromkeys(i.group for i in chosen if i.group))
    if len(groups) > 1:
        chosen = [i for i in chosen if i.group in ("", groups[0])]
        remarks.append(f"the recipe gives several batches; {groups[0]!r} was taken")
    return chosen, said


def _recipe(
    parts: _Parts, lines: list[Line], language: str, market: str, remarks: list[str]
) -> Recipe:
    texts = [*parts.intro, *parts.method]
    told = [f"{k}: {v}" for k, v in parts.facts]
    pan = _pan([*parts.method, *parts.intro, parts.title, *told, parts.prose])
    oven = oven_c([*parts.method, *told, parts.prose])
    minutes = bake_minutes([*(parts.method or [parts.prose])], parts.facts)
    makes = stated_yield([*texts, parts.prose], parts.facts)
    formula, assumptions, more = _formula(
        lines, parts.title, language, pan, oven, minutes, makes
    )
    if any(ln.assumed for ln in lines) or language != "en":
        assumptions.append(_market_note(market))
    final = _with_percent_masses(lines)
    return Recipe(
        parts.title, language, tuple(final), pan, oven, minutes, makes, formula,
        tuple(assumptions), (*remarks, *more), "\n".join(parts.method), market,
    )  # fmt: skip


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
    oven: float | None,
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
        oven=f"{oven:.0f} °C" if oven is not None else "",
        bake_minutes=minutes,
        assumptions=tuple(assumptions),
        language=language,
    )
    return formula, assumptions, percent_remarks(formula, weighed)
