"""Formulas in the book: kept by content, never changed."""

import json
import math

import pandas as pd
from sqlalchemy import Connection, func, select

from bakelab.bakebook.entries import insert_new, now
from bakelab.bakebook.fact_checks import check_text
from bakelab.bakebook.tables import BAKES, FORMULAS
from bakelab.errors import (
    BakelabError,
    BookError,
    DamagedBookError,
    UnknownEntryError,
)
from bakelab.formula import Formula, formula_from_json, formula_to_json
from bakelab.variants import Variant

__all__ = ["formula_of", "formulas", "keep"]

_LISTED = (
    "key", "name", "title", "style", "parent", "change", "kept_at",
    "hydration_pct", "salt_pct", "flour_g", "dough_g", "dough_key",
)  # fmt: skip


def keep(
    db: Connection,
    formula: Formula,
    *,
    parent: str | None,
    change: str,
    name: str,
    who: str,
) -> str:
    """The key of a formula, which is kept if it was not there yet."""
    same, content = _canonical(formula)
    found = db.execute(select(FORMULAS.c.key).where(FORMULAS.c.key == same.key))
    if found.scalar() is not None:
        return same.key
    if parent is not None:
        formula_of(db, parent)
    row = {
        "key": same.key,
        "version": 1,
        "who": who,
        "dough_key": Variant(same, "").key,
        "name": check_text(name, "name"),
        "title": check_text(same.title, "title"),
        "style": check_text(same.style, "style"),
        "parent": parent,
        "change": check_text(change, "change"),
        "content": content,
        "kept_at": now(),
        "hydration_pct": _known(same.hydration_pct),
        "salt_pct": _known(same.role_pct("salt")),
        "flour_g": same.flour_g,
        "dough_g": same.dough_g,
    }
    db.execute(insert_new(db, FORMULAS), [row])
    return same.key


def formula_of(db: Connection, key: str) -> Formula:
    """The formula of a key.

    Raises
    ------
    UnknownEntryError
        If there is none.
    DamagedBookError
        If what is kept is no formula.
    """
    known = isinstance(key, str) and "\0" not in key
    query = select(FORMULAS.c.content).where(FORMULAS.c.key == key)
    content = db.execute(query).scalar() if known else None
    if content is None:
        raise UnknownEntryError(
            f"the bake book has no formula {key!r}; see book.formulas(), "
            "or keep the formula first"
        )
    try:
        return formula_from_json(content)
    except BakelabError:
        raise DamagedBookError(
            f"formula {key} in the bake book is damaged; examine the book "
            "(book.examine(), or bakelab book examine) to see what else is"
        ) from None


def formulas(db: Connection, *, retired: bool) -> pd.DataFrame:
    """A row per formula, the last kept first, with how often it was baked."""
    bakes = (
        select(func.count())
        .where(BAKES.c.formula_key == FORMULAS.c.key, BAKES.c.retired_at.is_(None))
        .scalar_subquery()
        .label("bakes")
    )
    query = select(*(FORMULAS.c[name] for name in _LISTED), bakes)
    if not retired:
        query = query.where(FORMULAS.c.retired_at.is_(None))
    rows = db.execute(query.order_by(FORMULAS.c.kept_at.desc(), FORMULAS.c.key))
    frame = pd.DataFrame(rows.all(), columns=[*_LISTED, "bakes"])
    numbers = ["hydration_pct", "salt_pct", "flour_g", "dough_g"]
    frame[numbers] = frame[numbers].astype(float)
    return frame


def _canonical(formula: Formula) -> tuple[Formula, str]:
    """The formula as it comes back from the book, and its text."""
    if not isinstance(formula, Formula):
        raise BookError(
            f"got {type(formula).__name__} where a formula is needed; give what "
            "read_recipe(…).formula or fit(…).formula gives"
        )
    content = formula_to_json(formula)
    check_text(content.replace("\\u0000", "\0"), "the formula")
    same = formula_from_json(content)
    return same, json.dumps(json.loads(content), ensure_ascii=False)


def _known(value: float) -> float | None:
    return value if math.isfinite(value) else None
