"""Another book's rows put to those of this one; nothing of either is lost.

A row that only one book has is taken. Where both have it, each field for itself: the
value that one book alone corrected counts (its history has the other's value).
A field that both corrected is a conflict: the entry with the higher version counts,
else this book's own; what gave way goes to the history, and the conflict is told.
"""

from __future__ import annotations

import uuid
from collections.abc import Container, Iterable, Mapping, Sequence
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
Pasts = Mapping[tuple[str, str], set[str | None]]


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
    other = theirs.get("history", [])
    pasts = (
        _pasts(ours["history"].values(), {(row["id"],) for row in other}),
        _pasts(other, ours["history"]),
    )
    entries = {table.name for table in ENTRIES}
    for table in TABLES:
        fresh, both = _sorted_out(table, ours[table.name], theirs.get(table.name, []))
        for own, row in both:
            if table.name in entries:
                _join(db, table, own, row, pasts, merged, who)
            else:
                merged.same += 1
        _insert(db, table, fresh)
        if fresh:
            merged.new[table.name] = len(fresh)
    if merged.changed:
        db.execute(update(BAKES).values(computed=None, computed_by=None))
    return merged


def _sorted_out(
    table: Table, mine: Mapping[tuple[str, ...], Row], theirs: Sequence[Row]
) -> tuple[list[Row], list[tuple[Row, Row]]]:
    """Rows that this book lacks, and those of both books: ours with theirs."""
    fresh: list[Row] = []
    both: list[tuple[Row, Row]] = []
    for row in theirs:
        own = mine.get(identity(table, row))
        if own is None:
            fresh.append(row)
        else:
            both.append((own, row))
    return fresh, both


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


def _pasts(history: Iterable[Row], known: Container[tuple[str, ...]]) -> Pasts:
    """Old values of every entry's field, of rows that the other book lacks."""
    found: dict[tuple[str, str], set[str | None]] = {}
    for row in history:
        if (row["id"],) not in known:
            found.setdefault((row["subject"], row["field"]), set()).add(row["old"])
    return found


def _join(
    db: Connection,
    table: Table,
    own: Row,
    row: Row,
    pasts: tuple[Pasts, Pasts],
    merged: Merged,
    who: str,
) -> None:
    """One entry that both books have, field by field."""
    skipped = DERIVED.get(table.name, frozenset()) | set(_KEPT_WITH_ENTRY)
    differs = [n for n in row if n not in skipped and row[n] != own[n]]
    sides = {name: _newer(table, own, row, name, pasts) for name in differs}
    taken = {name: row[name] for name in differs if sides[name] == "theirs"}
    apart = [name for name in differs if sides[name] == "neither"]
    newest = max(own["version"], row["version"])
    if apart or (taken and row["version"] <= own["version"]):
        newest += 1
    if apart:
        taken |= _conflicts(db, table, own, row, apart, newest, merged, who)
    elif taken:
        merged.newer[table.name] = merged.newer.get(table.name, 0) + 1
    else:
        merged.same += 1
    if taken or newest != own["version"]:
        _write(db, table, own, {**taken, "version": newest})


def _newer(
    table: Table, own: Row, row: Row, name: str, pasts: tuple[Pasts, Pasts]
) -> str:
    """Which book corrected a field after the other: "ours", "theirs", "neither"."""
    place = (identity(table, own)[0], name)
    ours, theirs = pasts
    if place not in ours and as_json(own[name]) in theirs.get(place, ()):
        return "theirs"
    if place not in theirs and as_json(row[name]) in ours.get(place, ()):
        return "ours"
    return "neither"


def _conflicts(
    db: Connection,
    table: Table,
    own: Row,
    row: Row,
    apart: list[str],
    version: int,
    merged: Merged,
    who: str,
) -> Row:
    """Fields that both corrected: what counts, told and with the other kept."""
    wins, gives_way = (row, own) if row["version"] > own["version"] else (own, row)
    entry, moment = identity(table, own)[0], now()
    history = []
    for name in apart:
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
    db.execute(insert(HISTORY), history)
    return {name: wins[name] for name in apart}


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
