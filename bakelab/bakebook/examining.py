"""Looking for damage: the file, the links, the contents, the photos."""

import hashlib
import json
from collections.abc import Callable, Iterator
from pathlib import Path

from sqlalchemy import Connection, Engine, Table, func, or_, select, text

from bakelab.bakebook.entries import key_of
from bakelab.bakebook.opening import newest_backup, reading
from bakelab.bakebook.place import Place
from bakelab.bakebook.tables import (
    BAKES,
    ENTRIES,
    FORMULAS,
    HISTORY,
    PHOTOS,
    PLANS,
    TASTINGS,
)
from bakelab.errors import BakelabError, DamagedBookError
from bakelab.formula import formula_from_json

__all__ = ["examine"]

_MOST_SAID = 100
_JSON: tuple[tuple[Table, tuple[str, ...]], ...] = (
    (TASTINGS, ("plan", "key", "answers", "verdict")),
    (PLANS, ("content",)),
    (BAKES, ("computed",)),
)


def examine(engine: Engine, place: Place) -> tuple[str, ...]:
    """What is wrong with a book, a sentence each; empty if nothing is.

    The database's own check and its links, every formula against its key,
    everything kept as JSON, versions against the history, every photo
    against its hash.
    """
    looks: list[Callable[[Connection], Iterator[str]]] = [
        _formulas, _json, _versions, lambda db: _photos(db, place.photos),
    ]  # fmt: skip
    if place.path is not None:
        looks.insert(0, _file)
    found = [said for look in looks for said in _carefully(engine, place, look)]
    if found and place.path is not None:
        backup = newest_backup(place)
        found = found[:_MOST_SAID]
        found.append(
            "there is no backup beside the book"
            if backup is None
            else f"the newest backup is {backup}; take it with BakeBook.from_backup"
        )
    return tuple(found)


def _carefully(
    engine: Engine, place: Place, look: Callable[[Connection], Iterator[str]]
) -> list[str]:
    """What one look says; a file too damaged to be read is a finding as well."""
    found: list[str] = []
    try:
        with reading(engine, place) as db:
            found += look(db)
    except DamagedBookError as error:
        found.append(str(error))
    return found


def _file(db: Connection) -> Iterator[str]:
    for (said,) in db.execute(text("PRAGMA integrity_check(20)")):
        if said != "ok":
            yield f"the file is damaged: {said}"
    for table, row, to, _ in db.execute(text("PRAGMA foreign_key_check")):
        yield f"row {row} of {table} belongs to something in {to} that is missing"


def _formulas(db: Connection) -> Iterator[str]:
    for key, content in db.execute(select(FORMULAS.c.key, FORMULAS.c.content)):
        try:
            good = formula_from_json(content).key == key
        except BakelabError:
            good = False
        if not good:
            yield f"formula {key} is no longer what was kept"


def _json(db: Connection) -> Iterator[str]:
    for table, names in _JSON:
        query = select(table.c.id, *(table.c[name] for name in names))
        for entry_id, *values in db.execute(query):
            for name, value in zip(names, values, strict=True):
                if not _is_json(value):
                    yield f"{name} of {table.name} {entry_id} cannot be read"


def _is_json(value: str | None) -> bool:
    try:
        return value is None or json.loads(value) is not ...
    except ValueError:
        return False


def _versions(db: Connection) -> Iterator[str]:
    newest = (
        select(HISTORY.c.subject, func.max(HISTORY.c.version).label("version"))
        .group_by(HISTORY.c.subject)
        .subquery()
    )
    for table in ENTRIES:
        key = key_of(table)
        query = (
            select(key)
            .outerjoin(newest, newest.c.subject == key)
            .where(
                or_(
                    table.c.version < 1,
                    table.c.version < func.coalesce(newest.c.version, 1),
                )
            )
        )
        for (entry_id,) in db.execute(query):
            yield f"{entry_id} in {table.name} is older than its history"


def _photos(db: Connection, folder: Path) -> Iterator[str]:
    from bakelab.bakebook.photos import photo_path

    query = select(PHOTOS.c.sha256, PHOTOS.c.name).distinct()
    for sha256, name in db.execute(query.order_by(PHOTOS.c.sha256)):
        path = photo_path(folder, sha256)
        if not path.is_file():
            yield f"the photo {name or sha256} is missing from {folder}"
        elif hashlib.sha256(path.read_bytes()).hexdigest() != sha256:
            yield f"the photo {name or sha256} in {folder} was changed or damaged"
