"""Tastings and plans of trials: kept as JSON, found by their dates and names."""

import json
from collections.abc import Mapping
from dataclasses import asdict, is_dataclass
from typing import Any

import pandas as pd
from sqlalchemy import Connection, insert, select

from bakelab.bakebook.entries import change, find, new_id, now
from bakelab.bakebook.fact_checks import check_text
from bakelab.bakebook.kept_formulas import keep
from bakelab.bakebook.tables import PLANS, TASTINGS
from bakelab.errors import BookError, UnknownEntryError
from bakelab.variants import Plan

__all__ = ["add_plan", "answer", "plans", "serve", "tastings"]

_JSON = ("plan", "key", "answers", "verdict")


def serve(
    db: Connection, kind: str, plan: Any, *, key: Any, name: str, who: str
) -> str:
    """A tasting as it is served; the key stands apart from the plan."""
    row = {
        "id": new_id(),
        "version": 1,
        "who": who,
        "kind": check_text(kind, "the kind of tasting"),
        "name": check_text(name, "name"),
        "planned_at": now(),
        "plan": _to_json(plan, "plan"),
        "key": _to_json(key, "key"),
        "answers": "{}",
        "verdict": "{}",
    }
    db.execute(insert(TASTINGS), [row])
    return str(row["id"])


def answer(
    db: Connection,
    tasting_id: str,
    answers: Mapping[str, Any],
    *,
    verdict: Any,
    version: int | None,
    who: str,
) -> int:
    """Answers by taster, added to those there are, and a verdict if one is known."""
    table, row = find(db, tasting_id, lock=True)
    if table is not TASTINGS:
        raise UnknownEntryError(f"{tasting_id!r} is no tasting; see book.tastings()")
    joined = {**json.loads(row["answers"]), **{str(k): v for k, v in answers.items()}}
    values = {"answers": _to_json(joined, "answers")}
    if verdict is not None:
        values["verdict"] = _to_json(verdict, "verdict")
    return change(db, tasting_id, values, version=version, who=who)


def tastings(db: Connection, *, retired: bool) -> pd.DataFrame:
    """A row per tasting, the last planned first; JSON columns as Python values."""
    names = ["id", "planned_at", "kind", "name", *_JSON, "version", "who"]
    query = select(*(TASTINGS.c[name] for name in names))
    if not retired:
        query = query.where(TASTINGS.c.retired_at.is_(None))
    rows = db.execute(query.order_by(TASTINGS.c.planned_at.desc(), TASTINGS.c.id))
    frame = pd.DataFrame(rows.all(), columns=names)
    for name in _JSON:
        frame[name] = [json.loads(text) for text in frame[name]]
    return frame


def add_plan(db: Connection, trials: Plan, name: str, who: str) -> str:
    """A plan of trials, with every formula of it kept."""
    if not isinstance(trials, Plan):
        raise BookError(
            f"got {type(trials).__name__} where a plan is needed; give what "
            "plan_trials gives"
        )
    if not check_text(name, "name").strip():
        raise BookError("a plan of trials needs a name; give what you call it")
    names = trials.frame["name"]
    keys = [
        keep(db, formula, parent=None, change=f"{name}: {said}", name=said, who=who)
        for formula, said in zip(trials.formulas, names, strict=True)
    ]
    table = _records(trials.frame.assign(formula_key=keys))
    content = {"trials": table, "remarks": list(trials.remarks)}
    row = {
        "id": new_id(),
        "version": 1,
        "who": who,
        "kind": trials.kind,
        "name": name.strip(),
        "planned_at": now(),
        "content": _to_json(content, "plan"),
    }
    db.execute(insert(PLANS), [row])
    return str(row["id"])


def plans(db: Connection, *, retired: bool) -> pd.DataFrame:
    """A row per plan: `trials` is a table with the key of each formula."""
    names = ["id", "planned_at", "kind", "name", "content", "version", "who"]
    query = select(*(PLANS.c[name] for name in names))
    if not retired:
        query = query.where(PLANS.c.retired_at.is_(None))
    rows = db.execute(query.order_by(PLANS.c.planned_at.desc(), PLANS.c.id)).all()
    frame = pd.DataFrame(rows, columns=names)
    contents = [json.loads(text) for text in frame.pop("content")]
    trials = [pd.DataFrame(content["trials"]) for content in contents]
    frame["trials"] = pd.Series(trials, dtype=object)
    frame["remarks"] = pd.Series([c["remarks"] for c in contents], dtype=object)
    return frame


def _to_json(value: Any, name: str) -> str:
    try:
        text = json.dumps(value, default=_plain, ensure_ascii=False, allow_nan=False)
    except (TypeError, ValueError) as error:
        raise BookError(
            f"the {name} cannot be kept ({error}); give text, numbers, lists and names"
        ) from None
    return check_text(text.replace("\\u0000", "\0"), name)


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return asdict(value)
    if isinstance(value, pd.DataFrame):
        return _records(value)
    if isinstance(value, Mapping):
        return dict(value)
    if isinstance(value, set | frozenset):
        return sorted(value)
    if hasattr(value, "tolist"):
        return value.tolist()
    if hasattr(value, "isoformat"):
        return value.isoformat()
    raise TypeError(f"{type(value).__name__} is not plain data")


def _records(frame: pd.DataFrame) -> list[dict[Any, Any]]:
    plain = frame.astype(object).where(frame.notna(), None)
    return plain.to_dict("records")
