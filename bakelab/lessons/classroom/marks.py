"""Marks of a class: every returned file, every answer, every misconception."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from bakelab.errors import ReadError
from bakelab.lessons.classroom.folder import CLASS_FILE, FOR_STUDENTS, FOR_TEACHER
from bakelab.lessons.classroom.returned import Returned, code_in_name, read_returned
from bakelab.lessons.classroom.sheets import ClassSet, StudentSheet, load_class
from bakelab.lessons.item import Item
from bakelab.lessons.marking import Marked, mark

__all__ = [
    "NOT_WRITTEN",
    "ClassMarks",
    "MarkedAnswer",
    "MarkedSheet",
    "find_class",
    "mark_class",
    "returned_files",
]

NOT_WRITTEN = "not written"
_ENDINGS = (".ipynb",)
_OTHERS = {
    ".pdf": "a PDF", ".docx": "a text document", ".odt": "a text document",
    ".zip": "an archive", ".txt": "a text file", ".png": "a picture",
    ".jpg": "a picture", ".jpeg": "a picture", ".heic": "a picture",
    ".html": "a web page", ".py": "a program", ".json": "a JSON file",
    ".md": "a text file", ".rtf": "a text document", ".pages": "a text document",
}  # fmt: skip


@dataclass(frozen=True)
class MarkedAnswer:
    """One answer: what was asked, what was written, and its mark."""

    number: int
    item: Item
    written: str
    state: str
    marked: Marked | None


@dataclass(frozen=True)
class MarkedSheet:
    """One student with one file, or with none.

    `state` is "marked", "partly filled", "empty", "not readable", "nothing
    returned", or "not of this class"; `counted` is False for a second file of
    the same sheet.
    """

    sheet: StudentSheet | None
    path: Path | None
    state: str
    answers: tuple[MarkedAnswer, ...]
    remarks: tuple[str, ...]
    counted: bool = True

    @property
    def right(self) -> int:
        """How many answers are right."""
        return sum(a.state == "right" for a in self.answers)


@dataclass(frozen=True)
class ClassMarks:
    """Everything that came back, and what did not."""

    made: ClassSet
    sheets: tuple[MarkedSheet, ...]

    @property
    def misconceptions(self) -> Counter[str]:
        """How often each misconception was seen, in the files that count."""
        return Counter(
            a.marked.misconception
            for sheet in self.sheets
            if sheet.counted
            for a in sheet.answers
            if a.marked is not None and a.marked.misconception
        )


def find_class(folder: Path, given: str | Path | None = None) -> Path:
    """The list that `bakelab class` made: given, in the folder, or beside it.

    Raises
    ------
    ReadError
        If there is none.
    """
    if given is not None:
        places = [Path(given).expanduser()]
        places.append(places[0] / FOR_TEACHER / CLASS_FILE)
    else:
        here = folder.resolve()
        roots = (here, here.parent, here.parent.parent)
        places = [root / FOR_TEACHER / CLASS_FILE for root in roots]
        places.insert(0, here / CLASS_FILE)
    found = next((p for p in places if p.is_file()), None)
    if found is None:
        raise ReadError(
            f"no class list for {folder}; give --class FOLDER, the folder that bakelab "
            "class made (the same seed and names make it again)"
        )
    return found


def returned_files(folder: Path, class_file: Path) -> list[Path]:
    """Files to look at, sorted; not the blank sheets, the key, or hidden ones.

    Raises
    ------
    ReadError
        If there is no such folder.
    """
    if not folder.is_dir():
        raise ReadError(f"no folder {folder}; give the folder of returned notebooks")
    root = class_file.resolve().parent
    ours = {root, root.parent / FOR_STUDENTS} - {folder.resolve()}
    found = []
    for path in sorted(folder.rglob("*")):
        parts = path.relative_to(folder).parts
        inside = any(up in ours for up in path.resolve().parents)
        hidden = any(p.startswith((".", "~")) or p == "__MACOSX" for p in parts)
        result = any(p == "marks" or p.startswith("marks-") for p in parts[:-1])
        blank = path.suffix == ".pdf" and path.parent.name == FOR_STUDENTS
        if path.is_file() and not (inside or hidden or result or blank):
            found.append(path)
    return found


def mark_class(
    folder: str | Path,
    *,
    class_file: str | Path | None = None,
    step: Callable[[], None] = lambda: None,
) -> ClassMarks:
    """Mark every returned notebook of a folder; none is executed, none is lost.

    Raises
    ------
    ReadError
        If the folder or the class list is missing.
    """
    place = Path(folder).expanduser()
    if not place.is_dir():
        raise ReadError(f"no folder {place}; give the folder of returned notebooks")
    found = find_class(place, class_file)
    made = load_class(found)
    codes = frozenset(s.student.code for s in made.sheets)
    sheets = []
    for path in returned_files(place, found):
        sheets.append(_marked_file(path, made, codes))
        step()
    return ClassMarks(made, tuple(_in_order(made, sheets)))


def _marked_file(path: Path, made: ClassSet, codes: frozenset[str]) -> MarkedSheet:
    kind = path.suffix.casefold()
    if kind not in _ENDINGS:
        what = _OTHERS.get(kind, "another kind of file")
        words = f"The file is {what}, not a notebook; mark it by hand."
        code = code_in_name(path, codes)
        return MarkedSheet(made.by_code(code), path, "not readable", (), (words,))
    return _marked(read_returned(path, codes), made)


def _marked(one: Returned, made: ClassSet) -> MarkedSheet:
    sheet = made.by_code(one.code)
    if not one.readable:
        return MarkedSheet(sheet, one.path, "not readable", (), one.remarks)
    if sheet is None:
        words = "No sheet of this class is named in it; match it by hand."
        return MarkedSheet(
            None, one.path, "not of this class", (), (*one.remarks, words)
        )
    answers = tuple(
        _answer(number, item, one.answers.get(number, ""))
        for number, item in enumerate(sheet.items, 1)
    )
    remarks = (*one.remarks, *_lost(one, sheet), *_gaps(one, sheet))
    return MarkedSheet(sheet, one.path, _state(answers), answers, remarks)


def _answer(number: int, item: Item, written: str) -> MarkedAnswer:
    if not written:
        return MarkedAnswer(number, item, "", NOT_WRITTEN, None)
    found = mark(item, written)
    return MarkedAnswer(number, item, written, found.state, found)


def _state(answers: Sequence[MarkedAnswer]) -> str:
    written = sum(a.state != NOT_WRITTEN for a in answers)
    if not written:
        return "empty"
    return "marked" if written == len(answers) else "partly filled"


def _lost(one: Returned, sheet: StudentSheet) -> list[str]:
    extra = [n for n in one.answers if not 1 <= n <= len(sheet.items)]
    if not extra:
        return []
    words = f"It answers exercise {_numbers(extra)}, which this sheet does not have"
    return [f"{words}; look at it by hand."]


def _gaps(one: Returned, sheet: StudentSheet) -> list[str]:
    gone = [n for n in range(1, len(sheet.items) + 1) if n not in one.answers]
    if not gone:
        return []
    return [f"The place of answer {_numbers(gone)} is gone; it counts as not written."]


def _numbers(numbers: Iterable[int]) -> str:
    return ", ".join(str(n) for n in sorted(numbers))


def _in_order(made: ClassSet, found: Sequence[MarkedSheet]) -> list[MarkedSheet]:
    """Every student in the order of the class, then what belongs to nobody."""
    rows: list[MarkedSheet] = []
    for sheet in made.sheets:
        mine = [f for f in found if f.sheet is sheet]
        rows += _told_apart(mine) if mine else [_missing(sheet)]
    return rows + [f for f in found if f.sheet is None]


def _missing(sheet: StudentSheet) -> MarkedSheet:
    return MarkedSheet(sheet, None, "nothing returned", (), ())


def _told_apart(mine: Sequence[MarkedSheet]) -> list[MarkedSheet]:
    """Of several files for one sheet the one with most answers counts; all are told."""
    if len(mine) == 1:
        return list(mine)
    best = max(mine, key=lambda f: sum(a.state != NOT_WRITTEN for a in f.answers))
    names = ", ".join(f.path.name for f in mine if f.path is not None)
    words = (
        f"{len(mine)} files came back for this sheet ({names}); the one with the most "
        "answers counts, the first of equals: this one"
    )
    return [
        replace(
            one,
            remarks=(*one.remarks, f"{words} {'does' if one is best else 'does not'}."),
            counted=one is best,
        )
        for one in mine
    ]
