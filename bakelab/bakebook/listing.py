"""The table of bakes, and what a bake can be found by."""

import json
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

import pandas as pd
from sqlalchemy import (
    ColumnElement,
    Connection,
    Text,
    func,
    or_,
    select,
)

from bakelab.bakebook.entries import as_moment
from bakelab.bakebook.facts import FACTS, check_text
from bakelab.bakebook.tables import BAKES, FORMULAS, NOTES, TAGS

__all__ = ["bakes", "conditions"]

_FEW = 500  # bakes whose tags are asked for by their ids
Condition = ColumnElement[bool]

_FIRST = ("id", "started_at", "title", "formula_key", "style")
_NAMES = tuple(fact.name for fact in FACTS)
_LAST = ("version", "who")
_WORDS = tuple(f.name for f in FACTS if f.kind in ("text", "choice"))
_NUMBERS = tuple(f.name for f in FACTS if f.kind == "number")
_YES_NO = tuple(f.name for f in FACTS if f.kind == "yes/no")


def conditions(
    *,
    formula: str | None = None,
    tag: str | None = None,
    pan: str | None = None,
    since: datetime | str | None = None,
    until: datetime | str | None = None,
    baker: str | None = None,
    text: str | None = None,
    retired: bool = False,
    on_file: bool = True,
) -> list[Condition]:
    """What a bake has to fulfil, for the database."""
    found: list[Condition] = [] if retired else [BAKES.c.retired_at.is_(None)]
    for column, value in (("formula_key", formula), ("pan", pan), ("baker", baker)):
        if value is not None:
            found.append(BAKES.c[column] == check_text(value, column))
    if tag is not None:
        word = check_text(tag, "tag")
        tagged = select(TAGS.c.bake_id).where(TAGS.c.word == word)
        found.append(BAKES.c.id.in_(tagged))
    if since is not None:
        found.append(BAKES.c.started_at >= as_moment(since, "since"))
    if until is not None:
        found.append(BAKES.c.started_at <= _end_of(until))
    if text is not None and text.strip():
        found.append(_says(check_text(text.strip(), "text"), on_file=on_file))
    return found


def bakes(
    db: Connection,
    wanted: Sequence[Condition],
    computed_names: Sequence[str],
    *,
    newest: int | None = None,
) -> pd.DataFrame:
    """A row per bake that fulfils all conditions, the last begun first."""
    columns = [
        *(BAKES.c[name] for name in (*_NAMES, *_LAST)),
        *(BAKES.c[name] for name in ("id", "started_at", "formula_key", "computed")),
        FORMULAS.c.title,
        FORMULAS.c.style,
    ]
    query = (
        select(*columns)
        .join(FORMULAS, BAKES.c.formula_key == FORMULAS.c.key)
        .where(*wanted)
        .order_by(BAKES.c.started_at.desc(), BAKES.c.id)
        .limit(newest)
    )
    rows = db.execute(query).all()
    raw = pd.DataFrame(rows, columns=[column.name for column in columns])
    frame = pd.concat([_typed(raw), _computed(raw["computed"], computed_names)], axis=1)
    ids = frame["id"].tolist()
    tags = _tags(db, [BAKES.c.id.in_(ids)] if len(ids) <= _FEW else wanted)
    frame["tags"] = [", ".join(tags.get(bake_id, ())) for bake_id in frame["id"]]
    return frame


def _typed(raw: pd.DataFrame) -> pd.DataFrame:
    frame = raw[[*_FIRST, *_NAMES, *_LAST]].copy()
    frame["started_at"] = pd.to_datetime(frame["started_at"], utc=True)
    frame[list(_NUMBERS)] = frame[list(_NUMBERS)].astype(float)
    frame[list(_WORDS)] = frame[list(_WORDS)].astype(object).fillna("")
    frame[list(_YES_NO)] = frame[list(_YES_NO)].astype("boolean")
    return frame


def _computed(kept: "pd.Series[Any]", names: Sequence[str]) -> pd.DataFrame:
    values: list[Mapping[str, Any]] = [json.loads(v) if v else {} for v in kept]
    return pd.DataFrame({name: [v.get(name) for v in values] for name in names})


def _tags(db: Connection, wanted: Sequence[Condition]) -> dict[str, list[str]]:
    query = select(TAGS.c.bake_id, TAGS.c.word)
    query = query.join(BAKES, TAGS.c.bake_id == BAKES.c.id).where(*wanted)
    found: dict[str, list[str]] = {}
    for bake_id, word in db.execute(query.order_by(TAGS.c.word)):
        found.setdefault(bake_id, []).append(word)
    return found


def _end_of(until: datetime | str) -> datetime:
    """A bare date means that whole day."""
    moment = as_moment(until, "until")
    if isinstance(until, str) and len(until) <= 10:
        return moment + timedelta(days=1) - timedelta(microseconds=1)
    return moment


def _says(text: str, *, on_file: bool) -> Condition:
    """Whether the words stand in a fact, a note, a tag or the formula's title."""
    has = _Finder(text.lower(), on_file=on_file)
    notes = select(NOTES.c.bake_id).where(
        NOTES.c.retired_at.is_(None), has(NOTES.c.text)
    )
    tags = select(TAGS.c.bake_id).where(has(TAGS.c.word))
    titles = select(FORMULAS.c.key).where(
        or_(has(FORMULAS.c.title), has(FORMULAS.c.name))
    )
    return or_(
        *(has(BAKES.c[name]) for name in _WORDS),
        BAKES.c.id.in_(notes),
        BAKES.c.id.in_(tags),
        BAKES.c.formula_key.in_(titles),
    )


class _Finder:
    """Text in a column, without regard to capitals; %, _ and quotes are letters."""

    def __init__(self, low: str, *, on_file: bool) -> None:
        self._low = low
        plain = not on_file or low.isascii()  # SQLite's lower() knows A to Z only
        self._lower = func.lower if plain else func.bakelab_lower

    def __call__(self, column: Any) -> Condition:
        folded: ColumnElement[str] = self._lower(column, type_=Text)
        return folded.contains(self._low, autoescape=True)
