"""What is written while a bake goes on: marks, readings, notes, tags, photos."""

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pandas as pd
from sqlalchemy import Connection, Table, delete, insert, select

from bakelab.bakebook.entries import (
    as_moment,
    find,
    insert_new,
    new_id,
    now,
    remember,
    touch,
)
from bakelab.bakebook.facts import READINGS as KINDS
from bakelab.bakebook.facts import check_fact, check_text
from bakelab.bakebook.model import Mark, Note, Photo
from bakelab.bakebook.tables import BAKES, MARKS, NOTES, PHOTOS, READINGS, TAGS
from bakelab.errors import BookError, UnknownEntryError

__all__ = [
    "NO_READINGS",
    "ORIGINS",
    "add_mark",
    "add_note",
    "add_photo",
    "add_readings",
    "checked_reading",
    "day_of",
    "marks_of",
    "marks_of_many",
    "need_bake",
    "notes_of",
    "photos_of",
    "readings_of",
    "readings_of_many",
    "rows_of",
    "tag",
    "tags_of",
    "untag",
]

READING_COLUMNS = ("id", "kind", "at", "minute", "value", "unit")
ORIGINS: Mapping[str, str] = {
    "core_c": "in the oven",
    "loss_g": "in the oven",
    "rise_ml": "mixed",
    "rise_mm": "mixed",
    "ph": "mixed",
}
_LONGEST_WORD = 200


def need_bake(db: Connection, bake_id: str) -> None:
    """Raise an `UnknownEntryError` if there is no such bake; others wait for it."""
    table, _ = find(db, bake_id, lock=True)
    if table is not BAKES:
        raise UnknownEntryError(
            f"{bake_id!r} is in {table.name}, not a bake; see book.bakes()"
        )


def add_mark(
    db: Connection, bake_id: str, what: str, at: Any, due_at: Any, who: str
) -> Mark:
    """A moment of a bake, with the moment its timer rings."""
    mark = Mark(
        _word(what, "what was done"),
        as_moment(at, "at"),
        None if due_at is None else as_moment(due_at, "due_at"),
        new_id(),
        who,
    )
    _add(db, MARKS, bake_id, [vars(mark)], who)
    return mark


def add_note(db: Connection, bake_id: str, markdown: str, at: Any, who: str) -> str:
    """Words about a bake."""
    if not check_text(markdown, "the note").strip():
        raise BookError("the note is empty; write a word, or leave it out")
    row = {"id": new_id(), "at": as_moment(at, "at"), "text": markdown}
    _add(db, NOTES, bake_id, [row], who)
    return str(row["id"])


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
        _add(db, READINGS, bake_id, new, who)
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


def add_photo(db: Connection, bake_id: str, photo: Mapping[str, Any], who: str) -> str:
    """A picture whose file is stored already; the same one only once."""
    need_bake(db, bake_id)
    query = select(PHOTOS.c.id).where(
        PHOTOS.c.bake_id == bake_id,
        PHOTOS.c.sha256 == photo["sha256"],
        PHOTOS.c.retired_at.is_(None),
    )
    found = db.execute(query).scalar()
    if found is not None:
        return str(found)
    row = {"id": new_id(), "added_at": now(), **photo}
    _add(db, PHOTOS, bake_id, [row], who)
    return str(row["id"])


def tag(db: Connection, bake_id: str, words: Iterable[str], who: str) -> None:
    """Words that a bake is found by."""
    need_bake(db, bake_id)
    there = set(tags_of(db, bake_id))
    for word in _tag_words(words):
        if word not in there:
            row = {"bake_id": bake_id, "word": word, "at": now(), "who": who}
            db.execute(insert_new(db, TAGS), [row])
    touch(db, TAGS, {"bake_id": bake_id})


def untag(db: Connection, bake_id: str, words: Iterable[str], who: str) -> None:
    """Take words off a bake; that they were there stands in the history."""
    need_bake(db, bake_id)
    query = select(BAKES.c.version).where(BAKES.c.id == bake_id)
    version = db.execute(query).scalar_one()
    there = set(tags_of(db, bake_id))
    for word in sorted(there.intersection(_tag_words(words))):
        db.execute(delete(TAGS).where(TAGS.c.bake_id == bake_id, TAGS.c.word == word))
        remember(db, bake_id, {"tag": (word, None)}, version=version, who=who)
    touch(db, TAGS, {"bake_id": bake_id})


def tags_of(db: Connection, bake_id: str) -> tuple[str, ...]:
    """The tags of a bake, sorted."""
    query = select(TAGS.c.word).where(TAGS.c.bake_id == bake_id)
    return tuple(sorted(db.execute(query).scalars()))


def marks_of(db: Connection, bake_id: str) -> tuple[Mark, ...]:
    """The marks of a bake in the order in which things were done."""
    return marks_of_many(db, [bake_id]).get(bake_id, ())


def marks_of_many(
    db: Connection, bake_ids: Sequence[str]
) -> dict[str, tuple[Mark, ...]]:
    """The marks of several bakes, by their ids."""
    found: dict[str, tuple[Mark, ...]] = {}
    for r in _rows(db, MARKS, bake_ids, "at"):
        mark = Mark(r["what"], r["at"], r["due_at"], r["id"], r["who"])
        found[r["bake_id"]] = (*found.get(r["bake_id"], ()), mark)
    return found


def notes_of(db: Connection, bake_id: str) -> tuple[Note, ...]:
    """The notes of a bake, the oldest first."""
    rows = _rows(db, NOTES, bake_id, "at")
    return tuple(
        Note(r["id"], r["at"], r["text"], r["who"], r["version"]) for r in rows
    )


def photos_of(db: Connection, bake_id: str, folder: Path) -> tuple[Photo, ...]:
    """The photos of a bake in the order in which they were added."""
    from bakelab.bakebook.photos import photo_path, thumbnail_path

    names = [name for name in Photo.__dataclass_fields__ if name in PHOTOS.c]
    return tuple(
        Photo(
            **{name: row[name] for name in names},
            path=photo_path(folder, row["sha256"]),
            thumb_path=thumbnail_path(folder, row["sha256"]),
        )
        for row in _rows(db, PHOTOS, bake_id, "added_at")
    )


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
    for row in _rows(db, READINGS, list(starts), "id"):
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


def _rows(
    db: Connection, table: Table, bake_ids: str | Sequence[str], order: str
) -> list[Mapping[str, Any]]:
    ids = [bake_ids] if isinstance(bake_ids, str) else list(bake_ids)
    query = (
        select(table)
        .where(table.c.bake_id.in_(ids), table.c.retired_at.is_(None))
        .order_by(table.c[order], table.c.id)
    )
    return [dict(row) for row in db.execute(query).mappings()]


def _add(
    db: Connection,
    table: Table,
    bake_id: str,
    rows: Iterable[Mapping[str, Any]],
    who: str,
) -> None:
    need_bake(db, bake_id)
    whole = [{**row, "bake_id": bake_id, "version": 1, "who": who} for row in rows]
    db.execute(insert(table), whole)
    touch(db, table, whole[0])


def _word(word: str, name: str) -> str:
    bare = check_text(word, name).strip()
    if not bare or len(bare) > _LONGEST_WORD or "\n" in bare:
        raise BookError(
            f"{name} is {bare[:60]!r}; give one line of 1 to {_LONGEST_WORD} letters"
        )
    return bare


def _tag_words(words: Iterable[str]) -> list[str]:
    """Each word once; a comma parts two of them."""
    parts = [part for word in words for part in check_text(word, "a tag").split(",")]
    return list(dict.fromkeys(_word(p, "a tag") for p in parts if p.strip()))


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
