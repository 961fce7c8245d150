"""First tables."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

Column = sa.Column[Any]

_NUMBERS = """
    batch_factor pan_count planned_dough_g planned_dough_c planned_proof_min
    planned_bake_min planned_oven_c room_c flour_c water_c dough_c mix_min folds
    bulk_min bench_rest_min proof_min proof_c dough_ph oven_set_c oven_real_c
    bake_min lid_off_min core_end_c dough_in_g dough_volume_cm3 loaf_out_g
    loaf_volume_cm3 height_cm length_cm width_cm slices crumb_1_9 crust_1_9
    taste_1_9
"""
_TEXTS = """
    pan flour_lot oven baker plan trial mix_speed volume_method crumb_words
    crust_words
"""


def _moment(name: str, *, needed: bool = True) -> Column:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=not needed)


def _text(name: str) -> Column:
    return sa.Column(name, sa.Text, nullable=False, server_default=sa.text("''"))


def _needed(name: str) -> Column:
    return sa.Column(name, sa.Text, nullable=False)


def _number(name: str, *, needed: bool = False) -> Column:
    return sa.Column(name, sa.Double, nullable=not needed)


def _entry(key: str = "id") -> list[Column]:
    return [
        sa.Column(key, sa.Text, primary_key=True),
        sa.Column("version", sa.Integer, nullable=False),
        _text("who"),
        _moment("retired_at", needed=False),
        _text("retired_why"),
    ]


def _link(name: str, to: str, table: str, **more: Any) -> Column:
    key = sa.ForeignKey(to, name=op.f(f"fk_{table}_{name}"))
    return sa.Column(name, sa.Text, key, **more)


def _table(name: str, *columns: Column, indexes: str = "") -> None:
    op.create_table(name, *columns)
    for column in indexes.split():
        op.create_index(op.f(f"ix_{name}_{column}"), name, [column])


def upgrade() -> None:
    """Make all tables of the first version."""
    _formulas_and_house()
    _bakes()
    _log()
    _around()


def _formulas_and_house() -> None:
    _table(
        "formulas",
        *_entry("key"),
        _needed("dough_key"),
        *(_text(name) for name in ("name", "title", "style")),
        _link("parent", "formulas.key", "formulas"),
        _text("change"),
        _needed("content"),
        _moment("kept_at"),
        _number("hydration_pct"),
        _number("salt_pct"),
        _number("flour_g", needed=True),
        _number("dough_g", needed=True),
        indexes="dough_key parent",
    )
    texts = ("spec", "ingredient", "lot", "steps", "currency", "date")
    _table(
        "house",
        *_entry(),
        _needed("kind"),
        _text("name"),
        _moment("added_at"),
        *(sa.Column(name, sa.Text) for name in texts),
        *(_number(name) for name in ("protein_pct", "offset_c", "price", "per_g")),
        indexes="kind",
    )


def _bakes() -> None:
    _table(
        "bakes",
        *_entry(),
        _link("formula_key", "formulas.key", "bakes", nullable=False),
        _moment("started_at"),
        *(_number(name) for name in _NUMBERS.split()),
        *(sa.Column(name, sa.Text) for name in _TEXTS.split()),
        *(sa.Column(name, sa.Boolean) for name in ("steam", "lid")),
        sa.Column("computed", sa.Text),
        sa.Column("computed_by", sa.Integer),
        indexes="formula_key started_at pan baker plan",
    )


def _log() -> None:
    _of_bake("marks", _needed("what"), _moment("at"), _moment("due_at", needed=False))
    _of_bake(
        "readings",
        _needed("kind"),
        _moment("at", needed=False),
        _number("minute"),
        _number("value", needed=True),
        _text("unit"),
    )
    _of_bake("notes", _moment("at"), _needed("text"))
    _of_bake(
        "photos",
        _needed("sha256"),
        _text("name"),
        _text("caption"),
        *(
            sa.Column(name, sa.Integer, nullable=False)
            for name in ("width", "height", "bytes")
        ),
        _moment("taken_at", needed=False),
        _moment("added_at"),
    )
    _table(
        "tags",
        _link("bake_id", "bakes.id", "tags", primary_key=True),
        sa.Column("word", sa.Text, primary_key=True),
        _moment("at"),
        _text("who"),
        indexes="word",
    )


def _of_bake(name: str, *columns: Column) -> None:
    link = _link("bake_id", "bakes.id", name, nullable=False)
    _table(name, *_entry(), link, *columns, indexes="bake_id")


def _around() -> None:
    json_columns = ("plan", "key", "answers", "verdict")
    _table(
        "tastings",
        *_entry(),
        _needed("kind"),
        _text("name"),
        _moment("planned_at"),
        *(_needed(name) for name in json_columns),
    )
    _table(
        "plans",
        *_entry(),
        _needed("kind"),
        _text("name"),
        _moment("planned_at"),
        _needed("content"),
    )
    _table(
        "history",
        sa.Column("id", sa.Text, primary_key=True),
        _needed("subject"),
        _needed("field"),
        sa.Column("old", sa.Text),
        sa.Column("new", sa.Text),
        _moment("at"),
        sa.Column("version", sa.Integer, nullable=False),
        _text("who"),
        indexes="subject",
    )
    _table("book", sa.Column("name", sa.Text, primary_key=True), _needed("value"))
