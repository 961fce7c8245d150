"""Sheets and the answer key as PDF, set by typst without a network."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from bakelab.charts.written import xml_clean
from bakelab.lessons.classroom.pictures import paper_svg, picture_words
from bakelab.lessons.classroom.sheets import ClassSet, StudentSheet
from bakelab.lessons.item import Item
from bakelab.lessons.making import families
from bakelab.lessons.prose import blocks
from bakelab.lessons.words import decimal
from bakelab.sheets.pdf import each_text, pdf_of
from bakelab.sheets.words import typeset

__all__ = ["key_pdf", "sheet_pdf"]

_HERE = Path(__file__).parent
_COLUMNS = 6  # answers beside each other on a page of the key


def sheet_pdf(sheet: StudentSheet, *, title: str, paper: str = "a4") -> bytes:
    """One student's sheet; no answer is in it.

    Raises
    ------
    BakelabError
        If there is no such paper.
    """
    student = sheet.student
    data = {
        "title": title,
        "name": student.name,
        "code": student.code,
        "items": [_question(item) for item in sheet.items],
    }
    return _compiled("sheet", data, paper)


def key_pdf(made: ClassSet, *, paper: str = "a4") -> bytes:
    """All answers in a table, then every worked solution by student."""
    first = made.sheets[0].items
    numbers = list(range(len(first)))
    names = {f.key: f.title for f in families()}
    parts = [numbers[n : n + _COLUMNS] for n in range(0, len(numbers), _COLUMNS)]
    data = {
        "title": f"{made.title}: answer key",
        "about": f"{len(made.sheets)} sheets, seed {made.seed}. The same seed and list "
        "of names give the same sheets. Keep this away from the class.",
        "families": [names.get(item.family, item.family) for item in first],
        "tables": [_answers(made, part) for part in parts],
        "sheets": [_solutions(sheet, names) for sheet in made.sheets],
    }
    return _compiled("key", data, paper)


def _compiled(name: str, data: Mapping[str, Any], paper: str) -> bytes:
    return pdf_of(
        _HERE / f"{name}.typ", each_text(data, _clean), paper=paper, name=name
    )


def _question(item: Item) -> dict[str, Any]:
    return {
        "question": blocks(item.question),
        "heading": list(item.heading),
        "given": [list(row) for row in item.given],
        "picture": paper_svg(item.picture) if item.picture else "",
        "alt": picture_words(item.picture) if item.picture else "",
        "unit": item.unit,
        "choices": [{"letter": item.letter(c), "text": c} for c in item.choices],
        "caution": item.caution,
        "source": item.source,
    }


def _answers(made: ClassSet, part: list[int]) -> dict[str, Any]:
    return {
        "columns": [str(n + 1) for n in part],
        "rows": [
            [s.student.code, s.student.name, *(_short(s.items[n]) for n in part)]
            for s in made.sheets
        ],
    }


def _short(item: Item) -> str:
    return (
        item.letter(item.answer) if isinstance(item.answer, str) else item.answer_text
    )


def _solutions(sheet: StudentSheet, names: Mapping[str, str]) -> dict[str, Any]:
    return {
        "code": sheet.student.code,
        "name": sheet.student.name,
        "items": [
            {
                "answer": item.answer_text,
                "family": names.get(item.family, item.family),
                "tolerance": ""
                if item.choices
                else f"{decimal(item.tolerance)} {item.unit}".strip(),
                "steps": [blocks(step) for step in item.solution],
            }
            for item in sheet.items
        ],
    }


def _clean(text: str) -> str:
    """A text without what is no text, and no break before a unit."""
    return typeset(xml_clean(text))
