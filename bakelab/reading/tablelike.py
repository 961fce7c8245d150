"""Rows of cells (Markdown, tabs, CSV) turned into ingredient lines."""

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass

from bakelab.reading.headings import heading
from bakelab.units import unit_words

__all__ = ["TableReader", "cells_of", "looks_like_csv", "part_of"]

_RULE = re.compile(r"^[\s|:\-+=]+$")
_NAMED_PART = re.compile(
    r"(?:ingredients?|zutaten|ingrédients?)\s+((?:for|für|pour)\s.+)", re.IGNORECASE
)
_NUMBER = re.compile(r"^[~≈]?\s*[\d½⅓⅔¼¾⅛⅜⅝⅞][\d\s.,/½⅓⅔¼¾⅛⅜⅝⅞–-]*$")
_OR = re.compile(r"(?i)\b(or|oder|ou)\b")
_TOTAL = re.compile(
    r"(?i)(?:total|overall|whole|gesamt|summe|ensemble)(?:\s+(?:formula|dough|teig))?"
    r"\s*(?:[(\[].*[)\]])?$"
)
_NAMES = (
    "ingredient", "ingredients", "item", "name", "zutat", "zutaten", "ingrédient",
    "ingrédients", "what", "ingrediente", "ingredientes", "ingredienti",
)  # fmt: skip
_STAGES = (
    "stage",
    "part",
    "phase",
    "section",
    "step",
    "stufe",
    "teil",
    "étape",
    "etape",
)
_GRAMS = (
    "weight",
    "mass",
    "gewicht",
    "poids",
    "amount (g)",
    "menge (g)",
    "masse",
    "gr",
)
_PERCENT = ("%", "percent", "percentage", "baker's %", "bakers %", "baker's percentage",
            "bakers percentage", "bäckerprozent", "prozent", "pourcentage", "b%",
            "bp", "bakers pct", "pct", "baker %", "baker’s %", "ratio")  # fmt: skip


def cells_of(line: str) -> list[str] | None:
    """Cells of a Markdown or tab-separated row; None for any other line."""
    text = line.strip()
    if text.startswith("|") or (text.count("|") >= 2 and not text.startswith("-")):
        return [c.strip() for c in text.strip("|").split("|")]
    if "\t" in line.strip("\t "):
        return [c.strip() for c in line.strip("\n").split("\t")]
    return None


def looks_like_csv(text: str) -> list[list[str]] | None:
    """All rows of a CSV table with a heading of names and amounts, or None."""
    lines = [ln for ln in text.splitlines() if ln.strip() and not ln.startswith("#")]
    if not lines:
        return None
    for sign in (",", ";", "\t"):
        head = [c.strip().casefold() for c in lines[0].split(sign)]
        if len(head) > 1 and any(_is_name(c) for c in head):
            return list(csv.reader(io.StringIO("\n".join(lines)), delimiter=sign))
    return None


@dataclass
class TableReader:
    """Remembers the heading of a table, to give bare numbers their unit."""

    heads: Sequence[str] = ()
    stage: str = ""

    def read(self, cells: Sequence[str]) -> str | None:
        """The row as a line of text; None for a heading or a ruled line."""
        if _RULE.match("|".join(cells)) or not any(cells):
            return None
        folded = [c.casefold().strip(" *_") for c in cells]
        if any(_is_name(c) for c in folded) or (
            len(cells) > 1 and all(_unit(c) for c in folded[1:] if c)
            and any(folded[1:]) and not any(ch.isnumeric() for ch in "".join(cells))
        ):  # fmt: skip
            self.heads = folded
            return None
        return self._line(cells)

    def _line(self, cells: Sequence[str]) -> str:
        heads = list(self.heads) + [""] * (len(cells) - len(self.heads))
        self.stage = next(
            (c for c, h in zip(cells, heads, strict=False) if h in _STAGES and c), ""
        )
        name = self._name_column(cells)
        passed = _passed_over(heads, cells)
        amounts = []
        for i, cell in enumerate(cells):
            if (
                i != name
                and i not in passed
                and heads[i] not in _STAGES
                and cell not in ("", "-", "–", "—")
            ):
                amounts.append(_with_unit(cell, heads[i]))
        weights = sorted(amounts, key=lambda a: a.endswith("%"))
        joined = " / ".join(weights)
        if _OR.search(joined):  # `2 packets or 1 oz fresh | Instant yeast`
            return f"{cells[name]}: {joined}"
        return f"{joined} {cells[name]}" if joined else cells[name]

    def _name_column(self, cells: Sequence[str]) -> int:
        for i, head in enumerate(self.heads[: len(cells)]):
            if _is_name(head):
                return i
        letters = [sum(ch.isalpha() for ch in c) for c in cells]
        return letters.index(max(letters))


def _passed_over(heads: Sequence[str], cells: Sequence[str]) -> set[int]:
    """Columns of stages beside a column of their totals: the total counts."""
    stages = {i for i, h in enumerate(heads) if _names_stage(h)}
    totals = [i for i, h in enumerate(heads) if _TOTAL.match(h.strip(" .:*_"))]
    if len(stages) < 2 or not totals or not cells[totals[0]].strip(" -–—"):
        return set()
    return stages


def _names_stage(head: str) -> bool:
    bare = re.sub(r"[(\[].*?[)\]]", "", head).strip(" .:*_")
    found = heading(bare) if bare else None
    return found is not None and found.kind == "stage" and not _TOTAL.match(bare)


def _with_unit(cell: str, head: str) -> str:
    if not _NUMBER.match(cell):
        return cell
    unit = _unit(head)
    return f"{cell} {unit}" if unit else cell


def _unit(head: str) -> str:
    """The unit that a column's heading names."""
    inner = re.findall(r"[(\[]([^)\]]+)[)\]]", head)
    for part in (*inner, head, *re.split(r"[\s,/_]+", head)):
        word = part.strip(" .:*_")
        if word in _PERCENT or word.endswith("%"):
            return "%"
        for language in ("en", "de", "fr"):
            key = unit_words(language).get(word)
            if key:
                return key
    return "g" if head in _GRAMS else ""


def _is_name(head: str) -> bool:
    bare = head.strip(" .:*_")
    return bare in _NAMES or _NAMED_PART.match(bare) is not None


def part_of(cells: Sequence[str]) -> str:
    """The part of the recipe that a head row or a row of one cell names."""
    filled = [c.strip(" *_:") for c in cells if c.strip(" *_:")]
    if len(filled) == 1 and not any(ch.isnumeric() for ch in filled[0]):
        return filled[0]
    for cell in filled:
        named = _NAMED_PART.match(cell.casefold())
        if named is not None:
            return named.group(1)
    return ""
