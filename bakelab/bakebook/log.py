"""What is written while a bake goes on: marks, readings, notes, tags, photos."""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

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
from bakelab.bakebook.fact_checks import check_text
from bakelab.bakebook.model import Mark, Note, Photo
from bakelab.bakebook.tables import BAKES, MARKS, NOTES, PHOTOS, TAGS
from bakelab.errors import BookError, UnknownEntryError

__all__ = [
    "add_mark",
    "add_note",
    "add_photo",
    "add_rows",
    "marks_of",
    "marks_of_many",
    "need_bake",
    "notes_of",
    "photos_of",
    "rows_in",
    "tag",
    "tags_of",
    "untag",
]

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
    add_rows(db, MARKS, bake_id, [vars(mark)], who)
    return mark


def add_note(db: Connection, bake_id: str, markdown: str, at: Any, who: str) -> str:
    """Words about a bake."""
    if not check_text(markdown, "the note").strip():
        raise BookError("the note is empty; write a word, or leave it out")
    row = {"id": new_id(), "at": as_moment(at, "at"), "text": markdown}
    add_rows(db, NOTES, bake_id, [row], who)
    return str(row["id"])


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
    add_rows(db, PHOTOS, bake_id, [row], who)
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
    for r in rows_in(db, MARKS, bake_ids, "at"):
        mark = Mark(r["what"], r["at"], r["due_at"], r["id"], r["who"])
        found[r["bake_id"]] = (*found.get(r["bake_id"], ()), mark)
    return found


def notes_of(db: Connection, bake_id: str) -> tuple[Note, ...]:
    """The notes of a bake, the oldest first."""
    rows = rows_in(db, NOTES, bake_id, "at")
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
        for row in rows_in(db, PHOTOS, bake_id, "added_at")
    )


def rows_in(
    db: Connection, table: Table, bake_ids: str | Sequence[str], order: str
) -> list[Mapping[str, Any]]:
    ids = [bake_ids] if isinstance(bake_ids, str) else list(bake_ids)
    query = (
        select(table)
        .where(table.c.bake_id.in_(ids), table.c.retired_at.is_(None))
        .order_by(table.c[order], table.c.id)
    )
    return [dict(row) for row in db.execute(query).mappings()]


def add_rows(
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
