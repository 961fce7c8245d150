"""The demo book's rows: the same ids and moments for the same seed."""

from __future__ import annotations

import json
import uuid
from collections.abc import Mapping
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from sqlalchemy import Connection, insert, update

from bakelab.bakebook import kept_formulas, sessions, tables
from bakelab.bakebook.demo.made import MadeBake
from bakelab.bakebook.demo.pictures import cut_of_a_loaf
from bakelab.bakebook.demo.recipes import (
    LARGE_TIN,
    LIDDED_TIN,
    PLAN_NAME,
    SMALL_TIN,
    DemoFormula,
)
from bakelab.bakebook.demo.truth import FIRST_DAY, TRUTH
from bakelab.bakebook.fact_checks import check_facts
from bakelab.bakebook.facts import READINGS
from bakelab.bakebook.photos import store_photo
from bakelab.variants import Plan

__all__ = ["DemoWriter"]

_HOUSE: tuple[tuple[str, str, Mapping[str, Any]], ...] = (
    ("pan", "large tin", {"spec": LARGE_TIN}),
    ("pan", "small tin", {"spec": SMALL_TIN}),
    ("pan", "long tin with a lid", {"spec": LIDDED_TIN}),
    ("flour", "Mill bread flour LM-04",
     {"ingredient": "wheat_bread", "lot": "LM-04", "protein_pct": 12.6}),
    ("flour", "Mill bread flour LM-17",
     {"ingredient": "wheat_bread", "lot": "LM-17", "protein_pct": 11.2}),
    ("flour", "Whole wheat LM-09",
     {"ingredient": "wheat_whole", "lot": "LM-09", "protein_pct": 13.1}),
    ("scale", "bench scale", {"steps": "1 g"}),
    ("scale", "spoon scale", {"steps": "0.1 g"}),
    ("oven", "deck oven", {"offset_c": TRUTH["oven_offset_k"]}),
    ("oven", "small fan oven", {"offset_c": 6.0}),
)  # fmt: skip
_PRICES = {
    "wheat_bread": 1.30, "wheat_whole": 1.45, "rye_medium": 1.20, "starter_rye": 0.60,
    "butter_unsalted": 8.40, "sugar_white": 1.10, "salt_table": 0.60, "honey": 9.50,
    "yeast_instant": 11.00, "milk_whole": 1.05, "egg_whole": 4.80,
    "oil_olive": 8.90,
}  # fmt: skip


