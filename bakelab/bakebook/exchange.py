"""A whole book as a folder that people and programs can read, and back, exactly.

The folder holds ``book.json`` with every row (this is what is read back), a CSV of
each table for spreadsheets, the photos under their hashes, and ``SHA256SUMS``.
Two exports of the same book are alike byte for byte. CSV cells that a spreadsheet
would run are made harmless, see :mod:`bakelab.bakebook.exchange_csv`.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sqlalchemy import Table, select

from bakelab.bakebook.exchange_csv import csv_text
from bakelab.bakebook.exchange_merge import Conflict, merge
from bakelab.bakebook.exchange_read import (
    BOOK_FILE,
    FORMAT,
    READ_ME,
    SUMS,
    changed_files,
    read_export,
    sha256_of,
    take_photos,
)
from bakelab.bakebook.exchange_rows import TABLES, Row, to_plain
from bakelab.bakebook.migrations import HEAD
from bakelab.bakebook.photos import photo_path
from bakelab.errors import BookError

if TYPE_CHECKING:
    from bakelab.bakebook.book import BakeBook

__all__ = ["Exported", "TakenIn", "export_book", "take_in_book"]

_ORDER = ("started_at", "kept_at", "planned_at", "added_at", "at")
_ABOUT = """This folder is a whole bake book of bakelab.

book.json    every entry; this file is read when the book is taken in again
*.csv        the same by tables, for spreadsheets (UTF-8, commas, moments in UTC).
             A text that a spreadsheet would run as a formula has an apostrophe
             before its sign. Changes in these files are not taken in.
