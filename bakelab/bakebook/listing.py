"""The table of bakes, and what a bake can be found by."""

import json
import unicodedata
from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Any

import pandas as pd
from sqlalchemy import (
    ColumnElement,
    Connection,
    select,
)

from bakelab.bakebook.computed import COMPUTED
from bakelab.bakebook.entries import as_moment
from bakelab.bakebook.fact_checks import check_text
from bakelab.bakebook.facts import FACTS
from bakelab.bakebook.tables import BAKES, FORMULAS, TAGS

__all__ = ["bakes", "conditions", "fold"]

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
    since: date | str | None = None,
    until: date | str | None = None,
    baker: str | None = None,
    text: str | None = None,
    retired: bool = False,
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
        found.append(BAKES.c.started_at >= as_moment(since, "the first day (since)"))
    if until is not None:
        found.append(BAKES.c.started_at <= _end_of(until))
    if text is not None and text.strip():
        words = fold(check_text(text.strip(), "text"))
        found.append(BAKES.c.found_by.contains(words, autoescape=True))
    return found


def bakes(
    db: Connection,
    wanted: Sequence[Condition],
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
    frame = pd.concat([_typed(raw), _computed(raw["computed"])], axis=1)
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


def _computed(kept: "pd.Series[Any]") -> pd.DataFrame:
    """A column for each number that follows, empty where it cannot be known."""
    values: list[Mapping[str, Any]] = [json.loads(v) if v else {} for v in kept]
    columns = {
        fact.name: (
            pd.Series([v.get(fact.name, "") for v in values], dtype=object)
            if fact.kind == "text"
            else pd.Series([v.get(fact.name) for v in values], dtype=float)
        )
        for fact in COMPUTED
    }
    return pd.DataFrame(columns)


def _tags(db: Connection, wanted: Sequence[Condition]) -> dict[str, list[str]]:
    query = select(TAGS.c.bake_id, TAGS.c.word)
    query = query.join(BAKES, TAGS.c.bake_id == BAKES.c.id).where(*wanted)
    found: dict[str, list[str]] = {}
    for bake_id, word in db.execute(query.order_by(TAGS.c.word)):
        found.setdefault(bake_id, []).append(word)
    return found


def _end_of(until: date | str) -> datetime:
    """A bare date means that whole day."""
    moment = as_moment(until, "the last day (until)")
    if isinstance(until, str):
        whole_day = len(until.strip()) <= len("2025-03-01")
    else:
        whole_day = not isinstance(until, datetime)
    return moment + timedelta(days=1, microseconds=-1) if whole_day else moment


def fold(text: str) -> str:
    """Text as it is compared: capitals and ways of writing a letter are one."""
    return unicodedata.normalize("NFKC", text).casefold()
