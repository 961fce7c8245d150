"""A class with trying names, and its notebooks filled in."""

import csv
import json
from pathlib import Path
from typing import Any

from bakelab.lessons.classroom import (
    mark_class,
)
from bakelab.lessons.classroom.marks import ClassMarks
from bakelab.lessons.classroom.sheets import load_class

TRICKS = (
    "Mia Berg",
    "Jonas Østergård",
    '=HYPERLINK("http://example.invalid";"x")',
    "../../etc/passwd",
    "<script>alert(1)</script>",
    "Mia Berg",
    "CON",
    "#set page(width: 1cm) $x$ `*_",
    "\u202eevil\u0000 name",
    "李小龍",
    "+491234",
    "A" * 400,
)


def names_file(folder: Path, names: tuple[str, ...] = TRICKS) -> Path:
    path = folder / "names.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([["name"], *([name] for name in names)])
    return path


def sheet_of(made: Path, number: int) -> tuple[Path, dict[str, Any]]:
    path = sorted((made / "for-students").glob(f"{number:02d}-*.ipynb"))[0]
    return path, json.loads(path.read_text(encoding="utf-8"))


def filled(made: Path, number: int, answers: dict[int, str]) -> dict[str, Any]:
    _, notebook = sheet_of(made, number)
    for cell in notebook["cells"]:
        item = cell["metadata"].get("bakelab", {}).get("item")
        if item in answers:
            cell["source"] = ["".join(cell["source"]) + answers[item]]
    return notebook


def right_answers(made: Path, number: int) -> dict[int, str]:
    sheet = load_class(made / "for-the-teacher" / "class.json").sheets[number - 1]
    return {n: item.answer_text for n, item in enumerate(sheet.items, 1)}


def save(folder: Path, name: str, notebook: Any) -> Path:
    path = folder / name
    text = notebook if isinstance(notebook, str) else json.dumps(notebook)
    path.write_text(text, encoding="utf-8")
    return path


def marks_of(made: Path, folder: Path) -> ClassMarks:
    return mark_class(folder, class_file=made)
