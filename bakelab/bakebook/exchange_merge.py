"""Another book's rows put to those of this one; nothing of either is lost.

A row that only one book has is taken. Where both have it and differ, the one that
was corrected after the other (its history begins with the other's value) counts.
Where each went its own way, the higher version counts, else this book's own; what
gave way goes to the history of the entry, and the conflict is told.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Table, insert, select, update

from bakelab.bakebook.entries import as_json, now
from bakelab.bakebook.exchange_rows import DERIVED, TABLES, Row, identity
from bakelab.bakebook.tables import BAKES, ENTRIES, FORMULAS, HISTORY
from bakelab.errors import BookError

__all__ = ["Conflict", "Merged", "merge"]

_AT_ONCE = 2000
_KEPT_WITH_ENTRY = ("version", "who")
_IDS = uuid.UUID("6b1f3e52-64a5-4c5b-9d0e-0d9f5c3f5a10")
Versions = Mapping[tuple[str, str], list[tuple[int, str | None]]]


@dataclass(frozen=True)
class Conflict:
    """A value on which the books differ; `kept` is what counts from now on."""

    table: str
    entry: str
    field: str
    ours: Any
    theirs: Any
    kept: Any

    @property
    def text(self) -> str:
        """In words."""
        return (
            f"{self.field} of {self.entry} in {self.table} is {self.ours!r} here and "
            f"{self.theirs!r} there; {self.kept!r} is kept, the other is in its history"
        )


@dataclass
class Merged:
    """How many rows were new, newer there, or the same; and the conflicts."""

    new: dict[str, int] = field(default_factory=dict)
    newer: dict[str, int] = field(default_factory=dict)
    same: int = 0
    conflicts: list[Conflict] = field(default_factory=list)

    @property
    def changed(self) -> bool:
        """Whether this book is not what it was."""
        return bool(self.new or self.newer or self.conflicts)


def merge(db: Connection, theirs: Mapping[str, list[Row]], who: str) -> Merged:
    """Take in the rows of another book, by the names of the tables.

    Raises
    ------
    BookError
        If a row belongs to something that neither book has.
    """
    merged = Merged()
    ours = {t.name: _rows(db, t) for t in TABLES}
    _check_links(ours, theirs)
    versions = _versions([*ours["history"].values(), *theirs.get("history", [])])
    entries = {table.name for table in ENTRIES}
    for table in TABLES:
        fresh = []
        mine = ours[table.name]
        for row in theirs.get(table.name, []):
            own = mine.get(identity(table, row))
            if own is None:
                fresh.append(row)
            elif table.name in entries:
                _join(db, table, own, row, versions, merged, who)
            else:
                merged.same += 1
        _insert(db, table, fresh)
        if fresh:
            merged.new[table.name] = len(fresh)
    if merged.changed:
        db.execute(update(BAKES).values(computed=None, computed_by=None))
    return merged


def _rows(db: Connection, table: Table) -> dict[tuple[str, ...], Row]:
    found = db.execute(select(table)).mappings()
    rows = [dict(row) for row in found]
    return {identity(table, row): row for row in rows}


def _check_links(
    ours: Mapping[str, Mapping[tuple[str, ...], Row]], theirs: Mapping[str, list[Row]]
) -> None:
    there: dict[str, set[str]] = {}
    for table in (BAKES, FORMULAS):
        name = table.name
        there[name] = {key[0] for key in ours[name]}
        there[name] |= {identity(table, row)[0] for row in theirs.get(name, [])}
    for table in TABLES:
        for link in table.foreign_keys:
            column, to = link.parent.name, link.column.table.name
            for row in theirs.get(table.name, []):
                if row[column] is not None and row[column] not in there[to]:
                    raise BookError(
                        f"{identity(table, row)[0]} in {table.name} belongs to "
                        f"{row[column]!r} in {to}, which is in neither book; export "
                        "the other book again, nothing was taken in"
                    )


def _versions(history: Iterable[Row]) -> Versions:
    """(version, old value) of every entry's field, the earliest first."""
    found: dict[tuple[str, str], list[tuple[int, str | None]]] = {}
    for row in history:
        place = (row["subject"], row["field"])
        found.setdefault(place, []).append((row["version"], row["old"]))
    for pairs in found.values():
        pairs.sort(key=lambda pair: (pair[0], pair[1] or ""))
    return found


