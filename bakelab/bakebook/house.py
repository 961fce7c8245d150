"""What the house has: pans, flours, scales, ovens, prices."""

from collections.abc import Mapping
from datetime import date
from typing import Any

import pandas as pd
from sqlalchemy import Connection, insert, select

from bakelab.bakebook.entries import new_id, now, touch
from bakelab.bakebook.fact_checks import check_facts, check_text
from bakelab.bakebook.facts import HOUSE
from bakelab.bakebook.tables import HOUSE_THINGS
from bakelab.errors import BookError
from bakelab.pans import Pan
from bakelab.pans import pan as read_pan

__all__ = ["checked_house_facts", "house", "own"]


def own(
    db: Connection, kind: str, name: str, facts: Mapping[str, Any], who: str
) -> str:
    """A thing of the house, under a name."""
    row = {
        "id": new_id(),
        "version": 1,
        "who": who,
        "kind": known_kind(kind),
        "name": check_text(name, "name").strip(),
        "added_at": now(),
        **checked_house_facts(kind, facts),
    }
    if not row["name"]:
        raise BookError(f"a {kind} of the house needs a name; give what you call it")
    db.execute(insert(HOUSE_THINGS), [row])
    touch(db, HOUSE_THINGS, row)
    return str(row["id"])


def house(db: Connection, kind: str, *, retired: bool) -> pd.DataFrame:
    """All things of a kind: id, name, facts, version; by name."""
    names = ["id", "name", *(f.name for f in HOUSE[known_kind(kind)]), "version"]
    query = select(*(HOUSE_THINGS.c[name] for name in names))
    query = query.where(HOUSE_THINGS.c.kind == kind)
    if not retired:
        query = query.where(HOUSE_THINGS.c.retired_at.is_(None))
    rows = db.execute(query.order_by(HOUSE_THINGS.c.name, HOUSE_THINGS.c.added_at))
    frame = pd.DataFrame(rows.all(), columns=names)
    for fact in HOUSE[kind]:
        if fact.kind == "number":
            frame[fact.name] = frame[fact.name].astype(float)
        else:
            frame[fact.name] = frame[fact.name].astype(object).fillna("")
    return frame


def checked_house_facts(kind: str, facts: Mapping[str, Any]) -> dict[str, Any]:
    """Facts of a thing as the book keeps them; pans, scales and keys are read."""
    values = dict(facts)
    if isinstance(values.get("spec"), Pan):
        values["spec"] = values["spec"].text_spec
    checked = check_facts(values, {f.name: f for f in HOUSE[known_kind(kind)]})
    for name, value in checked.items():
        if value is not None:
            _read(name, value)
    return checked


def known_kind(kind: str) -> str:
    """A kind of thing; a `BookError` naming all kinds if it is unknown."""
    if kind not in HOUSE:
        raise BookError(f"the house keeps no {kind!r}; use one of {', '.join(HOUSE)}")
    return kind


def _read(name: str, value: Any) -> None:
    """Refuse, in words, what the rest of the lab could not read."""
    if name == "spec":
        read_pan(value)
    elif name == "steps":
        from bakelab.weighing import scale_from_text

        scale_from_text(value)
    elif name == "ingredient":
        from bakelab.ingredients import ingredient

        ingredient(value)
    elif name == "date":
        _read_date(value)


def _read_date(value: str) -> None:
    try:
        date.fromisoformat(value)
    except ValueError:
        raise BookError(
            f"the date is {value[:40]!r}; give year-month-day, such as 2025-03-01"
        ) from None
