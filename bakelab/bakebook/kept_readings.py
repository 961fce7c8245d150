"""Readings in the book: taken in any form, handed out as a table."""

import math
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Any

import pandas as pd
from sqlalchemy import Connection, select

from bakelab.bakebook.entries import as_moment, new_id
from bakelab.bakebook.fact_checks import check_fact
from bakelab.bakebook.facts import READINGS as KINDS
from bakelab.bakebook.log import add_rows, need_bake, rows_in
from bakelab.bakebook.model import Mark
from bakelab.bakebook.tables import BAKES, READINGS
from bakelab.errors import BookError

__all__ = [
    "NO_READINGS",
    "ORIGINS",
    "add_readings",
    "checked_reading",
    "day_of",
    "readings_of",
    "readings_of_many",
    "rows_of",
]

READING_COLUMNS = ("id", "kind", "at", "minute", "value", "unit")
ORIGINS: Mapping[str, str] = {
    "core_c": "in the oven",
    "loss_g": "in the oven",
    "rise_ml": "mixed",
    "rise_mm": "mixed",
    "ph": "mixed",
}


def add_readings(
    db: Connection, bake_id: str, rows: Iterable[Mapping[str, Any]], who: str
) -> int:
    """New readings; one that is there already is not written twice."""
    need_bake(db, bake_id)
    query = select(READINGS).where(READINGS.c.bake_id == bake_id)
    there = {_same(dict(row)) for row in db.execute(query).mappings()}
    new = []
    for number, row in enumerate(rows, 1):
        reading = checked_reading(row, number)
        if _same(reading) not in there:
            there.add(_same(reading))
            new.append({"id": new_id(), **reading})
    if new:
        add_rows(db, READINGS, bake_id, new, who)
    return len(new)


def day_of(db: Connection, bake_id: str) -> date:
    """The day of a bake, here."""
    need_bake(db, bake_id)
    query = select(BAKES.c.started_at).where(BAKES.c.id == bake_id)
    started_at: datetime = db.execute(query).scalar_one()
    return started_at.astimezone().date()


def rows_of(
    readings: Any, *, day: date, kind: str | None = None
) -> list[Mapping[str, Any]]:
    """Rows as they were given, or read from a table, from text or from a file."""
    if isinstance(readings, pd.DataFrame) and {"kind", "value"} <= set(readings):
        return [{str(k): v for k, v in r.items()} for r in readings.to_dict("records")]
    if isinstance(readings, list | tuple) and all(
        isinstance(row, Mapping) for row in readings
    ):
        return [dict(row) for row in readings]
    from bakelab.bakebook.readings import read_rows

    return [*read_rows(readings, day=day, kind=kind)]


def checked_reading(row: Mapping[str, Any], number: int = 1) -> dict[str, Any]:
    """One reading as the book keeps it: kind, at or minute, value, unit.

    Raises
    ------
    BookError
        Naming the row, if the kind is unknown or a value cannot be true.
    """
    kind = str(row.get("kind"))
    if kind not in KINDS:
        raise BookError(
            f"reading {number} is of the kind {kind!r}; use one of {', '.join(KINDS)}"
        )
    fact = KINDS[kind]
    unit = _given(row.get("unit")) or fact.unit
    if unit not in (fact.unit, "C" if fact.unit == "°C" else fact.unit):
        raise BookError(f"reading {number} is in {unit!r}; give {kind} in {fact.unit}")
    value = check_fact(fact, _given(row.get("value")))
    at, minute = _given(row.get("at")), _given(row.get("minute"))
    if value is None or (at is None and minute is None):
        raise BookError(
            f"reading {number} lacks its {'value' if value is None else 'time'}; "
            "give a value, and a moment (at) or minutes (minute)"
        )
    return {
        "kind": kind,
        "at": None if at is None else as_moment(at, f"the time of reading {number}"),
        "minute": None if minute is None else _minutes(minute, number),
        "value": value,
        "unit": fact.unit,
    }


def readings_of(
    db: Connection, bake_id: str, started_at: datetime, marks: tuple[Mark, ...]
) -> pd.DataFrame:
    """The readings of a bake by kind and time; minutes count from `ORIGINS`."""
    found = readings_of_many(db, {bake_id: started_at}, {bake_id: marks})
    return found.get(bake_id, NO_READINGS).copy()


def readings_of_many(
    db: Connection,
    starts: Mapping[str, datetime],
    marks: Mapping[str, tuple[Mark, ...]],
) -> dict[str, pd.DataFrame]:
    """The readings of those of several bakes that have any."""
    firsts = {
        bake_id: {mark.what: mark.at for mark in reversed(done)}
        for bake_id, done in marks.items()
    }
    records: dict[str, list[dict[str, Any]]] = {}
    for row in rows_in(db, READINGS, list(starts), "id"):
        bake_id = row["bake_id"]
        record = {name: row[name] for name in READING_COLUMNS}
        if record["minute"] is None:
            first = firsts.get(bake_id, {})
            origin = first.get(ORIGINS[record["kind"]], starts[bake_id])
            record["minute"] = (record["at"] - origin).total_seconds() / 60
        records.setdefault(bake_id, []).append(record)
    return {bake_id: _reading_table(rows) for bake_id, rows in records.items()}


def _reading_table(records: list[dict[str, Any]]) -> pd.DataFrame:
    frame = pd.DataFrame(records, columns=list(READING_COLUMNS))
    frame["at"] = pd.to_datetime(frame["at"], utc=True)
    frame[["minute", "value"]] = frame[["minute", "value"]].astype(float)
    return frame.sort_values(["kind", "minute"], kind="stable", ignore_index=True)


NO_READINGS = _reading_table([])


def _given(value: Any) -> Any:
    blank = value is None or value == "" or bool(pd.isna(value))
    return None if blank else value


def _minutes(value: Any, number: int) -> float:
    try:
        minute = float(value)
    except (TypeError, ValueError):
        minute = math.nan
    if not -1e6 < minute < 1e6:
        raise BookError(
            f"reading {number} is at minute {value!r}; give minutes as a number"
        )
    return minute


def _same(row: Mapping[str, Any]) -> tuple[Any, ...]:
    return tuple(row[name] for name in ("kind", "at", "minute", "value"))
