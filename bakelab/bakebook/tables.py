"""The tables of the bake book, in plain sight.

Every entry has an id that is unique in the world (so that books can be put
together), a version that rises with each correction, who wrote it, and the
moment it was retired, if it was. Nothing is ever deleted but a tag or a
value, and what it was stands in `history`.
"""

from collections.abc import Mapping
from datetime import UTC, datetime
from types import MappingProxyType
from typing import Any

from sqlalchemy import (
    Boolean,
    Column,
    DateTime,
    Dialect,
    Double,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Table,
    Text,
    TypeDecorator,
    text,
)

from bakelab.bakebook.facts import FACTS, HOUSE, Fact

__all__ = [
    "BAKES",
    "BOOK",
    "ENTRIES",
    "FORMULAS",
    "HISTORY",
    "HOUSE_THINGS",
    "MARKS",
    "METADATA",
    "NOTES",
    "PHOTOS",
    "PLANS",
    "READINGS",
    "TAGS",
    "TASTINGS",
    "Moment",
]


class Moment(TypeDecorator[datetime]):
    """A moment in UTC, to the microsecond, the same on every database."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(
        self, value: datetime | None, dialect: Dialect
    ) -> datetime | None:
        if value is None:
            return None
        value = value.astimezone(UTC)
        return value.replace(tzinfo=None) if dialect.name == "sqlite" else value

    def process_result_value(
        self, value: datetime | None, dialect: Dialect
    ) -> datetime | None:
        if value is None:
            return None
        if dialect.name == "sqlite":
            return value.replace(tzinfo=UTC)
        return value.astimezone(UTC)


METADATA = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)
_TYPES: Mapping[str, type[Double[Any] | Boolean | Text]] = MappingProxyType(
    {"number": Double, "yes/no": Boolean, "choice": Text, "text": Text}
)


def _text(name: str) -> Column[Any]:
    return Column(name, Text, nullable=False, server_default=text("''"))


def _entry(key: str = "id") -> tuple[Column[Any], ...]:
    """What every entry has: its id, its version, who wrote it, and retirement."""
    return (
        Column(key, Text, primary_key=True),
        Column("version", Integer, nullable=False),
        _text("who"),
        Column("retired_at", Moment),
        _text("retired_why"),
    )


def _of_bake() -> Column[Any]:
    return Column("bake_id", Text, ForeignKey("bakes.id"), nullable=False, index=True)


def _columns(facts: tuple[Fact, ...]) -> list[Column[Any]]:
    return [Column(fact.name, _TYPES[fact.kind]) for fact in facts]


def _house_facts() -> tuple[Fact, ...]:
    return tuple({f.name: f for facts in HOUSE.values() for f in facts}.values())


FORMULAS = Table(
    "formulas",
    METADATA,
    *_entry("key"),
    Column("dough_key", Text, nullable=False, index=True),
    _text("name"),
    _text("title"),
    _text("style"),
    Column("parent", Text, ForeignKey("formulas.key"), index=True),
    _text("change"),
    Column("content", Text, nullable=False),
    Column("kept_at", Moment, nullable=False),
    Column("hydration_pct", Double),
    Column("salt_pct", Double),
    Column("flour_g", Double, nullable=False),
    Column("dough_g", Double, nullable=False),
)

HOUSE_THINGS = Table(
    "house",
    METADATA,
    *_entry(),
    Column("kind", Text, nullable=False),
    _text("name"),
    Column("added_at", Moment, nullable=False),
    *_columns(_house_facts()),
    Index(None, "kind"),
)

BAKES = Table(
    "bakes",
    METADATA,
    *_entry(),
    Column("formula_key", Text, ForeignKey("formulas.key"), nullable=False, index=True),
    Column("started_at", Moment, nullable=False, index=True),
    *_columns(FACTS),
    Column("computed", Text),
    Column("computed_by", Integer, index=True),
    Column("found_by", Text),
    Index(None, "pan"),
    Index(None, "baker"),
    Index(None, "plan"),
)

MARKS = Table(
    "marks",
    METADATA,
    *_entry(),
    _of_bake(),
    Column("what", Text, nullable=False),
    Column("at", Moment, nullable=False),
    Column("due_at", Moment),
)

READINGS = Table(
    "readings",
    METADATA,
    *_entry(),
    _of_bake(),
    Column("kind", Text, nullable=False),
    Column("at", Moment),
    Column("minute", Double),
    Column("value", Double, nullable=False),
    _text("unit"),
)

NOTES = Table(
    "notes",
    METADATA,
    *_entry(),
    _of_bake(),
    Column("at", Moment, nullable=False),
    Column("text", Text, nullable=False),
)

TAGS = Table(
    "tags",
    METADATA,
    Column("bake_id", Text, ForeignKey("bakes.id"), primary_key=True),
    Column("word", Text, primary_key=True),
    Column("at", Moment, nullable=False),
    _text("who"),
    Index(None, "word"),
)

PHOTOS = Table(
    "photos",
    METADATA,
    *_entry(),
    _of_bake(),
    Column("sha256", Text, nullable=False),
    _text("name"),
    _text("caption"),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("bytes", Integer, nullable=False),
    Column("taken_at", Moment),
    Column("added_at", Moment, nullable=False),
)

TASTINGS = Table(
    "tastings",
    METADATA,
    *_entry(),
    Column("kind", Text, nullable=False),
    _text("name"),
    Column("planned_at", Moment, nullable=False),
    Column("plan", Text, nullable=False),
    Column("key", Text, nullable=False),
    Column("answers", Text, nullable=False),
    Column("verdict", Text, nullable=False),
)

PLANS = Table(
    "plans",
    METADATA,
    *_entry(),
    Column("kind", Text, nullable=False),
    _text("name"),
    Column("planned_at", Moment, nullable=False),
    Column("content", Text, nullable=False),
)

HISTORY = Table(
    "history",
    METADATA,
    Column("id", Text, primary_key=True),
    Column("subject", Text, nullable=False, index=True),
    Column("field", Text, nullable=False),
    Column("old", Text),
    Column("new", Text),
    Column("at", Moment, nullable=False),
    Column("version", Integer, nullable=False),
    _text("who"),
)

BOOK = Table(
    "book",
    METADATA,
    Column("name", Text, primary_key=True),
    Column("value", Text, nullable=False),
)

ENTRIES: tuple[Table, ...] = (
    BAKES,
    MARKS,
    NOTES,
    READINGS,
    PHOTOS,
    HOUSE_THINGS,
    TASTINGS,
    PLANS,
    FORMULAS,
)
