"""The folder of a class: sheets for students, key and list for the teacher."""

import csv
import io
from collections.abc import Callable, Sequence
from pathlib import Path

from bakelab.errors import BakelabError, ReadError
from bakelab.lessons.classroom.paper import key_pdf, sheet_pdf
from bakelab.lessons.classroom.roll import spreadsheet_text
from bakelab.lessons.classroom.sheet_notebook import sheet_notebook
from bakelab.lessons.classroom.sheets import ClassSet, save_class
from bakelab.lessons.making import families
from bakelab.lessons.prose import blocks
from bakelab.lessons.words import decimal

__all__ = ["CLASS_FILE", "FOR_STUDENTS", "FOR_TEACHER", "RETURNED", "csv_text",
           "key_csv", "write_class"]  # fmt: skip

FOR_STUDENTS = "for-students"
FOR_TEACHER = "for-the-teacher"
RETURNED = "returned"
CLASS_FILE = "class.json"
_KEY_HEADS = ("sheet", "student", "exercise", "family", "question", "answer",
              "right within", "solution")  # fmt: skip


def write_class(
    made: ClassSet,
    folder: str | Path,
    *,
    paper: str = "a4",
    step: Callable[[], None] = lambda: None,
) -> tuple[Path, ...]:
    """Write every file of a class; `step` is called after each sheet.

    Returns
    -------
    tuple of Path
        Every file made.

    Raises
    ------
    BakelabError
        If the folder holds something already, or cannot be written to.
    """
    place = Path(folder).expanduser()
    try:
        if place.exists() and (not place.is_dir() or any(place.iterdir())):
            raise BakelabError(
                f"{place} is not an empty folder; choose a new one, so that nothing "
                "is overwritten"
            )
        for name in (FOR_STUDENTS, FOR_TEACHER, RETURNED):
            (place / name).mkdir(parents=True, exist_ok=True)
        return tuple(_written(made, place, paper, step))
    except OSError as error:
        raise ReadError(
            f"cannot write to {place}: {error.strerror}; choose another folder"
        ) from None


def key_csv(made: ClassSet) -> str:
    """Every answer of every student, a row each; safe in a spreadsheet."""
    names = {f.key: f.title for f in families()}
    rows = [
        [
            sheet.student.code,
            sheet.student.name,
            str(number),
            names.get(item.family, item.family),
            _unmarked(item.question),
            item.answer_text,
            "" if item.choices else f"{decimal(item.tolerance)} {item.unit}".strip(),
            " ".join(item.solution),
        ]
        for sheet in made.sheets
        for number, item in enumerate(sheet.items, 1)
    ]
    return csv_text(_KEY_HEADS, rows)


def _unmarked(markdown: str) -> str:
    """Markdown as bare words: a spreadsheet shows no bold type, only its stars."""
    runs = [run["text"] for block in blocks(markdown) for run in block["runs"]]
    return "".join(runs)


def csv_text(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """CSV (RFC 4180) with a byte order mark, so that spreadsheets read UTF-8."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows([spreadsheet_text(cell) for cell in row] for row in rows)
    return "\ufeff" + out.getvalue()


def _written(
    made: ClassSet, place: Path, paper: str, step: Callable[[], None]
) -> list[Path]:
    files = []
    for sheet in made.sheets:
        stem = place / FOR_STUDENTS / sheet.student.file_stem
        pdf, notebook = stem.with_suffix(".pdf"), stem.with_suffix(".ipynb")
        pdf.write_bytes(sheet_pdf(sheet, title=made.title, paper=paper))
        notebook.write_text(sheet_notebook(sheet, title=made.title), encoding="utf-8")
        files += [pdf, notebook]
        step()
    teacher = place / FOR_TEACHER
    (teacher / "answer-key.pdf").write_bytes(key_pdf(made, paper=paper))
    (teacher / "answer-key.csv").write_text(key_csv(made), encoding="utf-8", newline="")
    save_class(made, teacher / CLASS_FILE)
    return [*files, *sorted(teacher.iterdir())]
