"""An exported book read from its folder, every row and photo checked."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from bakelab.bakebook.exchange_rows import TABLES, Row, from_plain
from bakelab.bakebook.migrations import HEAD
from bakelab.bakebook.photos import MOST_KEPT_BYTES, photo_path, take_photo
from bakelab.errors import BookError

__all__ = [
    "BOOK_FILE",
    "FORMAT",
    "READ_ME",
    "SUMS",
    "changed_files",
    "read_export",
    "sha256_of",
    "take_photos",
]

FORMAT = "bakelab bake book"
SUMS, BOOK_FILE, READ_ME = "SHA256SUMS", "book.json", "READ-ME.txt"
MOST_BYTES = 2_000_000_000


def read_export(source: Path) -> dict[str, list[Row]]:
    """Rows of every table, checked; a `BookError` says what is wrong with which."""
    path = source / BOOK_FILE
    try:
        if path.stat().st_size > MOST_BYTES:
            raise BookError(f"{path} is larger than any bake book")
        data = json.loads(path.read_text(encoding="utf-8"))
    except OSError:
        raise BookError(
            f"{source} holds no {BOOK_FILE}; give the folder of an exported bake book"
        ) from None
    except (ValueError, RecursionError):
        raise BookError(
            f"{path} is damaged and cannot be read; export the book again"
        ) from None
    return _checked(path, data)


def changed_files(source: Path) -> tuple[str, ...]:
    """Files that are not what was exported, as far as anybody can tell."""
    try:
        lines = (source / SUMS).read_text(encoding="utf-8").splitlines()
    except (OSError, ValueError):
        return (f"{SUMS} is missing, so nobody can tell what was changed",)
    said = []
    allowed = {BOOK_FILE, READ_ME, *(f"{table.name}.csv" for table in TABLES)}
    for line in lines:
        sha256, _, name = line.partition("  ")
        path = source / name
        if name in allowed and path.is_file() and sha256_of(path) != sha256:
            note = "" if name == BOOK_FILE else "; only book.json is taken in"
            said.append(f"{name} was changed since it was exported{note}")
    return tuple(said)


def take_photos(source: Path, photos: Path, rows: list[Row]) -> tuple[int, list[str]]:
    """Pictures whose content is what their name says; nothing else is copied."""
    taken, missing = 0, []
    for sha256 in sorted({row["sha256"] for row in rows}):
        path = photo_path(source / "photos", sha256)
        if photo_path(photos, sha256).is_file():
            continue
        if not path.is_file():
            missing.append(f"the photo {sha256} is missing from {source / 'photos'}")
            continue
        if path.stat().st_size > MOST_KEPT_BYTES:
            raise BookError(f"the photo {path} is too large to be of a bake book")
        take_photo(photos, path.read_bytes(), sha256)
        taken += 1
    return taken, missing


def sha256_of(path: Path) -> str:
    """The SHA-256 of a file in hexadecimal."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _checked(path: Path, data: Any) -> dict[str, list[Row]]:
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise BookError(f"{path} is no exported bake book; give the folder of one")
    tables = data.get("tables")
    known = {table.name: table for table in TABLES}
    if not isinstance(tables, dict) or set(tables) - set(known):
        raise BookError(
            f"{path} was written by a newer bakelab (its tables are "
            f"{data.get('tables_of')!r}, this one knows {HEAD!r}); update bakelab"
        )
    found: dict[str, list[Row]] = {}
    for name, rows in tables.items():
        if not isinstance(rows, list):
            raise BookError(f"{name} in {path} is no list of rows; export again")
        found[name] = [_row(path, name, n, row) for n, row in enumerate(rows, 1)]
    return found


def _row(path: Path, name: str, number: int, plain: Any) -> Row:
    table = next(t for t in TABLES if t.name == name)
    try:
        return from_plain(table, plain)
    except BookError as error:
        raise BookError(
            f"row {number} of {name} in {path} {error}; nothing was taken in"
        ) from None
