"""A bake: begun, and read whole."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from sqlalchemy import Connection, insert, select

from bakelab.bakebook import kept_readings, log
from bakelab.bakebook.derived import computed_of, facts_of
from bakelab.bakebook.entries import as_moment, find, new_id
from bakelab.bakebook.fact_checks import check_facts, check_text
from bakelab.bakebook.kept_formulas import formula_of
from bakelab.bakebook.model import Bake
from bakelab.bakebook.tables import BAKES, HOUSE_THINGS
from bakelab.errors import UnknownEntryError
from bakelab.pans import Pan
from bakelab.pans import pan as read_pan

__all__ = ["bake_of", "checked_facts", "start"]


def start(
    db: Connection, formula_key: str, *, at: Any, facts: Mapping[str, Any], who: str
) -> str:
    """A new bake of a formula that is kept."""
    formula_of(db, formula_key)
    row = {
        "id": new_id(),
        "version": 1,
        "who": who,
        "formula_key": formula_key,
        "started_at": as_moment(at, "at"),
        **checked_facts(db, facts),
    }
    db.execute(insert(BAKES), [row])
    return str(row["id"])


def checked_facts(db: Connection, facts: Mapping[str, Any]) -> dict[str, Any]:
    """Facts as the book keeps them; a pan may be one of the house by name."""
    values = dict(facts)
    if values.get("pan"):
        values["pan"] = _pan_text(db, values["pan"])
    return check_facts(values)


def bake_of(db: Connection, bake_id: str, photos: Path) -> Bake:
    """A bake with all that was written of it; what is computed comes later."""
    table, row = find(db, bake_id)
    if table is not BAKES:
        raise UnknownEntryError(
            f"{bake_id!r} is in {table.name}, not a bake; see book.bakes()"
        )
    return _whole(db, dict(row), photos)


def _whole(db: Connection, row: Mapping[str, Any], photos: Path) -> Bake:
    bake_id, started_at = row["id"], row["started_at"]
    marks = log.marks_of(db, bake_id)
    bake = Bake(
        id=bake_id,
        version=row["version"],
        formula_key=row["formula_key"],
        formula=formula_of(db, row["formula_key"]),
        started_at=started_at,
        facts=MappingProxyType(facts_of(row)),
        marks=marks,
        readings=kept_readings.readings_of(db, bake_id, started_at, marks),
        notes=log.notes_of(db, bake_id),
        tags=log.tags_of(db, bake_id),
        photos=log.photos_of(db, bake_id, photos),
        retired=row["retired_at"] is not None,
        who=row["who"],
    )
    return replace(bake, computed=MappingProxyType(computed_of(db, bake, row)))


def _pan_text(db: Connection, pan: Pan | str) -> str:
    """The spec of a pan, of the house's pan of that name, or the text itself."""
    if isinstance(pan, Pan):
        return pan.text_spec
    query = select(HOUSE_THINGS.c.spec).where(
        HOUSE_THINGS.c.kind == "pan",
        HOUSE_THINGS.c.name == check_text(pan, "pan"),
        HOUSE_THINGS.c.retired_at.is_(None),
    )
    own = db.execute(query.order_by(HOUSE_THINGS.c.added_at.desc())).scalars().first()
    if own is not None:
        return str(own)
    read_pan(pan)  # raises in words where it is no pan
    return pan
