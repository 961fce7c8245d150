"""A student's sheet as a notebook: questions, and a place to write each answer."""

import base64
import json
from typing import Any

from bakelab.lessons.classroom.pictures import picture_png, picture_words
from bakelab.lessons.classroom.sheets import StudentSheet
from bakelab.lessons.item import Item
from bakelab.lessons.prose import given_markdown, markdown_text

__all__ = ["ANSWER_WORD", "answer_label", "sheet_notebook"]

ANSWER_WORD = "Answer"
_HOW = (
    "Click on a grey box, write your answer after the colon, and save. Write a number "
    "with or without its unit (`2.5`, `2,5 g` and `5/2` are all read), or the letter "
    "of your choice. You may add cells for your working; nothing in this notebook has "
    "to be run."
)


def sheet_notebook(sheet: StudentSheet, *, title: str) -> str:
    """The text of an `.ipynb` file (notebook format 4.5); it holds no answer."""
    student = sheet.student
    head = f"# {title}: sheet {student.code}\n\n{markdown_text(student.name)}\n\n{_HOW}"
    cells = [_cell("markdown", "head", head)]
    for number, item in enumerate(sheet.items, 1):
        cells += [_question(number, item), _answer(number, item)]
    whole = {
        "cells": cells,
        "metadata": {
            "bakelab": {"sheet": student.code},
            "kernelspec": {
                "display_name": "Python 3 (ipykernel)",
                "language": "python",
                "name": "python3",
            },
            "language_info": {"name": "python"},
        },
        "nbformat": 4,
        "nbformat_minor": 5,
    }
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def answer_label(number: int, item: Item) -> str:
    """What stands before the place of an answer: ``Answer 2 (g):``."""
    if item.choices:
        letters = ", ".join(item.letter(c) for c in item.choices)
        return f"{ANSWER_WORD} {number} (one of {letters}):"
    return f"{ANSWER_WORD} {number} ({item.unit or 'a number'}):"


def _question(number: int, item: Item) -> dict[str, Any]:
    parts = [f"## {number}\n\n{item.question}", given_markdown(item)]
    cell = _cell("markdown", f"question-{number}", "")
    if item.picture:
        png = base64.b64encode(picture_png(item.picture)).decode("ascii")
        cell["attachments"] = {"picture.png": {"image/png": png}}
        words = markdown_text(picture_words(item.picture))
        parts.append(f"![{words}](attachment:picture.png)")
    parts += ["\n".join(f"- **{item.letter(c)}**: {c}" for c in item.choices)]
    parts += [f"**Take care:** {item.caution}" if item.caution else ""]
    parts += [f"Numbers: {item.source}" if item.source else ""]
    cell["source"] = "\n\n".join(p for p in parts if p).splitlines(keepends=True)
    return cell


def _answer(number: int, item: Item) -> dict[str, Any]:
    cell = _cell("raw", f"answer-{number}", f"{answer_label(number, item)} ")
    cell["metadata"] = {"bakelab": {"item": number}}
    return cell


def _cell(kind: str, name: str, text: str) -> dict[str, Any]:
    return {
        "cell_type": kind,
        "id": f"bakelab-{name}",
        "metadata": {},
        "source": text.splitlines(keepends=True),
    }
