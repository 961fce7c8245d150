"""What may be written over in each kind of entry, checked."""

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, RowMapping, Table

from bakelab.bakebook.bakes import checked_facts
from bakelab.bakebook.entries import as_moment
from bakelab.bakebook.fact_checks import check_text
from bakelab.bakebook.facts import READINGS as KINDS
from bakelab.bakebook.house import checked_house_facts
from bakelab.bakebook.kept_formulas import formula_of
from bakelab.bakebook.kept_readings import checked_reading
from bakelab.errors import BookError

__all__ = ["checked_values"]

_TEXTS: Mapping[str, tuple[str, ...]] = {
    "formulas": ("name", "change"),
    "house": ("name",),
    "marks": ("what",),
    "notes": ("text",),
    "photos": ("name", "caption"),
    "plans": ("name",),
    "tastings": ("name",),
    "bakes": (),
    "readings": (),
}
_MOMENTS: Mapping[str, tuple[str, ...]] = {
    "bakes": ("started_at",),
    "marks": ("at", "due_at"),
    "notes": ("at",),
    "photos": ("taken_at",),
}
_MAY_BE_EMPTY = ("due_at", "taken_at")
_READING = ("kind", "at", "minute", "value")


def checked_values(
    db: Connection, table: Table, row: RowMapping, values: Mapping[str, Any]
) -> dict[str, Any]:
    """Values as the book keeps them, for an entry of a table.

    Raises
    ------
    BookError
        If the entry does not take one of them.
    """
    checked, rest = {}, dict(values)
    for name in _TEXTS[table.name]:
        if name in rest:
            checked[name] = check_text(rest.pop(name) or "", name)
    for name in _MOMENTS.get(table.name, ()):
        if name in rest:
            checked[name] = _moment(rest.pop(name), name)
    if table.name == "bakes":
        if "formula_key" in rest:
            checked["formula_key"] = rest.pop("formula_key")
            formula_of(db, checked["formula_key"])
        return {**checked, **checked_facts(db, rest)}
    if table.name == "house":
        return {**checked, **checked_house_facts(row["kind"], rest)}
    if table.name == "readings":
        return _reading(row, rest)
    if rest:
        allowed = (*_TEXTS[table.name], *_MOMENTS.get(table.name, ()))
        raise BookError(
            f"{', '.join(rest)} cannot be written over in {table.name}; "
            f"only {', '.join(allowed)} can"
        )
    return checked


def _moment(value: Any, name: str) -> Any:
    if value is None and name not in _MAY_BE_EMPTY:
        raise BookError(f"{name} cannot be left empty; give a date and time")
    return None if value is None else as_moment(value, name)


def _reading(row: RowMapping, values: Mapping[str, Any]) -> dict[str, Any]:
    wrong = set(values) - set(_READING)
    if wrong:
        raise BookError(
            f"a reading has no {', '.join(sorted(wrong))}; "
            f"only {', '.join(_READING)} can be written over"
        )
    whole = {**{name: row[name] for name in _READING}, **values}
    if values.get("kind", row["kind"]) not in KINDS:
        raise BookError(
            f"no kind of reading {values['kind']!r}; use {', '.join(KINDS)}"
        )
    return checked_reading(whole)
