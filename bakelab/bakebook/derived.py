"""What follows from a bake: worked out when asked for, kept until it changes."""

import json
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager
from typing import Any

import pandas as pd
from sqlalchemy import Connection, RowMapping, or_, select, update

from bakelab.bakebook import kept_readings, log
from bakelab.bakebook.computed import COMPUTED_BY, compute
from bakelab.bakebook.facts import FACTS
from bakelab.bakebook.house import house
from bakelab.bakebook.kept_formulas import formula_of
from bakelab.bakebook.listing import fold
from bakelab.bakebook.model import Bake, Mark
from bakelab.bakebook.tables import BAKES, FORMULAS, NOTES, TAGS
from bakelab.errors import BakelabError, DamagedBookError
from bakelab.formula import Formula

__all__ = ["bring_up_to_date", "computed_of", "facts_of", "stale"]

_AT_ONCE = 400  # bakes in one transaction, so that other writers get their turn

Writing = Callable[[], AbstractContextManager[Connection]]


def stale(db: Connection) -> list[str]:
    """Ids of the bakes whose numbers have to be worked out again."""
    by = BAKES.c.computed_by
    outdated = or_(by.is_(None), by < COMPUTED_BY, by > COMPUTED_BY)
    return list(db.execute(select(BAKES.c.id).where(outdated)).scalars())


def bring_up_to_date(writing: Writing, ids: Sequence[str]) -> None:
    """Work out and keep the numbers of some bakes."""
    formulas: dict[str, Formula | None] = {}
    for first in range(0, len(ids), _AT_ONCE):
        with writing() as db:
            _work_out(db, ids[first : first + _AT_ONCE], formulas)


def computed_of(db: Connection, bake: Bake, row: Mapping[str, Any]) -> dict[str, Any]:
    """The numbers of one bake, as kept if they are still true."""
    if row["computed_by"] == COMPUTED_BY and row["computed"] is not None:
        kept: dict[str, Any] = json.loads(row["computed"])
        return kept
    return _computed(bake, house(db, "price", retired=False))


def _work_out(
    db: Connection, ids: Sequence[str], formulas: dict[str, Formula | None]
) -> None:
    query = select(BAKES).where(BAKES.c.id.in_(ids)).order_by(BAKES.c.id)
    rows = db.execute(query.with_for_update()).mappings().all()
    prices = house(db, "price", retired=False)
    marks = log.marks_of_many(db, ids)
    words = _words(db, ids)
    starts = {row["id"]: row["started_at"] for row in rows}
    readings = kept_readings.readings_of_many(db, starts, marks)
    for row in rows:
        bake_id, facts = row["id"], facts_of(row)
        formula = _formula(db, row["formula_key"], formulas)
        numbers = {}
        if formula is not None:
            read = readings.get(bake_id, kept_readings.NO_READINGS)
            bake = _bake(row, formula, marks.get(bake_id, ()), read)
            numbers = _computed(bake, prices)
        said = [value for value in facts.values() if isinstance(value, str)]
        found = {
            "computed": json.dumps(numbers, ensure_ascii=False),
            "computed_by": COMPUTED_BY,
            "found_by": fold("\n".join((*words.get(bake_id, ()), *said))),
        }
        db.execute(update(BAKES).where(BAKES.c.id == bake_id).values(found))


def _bake(
    row: RowMapping,
    formula: Formula,
    marks: tuple[Mark, ...],
    readings: pd.DataFrame,
) -> Bake:
    return Bake(
        id=row["id"],
        version=row["version"],
        formula_key=row["formula_key"],
        formula=formula,
        started_at=row["started_at"],
        facts=facts_of(row),
        marks=marks,
        readings=readings,
    )


def _formula(
    db: Connection, key: str, known: dict[str, Formula | None]
) -> Formula | None:
    """The formula of a key, or None where it is damaged: `examine` tells."""
    if key not in known:
        try:
            known[key] = formula_of(db, key)
        except DamagedBookError:
            known[key] = None
    return known[key]


def _words(db: Connection, ids: Sequence[str]) -> dict[str, list[str]]:
    """Title and name of the formula, notes and tags, by bake."""
    found: dict[str, list[str]] = {}
    queries = (
        select(BAKES.c.id, FORMULAS.c.title)
        .join(FORMULAS, BAKES.c.formula_key == FORMULAS.c.key)
        .where(BAKES.c.id.in_(ids)),
        select(BAKES.c.id, FORMULAS.c.name)
        .join(FORMULAS, BAKES.c.formula_key == FORMULAS.c.key)
        .where(BAKES.c.id.in_(ids)),
        select(NOTES.c.bake_id, NOTES.c.text).where(
            NOTES.c.bake_id.in_(ids), NOTES.c.retired_at.is_(None)
        ),
        select(TAGS.c.bake_id, TAGS.c.word).where(TAGS.c.bake_id.in_(ids)),
    )
    for query in queries:
        for bake_id, text in db.execute(query):
            found.setdefault(bake_id, []).append(text)
    return found


def facts_of(row: RowMapping | Mapping[str, Any]) -> dict[str, Any]:
    """The facts of a bake that were written."""
    return {f.name: row[f.name] for f in FACTS if row[f.name] is not None}


def _computed(bake: Bake, prices: pd.DataFrame) -> dict[str, Any]:
    """Nothing where the numbers contradict each other: the bake is still shown."""
    try:
        return dict(compute(bake, prices=prices))
    except (BakelabError, ArithmeticError):
        return {}