class DemoWriter:
    """Writes everything into an empty book, in one transaction.

    Ids come from `rng`, pictures from `pens`, so that a picture that is drawn in
    another way changes nothing else.
    """

    def __init__(
        self,
        db: Connection,
        photos_folder: Path,
        rng: np.random.Generator,
        pens: np.random.Generator,
    ) -> None:
        self._db, self._photos, self._rng, self._pens = db, photos_folder, rng, pens
        self._rows: dict[str, list[dict[str, Any]]] = {}

    def formulas(self, formulas: Mapping[str, DemoFormula]) -> dict[str, str]:
        """Keep all formulas; their keys by short name."""
        keys: dict[str, str] = {}
        for n, (short, made) in enumerate(formulas.items()):
            keys[short] = kept_formulas.keep(
                self._db,
                made.formula,
                parent=keys.get(made.parent),
                change=made.change,
                name=made.name,
                who="Orla",
            )
            self._dated(keys[short], FIRST_DAY - timedelta(days=3, minutes=10 * n))
        return keys

    def plan(self, plan: Plan) -> list[str]:
        """Keep the plan of trials; the keys of its formulas, in order."""
        made = sessions.add_plan(self._db, plan, PLAN_NAME, "Tamsin")
        at = FIRST_DAY + timedelta(days=55, hours=5)
        table = tables.PLANS
        self._db.execute(
            update(table).where(table.c.id == made).values(id=self._id(), planned_at=at)
        )
        keys = [formula.key for formula in plan.formulas]
        for key in keys:
            self._dated(key, at)
        return keys

    def house(self) -> None:
        """Pans, flours, scales, ovens, prices."""
        at = FIRST_DAY - timedelta(days=5)
        for kind, name, facts in _HOUSE:
            self._entry(
                tables.HOUSE_THINGS, "Orla", kind=kind, name=name, added_at=at, **facts
            )
        for key, price in _PRICES.items():
            for day, factor in (("2026-01-02", 1.0), ("2026-04-01", 1.06)):
                self._entry(
                    tables.HOUSE_THINGS, "Orla", kind="price", added_at=at,
                    name=f"{key} from {day}", ingredient=key, currency="EUR",
                    price=round(price * factor, 2), per_g=1000.0, date=day,
                )  # fmt: skip

    def bake(self, made: MadeBake, formula_key: str) -> None:
        """A bake with its marks, readings, notes, tags and picture."""
        wanted = made.wanted
        own = self._entry(
            tables.BAKES, made.who, formula_key=formula_key, started_at=wanted.at,
            **check_facts(made.facts),
        )  # fmt: skip
        if wanted.retired_why:
            own["retired_at"] = made.moment(20)
            own["retired_why"], own["version"] = wanted.retired_why, 2
            return
        self._log(made, own["id"])

    def _log(self, made: MadeBake, bake: str) -> None:
        """What is written while it is baked, and of it afterwards."""
        wanted = made.wanted
        for what, minutes in made.marks:
            moment = made.moment(minutes)
            self._entry(tables.MARKS, made.who, bake_id=bake, what=what, at=moment)
        for kind, minute, value in made.readings:
            self._entry(
                tables.READINGS, made.who, bake_id=bake, kind=kind, minute=minute,
                value=value, unit=READINGS[kind].unit,
            )  # fmt: skip
        end = made.marks[-1][1]
        for n, text in enumerate(wanted.notes):
            moment = made.moment(end + n)
            self._entry(tables.NOTES, made.who, bake_id=bake, at=moment, text=text)
        for word in wanted.tags:
            row = {"bake_id": bake, "word": word, "at": made.moment(1), "who": made.who}
            self._rows.setdefault("tags", []).append(row)
        if wanted.picture:
            self._picture(made, bake, end)

    def correction(self, made: MadeBake, field: str, wrong: float) -> None:
        """A number that was written wrong first, and put right the next day."""
        row = next(r for r in self._rows["bakes"] if r["started_at"] == made.wanted.at)
        row["version"] = 2
        self._rows.setdefault("history", []).append(
            {
                "id": self._id(),
                "subject": row["id"],
                "field": field,
                "old": json.dumps(wrong),
                "new": json.dumps(row[field]),
                "at": made.moment(24 * 60),
                "version": 2,
                "who": "Orla",
            }
        )

    def tasting(self, at: datetime, name: str, columns: Mapping[str, Any]) -> None:
        """A tasting that is over."""
        texts = {
            column: json.dumps(columns[column], ensure_ascii=False)
            for column in ("plan", "key", "answers", "verdict")
        }
        self._entry(
            tables.TASTINGS, "Tamsin", kind=columns["kind"], name=name,
            planned_at=at, **texts,
        )  # fmt: skip

    def finish(self) -> None:
        """Put all rows into their tables."""
        for table in tables.METADATA.sorted_tables:
            rows = self._rows.get(table.name)
            if rows:
                names = dict.fromkeys(name for row in rows for name in row)
                filled = [{name: row.get(name) for name in names} for row in rows]
                self._db.execute(insert(table), filled)

    def _entry(self, table: Any, who: str, **columns: Any) -> dict[str, Any]:
        row = {"id": self._id(), "version": 1, "who": who, **columns}
        row |= {"retired_at": None, "retired_why": ""}
        self._rows.setdefault(table.name, []).append(row)
        return row

    def _picture(self, made: MadeBake, bake: str, end: float) -> None:
        wanted = made.wanted
        data = cut_of_a_loaf(
            self._pens,
            height_cm=made.facts["height_cm"],
            crumb=wanted.crumb,
            coarse=0.7 * wanted.volume_cm3_g / 3.0,
            state=wanted.state,
        )
        stored = store_photo(self._photos, data, f"cut-{wanted.at:%Y-%m-%d}.jpg")
        self._entry(
            tables.PHOTOS, made.who, bake_id=bake, sha256=stored.sha256,
            name=stored.name, caption=f"{wanted.picture} (drawn, not photographed)",
            width=stored.width, height=stored.height, bytes=stored.bytes,
            taken_at=None, added_at=made.moment(end + 5),
        )  # fmt: skip

    def _dated(self, key: str, at: datetime) -> None:
        table = tables.FORMULAS
        self._db.execute(update(table).where(table.c.key == key).values(kept_at=at))

    def _id(self) -> str:
        return str(uuid.UUID(bytes=self._rng.bytes(16), version=4))
