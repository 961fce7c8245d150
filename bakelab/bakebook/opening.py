"""The connection to a book, one transaction per entry, and errors in words."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError

from bakelab.bakebook.place import Place
from bakelab.errors import BakelabError, BookError, DamagedBookError

__all__ = [
    "damaged",
    "make_engine",
    "newest_backup",
    "plain_errors",
    "reading",
    "writing",
]

_WAIT_S = 30  # how long a writer waits for another one
_UNWRITABLE = (
    "cannot be written to; move it to a folder of your own, or ask for the right "
    "to write there"
)
_FULL = (
    "cannot grow: the disk is full or refuses to write; this entry was not "
    "written, every earlier one is kept; make room and write it again"
)
_BUSY = (
    "was busy with another writer for too long; this entry was not written; "
    "write it again"
)
_SENTENCES = (
    (("readonly", "read-only", "unable to open", "permission denied"), _UNWRITABLE),
    (("disk is full", "disk i/o", "no space"), _FULL),
    (("locked", "busy", "lock timeout", "deadlock"), _BUSY),
)
_PRAGMAS = (
    f"busy_timeout = {_WAIT_S * 1000}",
    "journal_mode = WAL",
    "synchronous = FULL",
    "foreign_keys = ON",
    "trusted_schema = OFF",
)


def make_engine(place: Place) -> Engine:
    """An engine for a place; a file's folder is made if it is missing."""
    if place.path is None:
        return create_engine(place.url, pool_pre_ping=True)
    _make_folder(place.path.parent)
    engine = create_engine(place.url)
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


@contextmanager
def writing(engine: Engine, place: Place) -> Iterator[Connection]:
    """One transaction that writes: all of it is kept, or nothing."""
    with (
        plain_errors(place),
        engine.connect() as db,
        db.execution_options(bakelab_writes=True).begin(),
    ):
        yield db


@contextmanager
def reading(engine: Engine, place: Place) -> Iterator[Connection]:
    """One transaction that reads, all from the same moment."""
    with plain_errors(place), engine.connect() as db:
        if place.path is None:
            db.execution_options(isolation_level="REPEATABLE READ")
        with db.begin():
            yield db


@contextmanager
def plain_errors(place: Place) -> Iterator[None]:
    """Errors of the database as one sentence each."""
    try:
        yield
    except DBAPIError as error:
        raise _in_words(error, place) from error


def newest_backup(place: Place) -> Path | None:
    """The newest backup beside the book, or None."""
    found = place.backups.glob("*.sqlite") if place.backups.is_dir() else ()
    return max(found, key=lambda path: path.stat().st_mtime_ns, default=None)


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BookError(
            f"the folder {folder} cannot be made ({error.strerror}); "
            "choose a folder of your own for the bake book"
        ) from None


def _prepare(connection: Any, _record: object) -> None:
    connection.isolation_level = None  # transactions begin as `_begin` says
    cursor = connection.cursor()
    for pragma in _PRAGMAS:
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _begin(db: Connection) -> None:
    writes = db.get_execution_options().get("bakelab_writes", False)
    db.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _in_words(error: DBAPIError, place: Place) -> BakelabError:
    said = str(error.orig).strip().splitlines()[0] if str(error.orig) else "no reason"
    low = said.lower()
    if "malformed" in low or "not a database" in low or "corrupt" in low:
        return damaged(place, said)
    for signs, sentence in _SENTENCES:
        if any(sign in low for sign in signs):
            return BookError(f"{place.words} {sentence}")
    if place.path is None and (error.connection_invalidated or "connect" in low):
        return BookError(
            f"{place.words} cannot be reached ({said}); look at the address and "
            "whether the server runs; nothing of this entry was written"
        )
    return BookError(f"{place.words} refused this entry ({said}); nothing was written")


def damaged(place: Place, said: str) -> DamagedBookError:
    """The error of a damaged file, with its newest backup."""
    backup = newest_backup(place)
    advice = (
        "there is no backup beside it"
        if backup is None
        else f"the newest backup is {backup}; take it with BakeBook.from_backup"
    )
    advice += "; BakeBook(…, check=False) opens what can still be read"
    return DamagedBookError(f"{place.words} is damaged ({said}); {advice}")
