"""Backups beside the book: checked, once a day on opening and before an upgrade."""

import sqlite3
import time
import uuid
from contextlib import closing
from datetime import date, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import (
    URL,
    DateTime,
    Engine,
    MetaData,
    Table,
    create_engine,
    event,
    insert,
    select,
)

from bakelab.bakebook.opening import damaged, newest_backup, plain_errors
from bakelab.bakebook.place import Place
from bakelab.bakebook.tables import Moment
from bakelab.errors import BookError

__all__ = ["back_up", "back_up_daily", "before", "take_backup"]

_DAYS_KEPT = 30
_A_DAY_S = 24 * 60 * 60
_TO_THE_MOMENT = "%Y-%m-%d-%H%M%S-%f"


def back_up(engine: Engine, place: Place, label: str = "") -> Path:
    """A checked copy of the whole book in its backups folder.

    A shared book is copied into a file that opens as a book of its own.
    Photos are not copied: their files never change.

    Raises
    ------
    BookError
        If the copy cannot be written.
    DamagedBookError
        If the copy does not pass the check; it is not kept.
    """
    named = label or f"{datetime.now():{_TO_THE_MOMENT}}"
    target = place.backups / f"{place.name}-{named}.sqlite"
    unfinished = place.backups / f"{place.name}-{uuid.uuid4().hex}.unfinished"
    try:
        place.backups.mkdir(parents=True, exist_ok=True)
        _copy(engine, place, unfinished)
        _check(unfinished, place)
        unfinished.replace(target)
    except (OSError, sqlite3.OperationalError) as error:
        raise BookError(
            f"no backup could be written to {place.backups} ({error}); "
            "make room there, or move the book to a folder of your own"
        ) from None
    finally:
        unfinished.unlink(missing_ok=True)
    return target


def before(revision: str) -> str:
    """The label of a backup made before an upgrade to a revision."""
    return f"before-{revision}-{datetime.now():{_TO_THE_MOMENT}}"


def back_up_daily(engine: Engine, place: Place) -> str:
    """Today's backup if there is none yet; a sentence if it could not be made."""
    today = f"{date.today():%Y-%m-%d}"
    if (place.backups / f"{place.name}-{today}.sqlite").exists():
        return ""
    try:
        back_up(engine, place, today)
    except BookError as error:
        if type(error) is not BookError:
            raise
        return str(error)
    _forget_old_days(place)
    return ""


def take_backup(place: Place, backup: Path | None = None) -> Path | None:
    """Put a backup in the place of a book; the old file is kept, renamed.

    Returns
    -------
    Path or None
        Where the old file is now.
    """
    chosen = backup or newest_backup(place)
    if place.path is None or chosen is None:
        raise BookError(f"{place.words} has no backup beside it to be taken")
    if not chosen.is_file():
        raise BookError(
            f"there is no backup {chosen}; give the path of one in {place.backups}"
        )
    _check(chosen, place)
    aside = _aside(place.path)
    with (
        closing(sqlite3.connect(chosen)) as old,
        closing(sqlite3.connect(place.path)) as new,
    ):
        old.backup(new)
    return aside


def _aside(path: Path) -> Path | None:
    moment = f"{datetime.now():{_TO_THE_MOMENT}}"
    moved = None
    for suffix in ("", "-wal", "-shm"):
        part = path.with_name(path.name + suffix)
        if part.exists():
            new = part.with_name(f"{path.stem}-damaged-{moment}{path.suffix}{suffix}")
            part.rename(new)
            moved = moved or new
    return moved


def _copy(engine: Engine, place: Place, target: Path) -> None:
    if place.path is None:
        _copy_from_server(engine, place, target)
        return
    with (
        plain_errors(place),
        closing(sqlite3.connect(place.path)) as old,
        closing(sqlite3.connect(target)) as new,
    ):
        old.backup(new)


def _copy_from_server(engine: Engine, place: Place, target: Path) -> None:
    tables = MetaData()
    event.listen(tables, "column_reflect", _plain_column)
    with plain_errors(place), engine.connect() as db:
        tables.reflect(db)
        new = create_engine(URL.create("sqlite", database=str(target)))
        try:
            with new.begin() as copy:
                tables.create_all(copy)
                for table in tables.sorted_tables:
                    rows = [dict(row) for row in db.execute(select(table)).mappings()]
                    if rows:
                        copy.execute(insert(table), rows)
        finally:
            new.dispose()


def _plain_column(_inspector: Any, _table: Table, column: Any) -> None:
    """A column of a server as a file can hold it."""
    kind = column["type"].as_generic()
    column["type"] = Moment() if isinstance(kind, DateTime) else kind
    empty = str(column.get("default") or "").startswith("''")
    column["default"] = "''" if empty else None


def _check(path: Path, place: Place) -> None:
    with closing(sqlite3.connect(path)) as db:
        try:
            said = db.execute("PRAGMA integrity_check").fetchone()[0]
        except sqlite3.DatabaseError as error:
            said = str(error)
    if said != "ok":
        raise damaged(place, str(said).splitlines()[0])


def _forget_old_days(place: Place) -> None:
    days = sorted(place.backups.glob(f"{place.name}-????-??-??.sqlite"))
    killed = [
        path
        for path in place.backups.glob(f"{place.name}-*.unfinished")
        if _written_s(path) < time.time() - _A_DAY_S
    ]
    for path in (*days[:-_DAYS_KEPT], *killed):
        path.unlink(missing_ok=True)


def _written_s(path: Path) -> float:
    """When a file was written; "not yet" where another notebook just took it away."""
    try:
        return path.stat().st_mtime
    except FileNotFoundError:
        return float("inf")
