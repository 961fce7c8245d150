"""The class: names out of a file, each with a number, a code and a safe file name."""

import csv
import hashlib
import io
import re
import unicodedata
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from bakelab.charts.written import xml_clean
from bakelab.errors import ReadError

__all__ = ["Student", "read_students", "spreadsheet_text"]

_LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
_CODE_LENGTH = 4
_MOST = 1000
_LARGEST_BYTES = 2_000_000
_LONGEST = 120
_WHOLE = ("name", "student", "pupil", "full name", "schüler", "schülerin", "élève")
_FIRST = ("first name", "firstname", "given name", "vorname", "prénom")
_LAST = ("last name", "lastname", "surname", "family name", "nachname", "nom")
_HEADS = (*_WHOLE, *_FIRST, *_LAST)
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "|", "%")


@dataclass(frozen=True)
class Student:
    """One name of the class.

    `code` stands on the sheet in place of the name; it follows from the
    name and the seed, so a longer list leaves the other sheets as they are.
    """

    number: int
    name: str
    code: str

    @property
    def file_stem(self) -> str:
        """A file name that holds on every system, whatever the name holds."""
        plain = unicodedata.normalize("NFKD", self.name)
        letters = plain.encode("ascii", "ignore").decode().casefold()
        slug = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:32].strip("-")
        return f"{self.number:02d}-{slug or 'student'}-{self.code.casefold()}"


def read_students(path: str | Path, *, seed: int) -> tuple[Student, ...]:
    """The students of a CSV file, in its order; no name is dropped.

    The file has one name a line, or columns with a head such as ``name``,
    or ``first name`` and ``last name``; parted by commas, semicolons or
    tabs. Two of the same name are two students.

    Raises
    ------
    ReadError
        If the file is missing, has no name, or more than 1000.
    """
    rows = _rows(_text(Path(path)))
    names = [name for name in _names(rows) if name]
    if not names:
        raise ReadError(
            f"no name in {Path(path).name}; write one on each line, under the heading "
            "'name'"
        )
    if len(names) > _MOST:
        raise ReadError(
            f"{len(names)} names in {Path(path).name}; a class has at most {_MOST}; "
            "split the list"
        )
    return tuple(_numbered(names, seed))


def spreadsheet_text(text: str) -> str:
    """Text that a spreadsheet shows and never reckons with.

    A cell that starts like a formula gets an apostrophe in front, unless it
    is a plain number. Other controls become spaces.
    """
    plain = re.sub(r"[\x00-\x1f\x7f]", " ", xml_clean(text)) if text else ""
    risky = text.startswith(_FORMULA_STARTS) or plain.lstrip().startswith(
        _FORMULA_STARTS
    )
    number = re.fullmatch(r"[-+]?\d+([.,/]\d+)?", plain.strip())
    return f"'{plain}" if risky and not number else plain


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > _LARGEST_BYTES:
            raise ReadError(f"{path.name} is over 2 MB; a list of names is smaller")
        raw = path.read_bytes()
    except OSError as error:
        raise ReadError(
            f"cannot read {path}: {error.strerror}; give a CSV file with names"
        ) from None
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", "replace")
    if raw.startswith(b"PK\x03\x04"):
        raise ReadError(f"{path.name} is a workbook; save it as CSV and give that")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", "replace")


def _rows(text: str) -> list[list[str]]:
    lines = text.replace("\0", "").splitlines()
    head = next((line for line in lines if line.strip()), "")
    parted = max(",;\t", key=head.count)
    if not head.count(parted) and not any(h == head.strip().casefold() for h in _HEADS):
        parted = max(",;\t", key=text.count)
    try:
        rows = list(csv.reader(io.StringIO("\n".join(lines)), delimiter=parted))
    except csv.Error:
        rows = [[line] for line in lines]
    return [
        [_tidy(cell) for cell in row] for row in rows if any(c.strip() for c in row)
    ]


def _names(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    if not rows:
        return
    heads = [cell.casefold() for cell in rows[0]]
    if not any(head in _HEADS for head in heads):
        yield from (" ".join(cell for cell in row if cell) for row in rows)
        return
    both = [_place(heads, _FIRST), _place(heads, _LAST)]
    whole = _place(heads, _WHOLE)
    wanted = [p for p in both if p is not None] if None not in both else []
    wanted = wanted or [p for p in (whole, *both) if p is not None][:1]
    for row in rows[1:]:
        parts = [row[place] for place in wanted if place < len(row)]
        yield " ".join(p for p in parts if p) or next((c for c in row if c), "")


def _place(heads: Sequence[str], words: Sequence[str]) -> int | None:
    return next((n for n, head in enumerate(heads) if head in words), None)


def _tidy(cell: str) -> str:
    """One line, no controls or marks that turn the writing round, not too long."""
    kept = "".join(
        " " if unicodedata.category(c) in ("Cc", "Zl", "Zp") else c
        for c in unicodedata.normalize("NFC", xml_clean(cell))
        if unicodedata.category(c) != "Cf"
    )
    return " ".join(kept.split())[:_LONGEST]


def _numbered(names: Sequence[str], seed: int) -> Iterator[Student]:
    seen: Counter[str] = Counter()
    taken: set[str] = set()
    for number, name in enumerate(names, 1):
        code = _code(seed, name, seen[name], taken)
        seen[name] += 1
        taken.add(code)
        yield Student(number, name, code)


def _code(seed: int, name: str, again: int, taken: set[str]) -> str:
    for attempt in range(_MOST):
        text = f"{seed}\x1f{name}\x1f{again}\x1f{attempt}"
        number = int.from_bytes(hashlib.sha256(text.encode()).digest()[:8], "big")
        code = ""
        for _ in range(_CODE_LENGTH):
            number, place = divmod(number, len(_LETTERS))
            code += _LETTERS[place]
        if code not in taken:
            return code
    raise ReadError("this list is too long for codes of four letters; part it in two")
