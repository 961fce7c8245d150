"""Rows of a book as plain data, and back again with everything checked."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from types import MappingProxyType
from typing import Any

from sqlalchemy import Boolean, Column, Double, Integer, Table

from bakelab.bakebook.entries import as_moment
from bakelab.bakebook.fact_checks import check_facts, check_text
from bakelab.bakebook.facts import FACTS_BY_NAME, HOUSE, READINGS
from bakelab.bakebook.tables import BOOK, METADATA, Moment
from bakelab.errors import BakelabError, BookError
from bakelab.formula import formula_from_json

__all__ = ["DERIVED", "TABLES", "Row", "from_plain", "identity", "to_plain"]

Row = dict[str, Any]
TABLES: tuple[Table, ...] = tuple(t for t in METADATA.sorted_tables if t is not BOOK)
"""Tables that are exchanged, each after those it belongs to."""
DERIVED: Mapping[str, frozenset[str]] = MappingProxyType(
    {"bakes": frozenset({"computed", "computed_by", "found_by"})}
)
"""Columns that are worked out again from the others."""
_JSON = {"tastings": ("plan", "key", "answers", "verdict"), "plans": ("content",)}
_HASH = re.compile(r"[0-9a-f]{64}")
_LONGEST_ID = 200
_MOST_INTEGER = 2**31 - 1


def identity(table: Table, row: Mapping[str, Any]) -> tuple[str, ...]:
    """What tells a row from the others of its table."""
    return tuple(str(row[column.name]) for column in table.primary_key)


def to_plain(table: Table, row: Mapping[str, Any]) -> Row:
    """A row as JSON holds it: moments as text in UTC, nothing that is empty."""
    skipped = DERIVED.get(table.name, frozenset())
    plain = {}
    for name, value in row.items():
        if value is None or name in skipped:
            continue
        is_moment = isinstance(value, datetime)
        plain[name] = value.astimezone(UTC).isoformat() if is_moment else value
    return plain


def from_plain(table: Table, plain: Any) -> Row:
    """A row of a table from JSON, every value checked.

    Raises
    ------
    BookError
        In one sentence, if the row is not what the table takes.
    """
    if not isinstance(plain, dict):
        raise BookError(f"is {type(plain).__name__}, not a row")
    columns = {c.name: c for c in table.columns if c.name not in _skipped(table)}
    strange = sorted(set(plain) - set(columns))
    if strange:
        raise BookError(f"has {strange[0]!r}, which this bakelab does not know")
    row = {name: _value(column, plain.get(name)) for name, column in columns.items()}
    for text in identity(table, row):
        if not 0 < len(text) <= _LONGEST_ID:
            raise BookError(f"has an id of {len(text)} letters")
    if table.name in _CHECKS:
        _CHECKS[table.name](row)
    return row


def _skipped(table: Table) -> frozenset[str]:
    return DERIVED.get(table.name, frozenset())


def _value(column: Column[Any], value: Any) -> Any:
    if value is None:
        if column.nullable:
            return None
        if column.server_default is not None:
            return ""
        raise BookError(f"lacks its {column.name}")
    kind = column.type
    if isinstance(kind, Moment) and isinstance(value, str):
        return as_moment(value, column.name)
    if isinstance(kind, Boolean) and isinstance(value, bool):
        return value
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if isinstance(kind, Double) and number and math.isfinite(value):
        return float(value)
    if isinstance(kind, Integer) and number and _is_small_whole(value):
        return int(value)
    plain_text = not isinstance(kind, Moment | Boolean | Double | Integer)
    if plain_text and isinstance(value, str):
        return _text(value, column)
    raise BookError(f"has {str(value)[:40]!r} as its {column.name}")


def _is_small_whole(value: float) -> bool:
    return value == int(value) and abs(value) <= _MOST_INTEGER


def _text(value: str, column: Column[Any]) -> str:
    """Long text is fine in what the lab itself writes, such as a plan."""
    if column.table.name in ("plans", "tastings", "formulas", "history"):
        for part in range(0, len(value), 50_000):
            check_text(value[part : part + 50_000], column.name)
        return value
    return check_text(value, column.name)


def _check_bake(row: Row) -> None:
    check_facts({name: row[name] for name in FACTS_BY_NAME})


def _check_reading(row: Row) -> None:
    fact = READINGS.get(row["kind"])
    if fact is None:
        raise BookError(f"is of the kind {row['kind']!r}, which is not known")
    check_facts({row["kind"]: row["value"]}, READINGS)
    if row["at"] is None and row["minute"] is None:
        raise BookError("has no time")


def _check_house(row: Row) -> None:
    if row["kind"] not in HOUSE:
        raise BookError(f"is of the kind {row['kind']!r}, which is not known")
    known = {fact.name: fact for fact in HOUSE[row["kind"]]}
    check_facts({name: row[name] for name in known}, known)


def _check_formula(row: Row) -> None:
    try:
        good = formula_from_json(row["content"]).key == row["key"]
    except BakelabError:
        good = False
    if not good:
        raise BookError("is not the formula that its key stands for")


def _check_photo(row: Row) -> None:
    if not _HASH.fullmatch(row["sha256"]):
        raise BookError(f"has {row['sha256'][:70]!r} as its hash")


def _check_json(*names: str) -> Callable[[Row], None]:
    def check(row: Row) -> None:
        for name in names:
            try:
                json.loads(row[name])
            except ValueError:
                raise BookError(f"has a {name} that cannot be read") from None

    return check


_CHECKS: Mapping[str, Callable[[Row], None]] = {
    "bakes": _check_bake,
    "readings": _check_reading,
    "house": _check_house,
    "formulas": _check_formula,
    "photos": _check_photo,
    **{table: _check_json(*names) for table, names in _JSON.items()},
}