def _join(
    db: Connection,
    table: Table,
    own: Row,
    row: Row,
    versions: Versions,
    merged: Merged,
    who: str,
) -> None:
    """One entry that both books have."""
    skipped = DERIVED.get(table.name, frozenset()) | set(_KEPT_WITH_ENTRY)
    differs = [n for n in row if n not in skipped and row[n] != own[n]]
    if not differs:
        merged.same += 1
        if row["version"] > own["version"]:
            _write(db, table, own, {"version": row["version"]})
    elif _followed(table, own, row, differs, versions):
        merged.newer[table.name] = merged.newer.get(table.name, 0) + 1
        values = {name: row[name] for name in differs}
        newest = max(own["version"], row["version"])
        _write(db, table, own, {**values, "version": newest})
    elif _followed(table, row, own, differs, versions):
        merged.same += 1
        if row["version"] > own["version"]:
            _write(db, table, own, {"version": row["version"]})
    else:
        _conflict(db, table, own, row, differs, merged, who)


def _followed(
    table: Table, older: Row, newer: Row, differs: Iterable[str], versions: Versions
) -> bool:
    """Whether every value of `older` is what `newer` was before a correction."""
    entry = identity(table, older)[0]
    for name in differs:
        later = [
            old
            for version, old in versions.get((entry, name), [])
            if version > older["version"]
        ]
        if newer["version"] <= older["version"] or not later:
            return False
        if later[0] != as_json(older[name]):
            return False
    return True


def _conflict(
    db: Connection,
    table: Table,
    own: Row,
    row: Row,
    differs: list[str],
    merged: Merged,
    who: str,
) -> None:
    theirs_count = row["version"] > own["version"]
    wins, gives_way = (row, own) if theirs_count else (own, row)
    version = max(own["version"], row["version"]) + 1
    entry, moment = identity(table, own)[0], now()
    history = []
    for name in differs:
        old, new = as_json(gives_way[name]), as_json(wins[name])
        place = f"{entry} {name} {old} {new} {version}"
        history.append(
            {
                "id": str(uuid.uuid5(_IDS, place)),
                "subject": entry,
                "field": name,
                "old": old,
                "new": new,
                "at": moment,
                "version": version,
                "who": who,
            }
        )
        merged.conflicts.append(
            Conflict(table.name, entry, name, own[name], row[name], wins[name])
        )
    values = {name: wins[name] for name in differs}
    _write(db, table, own, {**values, "version": version})
    db.execute(insert(HISTORY), history)


def _write(db: Connection, table: Table, own: Row, values: Row) -> None:
    keys = [column == own[column.name] for column in table.primary_key]
    db.execute(update(table).where(*keys).values(**values))


def _insert(db: Connection, table: Table, rows: list[Row]) -> None:
    ordered = _parents_first(rows) if table is FORMULAS else rows
    for first in range(0, len(ordered), _AT_ONCE):
        db.execute(insert(table), ordered[first : first + _AT_ONCE])


def _parents_first(rows: list[Row]) -> list[Row]:
    """Formulas, each after the one it was made from."""
    waiting = {row["key"]: row for row in rows}
    ordered: list[Row] = []
    while waiting:
        ready = [row for row in waiting.values() if row["parent"] not in waiting]
        if not ready:
            raise BookError(
                "formulas of the other book are made from each other in a circle; "
                "export it again, nothing was taken in"
            )
        ordered += ready
        for row in ready:
            del waiting[row["key"]]
    return ordered
