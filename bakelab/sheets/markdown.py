"""A kitchen sheet as Markdown text whose words can never become markup."""

import re
from collections.abc import Iterable, Iterator, Sequence

from bakelab.charts.written import xml_clean
from bakelab.sheets.model import Sheet, SheetLine, SheetStage

__all__ = ["markdown_text", "to_markdown"]

_ENTITIES = {"&": "&amp;", "<": "&lt;", ">": "&gt;"}
_SPECIAL = re.compile(r"[&<>\\`*_{}\[\]#|~$^!@]|:(?=//)")
_AT_START = re.compile(r"^([-+=]|\d+(?=[.)](?: |$)))")
_SPACE = re.compile(r"\s+")


def markdown_text(words: str) -> str:
    """Words for a line of Markdown or a cell of a table, as plain text.

    Line breaks become spaces; `&`, `<` and `>` become entities, and marks
    of Markdown (tables, math and links included) get a backslash.

    References
    ----------
    CommonMark 0.31.2, sections 2.4 (backslash escapes) and 2.5 (entities);
    GitHub Flavored Markdown 0.29, section 4.10 (tables).

    Examples
    --------
    >>> markdown_text("a|b <i>")
    'a\\\\|b &lt;i&gt;'
    """
    line = _SPACE.sub(" ", xml_clean(words)).strip()
    line = _SPECIAL.sub(lambda m: _ENTITIES.get(m[0], f"\\{m[0]}"), line)
    return _AT_START.sub(_escaped_start, line).replace("www.", "www\\.")


def to_markdown(sheet: Sheet) -> str:
    """The sheet as Markdown: weights in a table, then all the rest in lists."""
    return "\n".join(_lines(sheet)) + "\n"


def _lines(sheet: Sheet) -> Iterator[str]:
    yield f"# {markdown_text(sheet.title)}"
    if sheet.fitted_to:
        yield from ("", markdown_text(sheet.fitted_to))
    numbers = ", ".join(f"{n.name} {n.value} {n.unit}" for n in sheet.numbers)
    yield from ("", f"**{markdown_text(numbers)}**", "")
    yield from _table(sheet.stages, sheet.dough)
    parts: Sequence[tuple[str, Iterable[str]]] = (
        ("Pan", sheet.pans),
        ("Oven", sheet.oven),
        ("How the weights came about", sheet.working),
        ("To know", sheet.remarks),
        ("Assumed, so check it", sheet.assumptions),
        ("As written", sheet.as_written),
        ("Take care", sheet.cautions),
    )
    for name, items in parts:
        yield from _part(name, list(items))
    yield from ("", f"*{markdown_text(sheet.made)}*")


def _table(stages: Iterable[SheetStage], dough: SheetLine) -> Iterator[str]:
    yield "| Stage | Ingredient | Weigh (g) | % of flour | |"
    yield "|---|---|---:|---:|---|"
    for stage in stages:
        for line in stage.lines:
            yield _row(stage.name, line)
    yield _row("", dough)


def _row(stage: str, line: SheetLine) -> str:
    cells = (stage, line.label, line.weigh, line.pct, line.note)
    return "| " + " | ".join(map(markdown_text, cells)) + " |"


def _part(name: str, items: Sequence[str]) -> Iterator[str]:
    if not items:
        return
    yield from ("", f"## {name}", "")
    mark = "1." if name.startswith("How") else "-"
    for item in items:
        yield f"{mark} {markdown_text(item)}"


def _escaped_start(found: re.Match[str]) -> str:
    return f"{found[1]}\\" if found[1].isdigit() else f"\\{found[1]}"