bakes.csv    has the title, the tags and what follows from each bake as well
photos/      the pictures, by the SHA-256 of each file
SHA256SUMS   look whether anything was changed: sha256sum -c SHA256SUMS
"""


@dataclass(frozen=True)
class Exported:
    """Where a book was put, how many rows of each table, and what is missing."""

    folder: Path
    rows: Mapping[str, int]
    photos: int
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class TakenIn:
    """What came from another book.

    `new` and `newer` count rows by table; `conflicts` are values on which the books
    differ, and none of them is lost.
    """

    new: Mapping[str, int]
    newer: Mapping[str, int]
    same: int
    photos: int
    conflicts: tuple[Conflict, ...]
    remarks: tuple[str, ...]

    @property
    def text(self) -> str:
        """In words."""
        counts = [f"{count} new in {name}" for name, count in self.new.items()]
        counts += [f"{count} newer in {name}" for name, count in self.newer.items()]
        said = ", ".join(counts) or "nothing new"
        return "; ".join(
            [f"{said}, {self.same} the same", *(c.text for c in self.conflicts)]
        )


def export_book(book: BakeBook, folder: str | Path) -> Exported:
    """Put the whole book into a folder.

    Parameters
    ----------
    book : BakeBook
    folder : str or Path
        One that is not there yet, is empty, or holds an earlier export, which is
        replaced.

    Raises
    ------
    BookError
        If the folder holds something else, or cannot be written to.
    """
    target = Path(folder).expanduser().absolute()
    _check_target(target)
    bakes = book.bakes(retired=True)
    rows = _all_rows(book)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        made = Path(tempfile.mkdtemp(prefix=".new-", dir=target.parent))
        try:
            missing, photos = _fill(made, book, rows, bakes)
            made.chmod(0o755)
            _swap(made, target)
        finally:
            shutil.rmtree(made, ignore_errors=True)
    except OSError as error:
        raise BookError(
            f"the book cannot be written to {target} ({error.strerror or error}); "
            "choose a folder of your own, or make room"
        ) from None
    counts = {name: len(found) for name, found in rows.items()}
    return Exported(target, counts, photos, tuple(missing))


def take_in_book(book: BakeBook, folder: str | Path) -> TakenIn:
    """Take in an exported book: everything, or nothing.

    Parameters
    ----------
    book : BakeBook
        It may have entries already; see :mod:`bakelab.bakebook.exchange_merge`.
    folder : str or Path
        As `export_book` wrote it.

    Raises
    ------
    BookError
        If it is no export, one of a newer bakelab, or damaged; says where.
    """
    source = Path(folder).expanduser().absolute()
    theirs = read_export(source)
    remarks = changed_files(source)
    photos, missing = take_photos(source, book.photos_folder, theirs.get("photos", []))
    with book._writing() as db:
        merged = merge(db, theirs, book.who)
    return TakenIn(
        merged.new, merged.newer, merged.same, photos, tuple(merged.conflicts),
        (*remarks, *missing),
    )  # fmt: skip


def _check_target(target: Path) -> None:
    if not target.exists():
        return
    if not target.is_dir():
        raise BookError(f"{target} is a file; give the name of a folder")
    if any(target.iterdir()) and not (target / BOOK_FILE).is_file():
        raise BookError(
            f"{target} holds other things; give a new folder, or one with an export"
        )


def _all_rows(book: BakeBook) -> dict[str, list[Row]]:
    """Every table as plain rows, in an order that does not depend on the place."""
    found: dict[str, list[Row]] = {}
    with book._reading() as db:
        for table in TABLES:
            rows = db.execute(select(table)).mappings()
            found[table.name] = _ordered(
                table, [to_plain(table, dict(r)) for r in rows]
            )
    return found


def _ordered(table: Table, plain: list[Row]) -> list[Row]:
    names = [name for name in _ORDER if name in table.c][:1]
    names += [column.name for column in table.primary_key]
    return sorted(plain, key=lambda row: [row.get(name, "") for name in names])


def _fill(
    made: Path, book: BakeBook, rows: Mapping[str, list[Row]], bakes: Any
) -> tuple[list[str], int]:
    (made / READ_ME).write_text(_ABOUT, encoding="utf-8")
    (made / BOOK_FILE).write_text(_json(rows), encoding="utf-8")
    for table in TABLES:
        if table.name != "bakes":
            names = [c.name for c in table.columns]
            cells = ([row.get(name) for name in names] for row in rows[table.name])
            _write_csv(made / f"{table.name}.csv", names, cells)
    frame = bakes.sort_values(["started_at", "id"], kind="stable").astype(object)
    frame = frame.where(frame.notna(), None)
    frame["started_at"] = [moment.isoformat() for moment in frame["started_at"]]
    _write_csv(made / "bakes.csv", list(frame.columns), frame.itertuples(index=False))
    missing, photos = _copy_photos(made, book.photos_folder, rows["photos"])
    _write_sums(made)
    return missing, photos


def _json(rows: Mapping[str, list[Row]]) -> str:
    """One row a line, so that two exports can be compared by lines."""
    parts = []
    for name, found in rows.items():
        lines = [json.dumps(row, ensure_ascii=False, sort_keys=True) for row in found]
        body = ",\n".join(lines)
        parts.append(f'"{name}": [\n{body}\n]' if lines else f'"{name}": []')
    head = f'{{"format": "{FORMAT}", "tables_of": "{HEAD}", "tables": {{\n'
    return head + ",\n".join(parts) + "\n}}\n"


def _write_csv(path: Path, names: list[str], rows: Any) -> None:
    text = csv_text(names, rows)
    path.write_bytes(b"\xef\xbb\xbf" + text.encode("utf-8"))  # spreadsheets need it


def _copy_photos(made: Path, photos: Path, rows: list[Row]) -> tuple[list[str], int]:
    folder = made / "photos"
    folder.mkdir()
    missing = []
    for sha256 in sorted({row["sha256"] for row in rows}):
        path = photo_path(photos, sha256)
        if path.is_file():
            shutil.copyfile(path, photo_path(folder, sha256))
        else:
            missing.append(f"the photo {sha256} is missing from {photos}")
    return missing, len(list(folder.iterdir()))


def _write_sums(made: Path) -> None:
    files = sorted(p for p in made.rglob("*") if p.is_file())
    lines = [f"{sha256_of(p)}  {p.relative_to(made).as_posix()}\n" for p in files]
    (made / SUMS).write_text("".join(lines), encoding="utf-8")


def _swap(made: Path, target: Path) -> None:
    """The new folder in the place of the old one, which goes last."""
    if not target.exists():
        made.rename(target)
        return
    old = Path(tempfile.mkdtemp(prefix=".old-", dir=target.parent))
    target.rename(old / "was")
    made.rename(target)
    shutil.rmtree(old)
