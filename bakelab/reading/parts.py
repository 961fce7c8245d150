"""A recipe in pieces, whatever form it came in: page, table or text."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from bakelab.ingredients import is_ingredient
from bakelab.reading.line import read_line
from bakelab.reading.sections import MOST_TEXT_LINES, Item, Sections, cut
from bakelab.reading.sources import LONGEST_TEXT
from bakelab.reading.tablelike import TableReader, looks_like_csv
from bakelab.reading.webpage import (
    WebRecipe,
    recipe_in_html,
    recipe_in_json,
    visible_text,
)

__all__ = ["MOST_LINES", "Parts", "parts_of"]

MOST_LINES = 400  # ingredient lines of one recipe that are interpreted
_MEASURES = ("g", "kg", "ml", "l", "dl", "cl", "oz", "lb", "cup", "tbsp", "tsp")
_LEFT = (
    f"only the first {MOST_TEXT_LINES} lines were read and {{}} were left: "
    "give one recipe at a time"
)


@dataclass
class Parts:
    """A recipe in pieces, whatever form it came in."""

    title: str = ""
    language: str = ""
    items: list[Item] = field(default_factory=list)
    method: list[str] = field(default_factory=list)
    intro: list[str] = field(default_factory=list)
    facts: list[tuple[str, str]] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    prose: str = ""


def parts_of(text: str, kind: str) -> Parts:
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


def _web_parts(found: WebRecipe) -> Parts:
    text = "\n".join(["Ingredients", "", *(f"- {t}" for t in found.ingredients)])
    sections = cut(text)
    items = [replace(i, line_no=n) for n, i in enumerate(sections.items, 1)]
    return Parts(found.title, found.language, items, list(found.method), [],
                  list(found.facts))  # fmt: skip


def _table_parts(rows: list[list[str]]) -> Parts:
    reader = TableReader()
    items = []
    for number, cells in enumerate(rows, 1):
        reading = reader.read(cells)
        if reading is not None:
            text = ", ".join(c for c in cells if c)
            stage = reader.stage.casefold() or "dough"
            items.append(Item(number, text, reading, stage))
    return Parts(items=items)


def _text_parts(text: str) -> Parts:
    found: Sections = cut(text)
    remarks = [_LEFT.format(found.left)] if found.left else []
    if _has_list(found.items) and not _is_wrapped(found.items):
        return Parts(
            found.title,
            "",
            found.items,
            found.method,
            found.intro,
            found.facts,
            remarks,
        )
    method = [" ".join(part.split()) for part in re.split(r"\n\s*\n", text)]
    return Parts(found.title, "", found.items, method, [], found.facts, remarks, text)


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
