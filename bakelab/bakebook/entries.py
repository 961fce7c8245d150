"""Any entry by its id: found, corrected with its old values kept, retired."""

import json
import uuid
from collections.abc import Mapping
from datetime import UTC, date, datetime, time
from typing import Any

import pandas as pd
from sqlalchemy import (
    Column,
    Connection,
    Insert,
    RowMapping,
    Table,
    insert,
    select,
    update,
)

from bakelab.bakebook.tables import BAKES, ENTRIES, FORMULAS, HISTORY, HOUSE_THINGS
from bakelab.errors import BookError, ConflictError, UnknownEntryError

__all__ = [
    "as_json",
    "as_moment",
    "change",
    "find",
    "insert_new",
    "key_of",
    "new_id",
    "now",
    "past",
    "remember",
    "retire",
    "touch",
]

_BOUNDS = (datetime(1, 1, 3, tzinfo=UTC), datetime(9999, 12, 29, tzinfo=UTC))


def new_id() -> str:
    """An id that is unique in the world."""
    return str(uuid.uuid4())


def now() -> datetime:
    """This moment in UTC."""
    return datetime.now(UTC)


def as_moment(value: date | str | None, name: str) -> datetime:
    """A moment in UTC; text is ISO 8601, without a zone it is local time.

    A bare date is its midnight; None is now.

    Raises
    ------
    BookError
        If it is no moment.
    """
    if value is None:
        return now()
    try:
        moment = datetime.fromisoformat(value) if isinstance(value, str) else value
        if isinstance(moment, pd.Timestamp):
            moment = moment.to_pydatetime(warn=False)
        elif not isinstance(moment, datetime):
            moment = datetime.combine(moment, time())
        moment = moment.astimezone(UTC)
        if not _BOUNDS[0] <= moment <= _BOUNDS[1]:
            raise ValueError
    except (ValueError, OverflowError, AttributeError, TypeError, OSError):
        raise BookError(
            f"{name} is {value!r}; give a date and time such as '2025-03-01 14:30'"
        ) from None
    return moment


def key_of(table: Table) -> Column[Any]:
    """The column of a table's ids."""
    return table.c["key" if table.name == "formulas" else "id"]


def find(
    db: Connection, entry_id: str, *, lock: bool = False
) -> tuple[Table, RowMapping]:
    """The table and the row of an id.

    Raises
    ------
    UnknownEntryError
        If there is none.
    """
    if isinstance(entry_id, str) and "\0" not in entry_id:
        for table in ENTRIES:
            query = select(table).where(key_of(table) == entry_id)
            row = db.execute(query.with_for_update() if lock else query)
            found = row.mappings().one_or_none()
            if found is not None:
                return table, found
    raise UnknownEntryError(
        f"the bake book has no entry {entry_id!r}; see book.bakes() for what it has"
    )


def change(
    db: Connection,
    entry_id: str,
    values: Mapping[str, Any],
    *,
    version: int | None,
    who: str,
) -> int:
    """Write values over those of an entry; what they were goes to the history.

    Raises
    ------
    ConflictError
        If the entry is no longer the version that the writer saw.
    """
    table, row = find(db, entry_id, lock=True)
    if version is not None and version != row["version"]:
        raise _conflict(db, entry_id, row, version)
    changed = {k: v for k, v in values.items() if v != row[k]}
    if not changed:
        return int(row["version"])
    risen = int(row["version"]) + 1
    db.execute(
        update(table).where(key_of(table) == entry_id).values(**changed, version=risen)
    )
    touch(db, table, dict(row))
    pairs = {k: (row[k], v) for k, v in changed.items()}
    remember(db, entry_id, pairs, version=risen, who=who)
    return risen


def insert_new(db: Connection, table: Table) -> Insert:
    """An insert that leaves alone what another writer put there first."""
    if db.dialect.name == "sqlite":
        from sqlalchemy.dialects import sqlite

        return sqlite.insert(table).on_conflict_do_nothing()
    from sqlalchemy.dialects import postgresql

    return postgresql.insert(table).on_conflict_do_nothing()


def touch(db: Connection, table: Table, row: Mapping[str, Any]) -> None:
    """Forget what was computed from an entry; it is computed again when asked."""
    forget = update(BAKES).values(computed=None, computed_by=None)
    if table is BAKES:
        db.execute(forget.where(BAKES.c.id == row["id"]))
    elif "bake_id" in table.c:
        db.execute(forget.where(BAKES.c.id == row["bake_id"]))
    elif table is FORMULAS:
        db.execute(forget.where(BAKES.c.formula_key == row["key"]))
    elif table is HOUSE_THINGS and row["kind"] == "price":
        db.execute(forget.where(BAKES.c.computed_by.is_not(None)))


def remember(
    db: Connection,
    subject: str,
    pairs: Mapping[str, tuple[Any, Any]],
    *,
    version: int,
    who: str,
) -> None:
    """Old and new values of an entry into the history."""
    moment = now()
    rows = [
        {
            "id": new_id(),
            "subject": subject,
            "field": name,
            "old": as_json(old),
            "new": as_json(new),
            "at": moment,
            "version": version,
            "who": who,
        }
        for name, (old, new) in pairs.items()
    ]
    db.execute(insert(HISTORY), rows)


def retire(db: Connection, entry_id: str, reason: str | None, *, who: str) -> None:
    """Take an entry out of the lists (a reason), or bring it back (None)."""
    _, row = find(db, entry_id, lock=True)
    if (row["retired_at"] is None) == (reason is None):
        return
    values = {
        "retired_at": None if reason is None else now(),
        "retired_why": reason or "",
    }
    change(db, entry_id, values, version=None, who=who)


def past(db: Connection, entry_id: str) -> pd.DataFrame:
    """What an entry was before each correction, the oldest first."""
    find(db, entry_id)
    query = (
        select(HISTORY)
        .where(HISTORY.c.subject == entry_id)
        .order_by(HISTORY.c.at, HISTORY.c.version, HISTORY.c.field)
    )
    names = ["field", "old", "new", "at", "version", "who"]
    records = [
        {**row, "old": _from_json(row["old"]), "new": _from_json(row["new"])}
        for row in db.execute(query).mappings()
    ]
    return pd.DataFrame(records, columns=names, dtype=object)


def _conflict(
    db: Connection, entry_id: str, row: RowMapping, version: int
) -> ConflictError:
    query = select(HISTORY).where(
        HISTORY.c.subject == entry_id, HISTORY.c.version > version
    )
    since = list(db.execute(query.order_by(HISTORY.c.version)).mappings())
    others = {h["field"]: row.get(h["field"]) for h in since}
    who = ", ".join(dict.fromkeys(h["who"] for h in since if h["who"])) or "somebody"
    said = ", ".join(f"{name} is now {value}" for name, value in others.items())
    return ConflictError(
        f"this entry was changed by {who} since you read it (yours is version "
        f"{version}, now it is {row['version']}: {said or 'nothing you can see'}); "
        "read it again, then write what you still want to change",
        version=int(row["version"]),
        others=others,
    )


def as_json(value: Any) -> str | None:
    """A value as the history keeps it."""
    if value is None:
        return None
    if isinstance(value, datetime):
        value = {"moment": value.astimezone(UTC).isoformat()}
    return json.dumps(value, ensure_ascii=False)


def _from_json(text: str | None) -> Any:
    if text is None:
        return None
    value = json.loads(text)
    if isinstance(value, dict) and set(value) == {"moment"}:
        return datetime.fromisoformat(value["moment"])
    return value
