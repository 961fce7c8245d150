"""What a formula is, and the percentages that follow from it."""

import hashlib
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from html import escape
from typing import Any

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.formula.contents import NUTRIENTS, RowContents, contents
from bakelab.ingredients import INGREDIENT_ROLES, ingredient, is_ingredient

__all__ = ["COLUMNS", "ROLES", "Assumption", "Formula", "Row", "whole_text"]

COLUMNS = ("stage", "ingredient", "label", "role", "mass_g", "bakers_pct")
ROLES = INGREDIENT_ROLES


def whole_text(text: str) -> str:
    """The text with each half of a character pair, which no file can hold, as U+FFFD.

    Examples
    --------
    >>> whole_text("rye" + chr(0xD800))
    'rye�'
    """
    if text.isascii():
        return text
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


@dataclass(frozen=True)
class Row:
    """One ingredient in one stage.

    `ingredient` is a key of `data/ingredients.csv`, or the written name
    where it is unknown. `hydration_pct` is for starters only: water over
    flour inside the starter.
    """

    stage: str
    ingredient: str
    label: str
    role: str
    mass_g: float
    hydration_pct: float | None = None

    def __post_init__(self) -> None:
        for name in ("stage", "ingredient", "label"):
            object.__setattr__(self, name, whole_text(getattr(self, name)))
        if self.role not in ROLES:
            raise FormulaError(
                f"{self.label!r} has the role {self.role!r}; use one of "
                f"{', '.join(ROLES)}"
            )
        if not (math.isfinite(self.mass_g) and self.mass_g >= 0):
            raise FormulaError(
                f"{self.label!r} weighs {self.mass_g} g; a mass is 0 g or more"
            )
        if self.hydration_pct is not None and not 0 <= self.hydration_pct <= 1000:
            raise FormulaError(
                f"{self.label!r} has a hydration of {self.hydration_pct} %; "
                "a starter's is between 0 and 1000 %"
            )


@dataclass(frozen=True)
class Assumption:
    """Something taken for granted, so that the user can see and correct it."""

    what: str
    subject: str
    value: str
    basis: str
    line_no: int | None = None


@dataclass(frozen=True)
class Formula:
    """A recipe's ingredients by weight, with what the recipe says around them.

    Percentages are of **all** flour in all stages, the flour inside a
    starter or preferment included. Equal by value; `key` is a hash of
    the content.
    """

    rows: tuple[Row, ...]
    title: str = ""
    style: str = ""
    stated_yield: str = ""
    stated_pan: str = ""
    oven: str = ""
    bake_minutes: tuple[float, float] | None = None
    notes: str = ""
    assumptions: tuple[Assumption, ...] = ()
    language: str = "en"

    @classmethod
    def from_pairs(
        cls, pairs: Iterable[tuple[str, float]], *, stage: str = "dough", **meta: Any
    ) -> "Formula":
        """A formula from ingredient keys and grams, all in one stage."""
        return cls(tuple(_known_row(stage, pair) for pair in pairs), **meta)

    @classmethod
    def from_frame(cls, frame: pd.DataFrame, **meta: Any) -> "Formula":
        """A formula from a data frame with at least `ingredient` and `mass_g`.

        `stage` is "dough", `label` and `role` those of the ingredient's
        table where the columns are missing.
        """
        missing = {"ingredient", "mass_g"} - set(frame.columns)
        if missing:
            raise FormulaError(
                f"the table lacks {' and '.join(sorted(missing))}; give a column of "
                "each"
            )
        return cls(tuple(_frame_row(r) for r in frame.to_dict("records")), **meta)

    @cached_property
    def _contents(self) -> tuple[RowContents, ...]:
        return tuple(
            contents(r.ingredient, r.role, r.mass_g, r.hydration_pct) for r in self.rows
        )

    @property
    def flour_g(self) -> float:
        """All flour in all stages, inside starters included, in g."""
        return math.fsum(c.flour_g for c in self._contents)

    @property
    def dough_g(self) -> float:
        """Everything weighed, in g."""
        return math.fsum(r.mass_g for r in self.rows)

    @property
    def water_g(self) -> float:
        """All added water: from every ingredient but the flour's own moisture."""
        return math.fsum(c.water_g for c in self._contents)

    @property
    def plain_water_g(self) -> float:
        """Water that is weighed as water, in g."""
        return math.fsum(r.mass_g for r in self.rows if r.role == "water")

    @property
    def water_pct(self) -> float:
        """Water as written: plain water over flour, in percent."""
        return self._share(self.plain_water_g)

    @property
    def hydration_pct(self) -> float:
        """True hydration: all added water over flour, in percent."""
        return self._share(self.water_g)

    @property
    def stages(self) -> tuple[str, ...]:
        """The stages, in the order of the recipe."""
        return tuple(dict.fromkeys(r.stage for r in self.rows))

    @property
    def unknown(self) -> tuple[str, ...]:
        """Labels of ingredients outside the table: their water counts as 0."""
        return tuple(r.label for r in self.rows if not is_ingredient(r.ingredient))

    def role_g(self, role: str) -> float:
        """Mass of all ingredients of a role, in g."""
        if role == "flour":
            return self.flour_g
        return math.fsum(r.mass_g for r in self.rows if r.role == role)

    def role_pct(self, role: str) -> float:
        """Mass of a role over flour, in percent."""
        return self._share(self.role_g(role))

    def pct(self, key: str) -> float:
        """Mass of one ingredient in all stages over flour, in percent."""
        return self._share(
            math.fsum(r.mass_g for r in self.rows if r.ingredient == key)
        )

    def composition(self) -> Mapping[str, float]:
        """Grams in 100 g of dough: water, protein, fat, carb, fibre, sugars;
        sodium in mg. Ingredients outside the table count as nothing."""
        dough = self.dough_g or math.nan
        return {
            name: 100 / dough * math.fsum(c.nutrients[i] for c in self._contents)
            for i, name in enumerate(NUTRIENTS)
        }

    def allergens(self) -> tuple[str, ...]:
        """Allergens of the known ingredients, sorted; check the packs as well."""
        known = (
            ingredient(r.ingredient)
            for r in self.rows
            if r.mass_g > 0 and is_ingredient(r.ingredient)
        )
        return tuple(sorted({a for item in known for a in item.allergens}))

    @property
    def frame(self) -> pd.DataFrame:
        """The table: one row per ingredient and stage, columns `COLUMNS`."""
        records = [
            (r.stage, r.ingredient, r.label, r.role, r.mass_g, self._share(r.mass_g))
            for r in self.rows
        ]
        return pd.DataFrame(records, columns=list(COLUMNS))

    def scaled(self, factor: float) -> "Formula":
        """The same formula with every mass times `factor`."""
        if not (math.isfinite(factor) and factor > 0):
            raise FormulaError(f"a formula is scaled by more than 0, got {factor}")
        return self.with_rows(replace(r, mass_g=r.mass_g * factor) for r in self.rows)

    def with_rows(self, rows: Iterable[Row]) -> "Formula":
        """The same formula with other rows."""
        return replace(self, rows=tuple(rows))

    @cached_property
    def key(self) -> str:
        """A hash of the content, 16 hexadecimal digits."""
        content = repr(tuple(getattr(self, name) for name in self.__dataclass_fields__))
        return hashlib.sha256(content.encode()).hexdigest()[:16]

    def require_flour(self) -> float:
        """The flour in g; a `FormulaError` in plain words where there is none."""
        if self.flour_g <= 0:
            raise FormulaError(
                "this formula has no flour, so nothing can be a percentage of it; "
                "give the flour's weight in grams"
            )
        return self.flour_g

    def _share(self, mass_g: float) -> float:
        flour = self.flour_g
        return 100 * mass_g / flour if flour > 0 else math.nan

    def _repr_html_(self) -> str:
        return _html(self)


def _known_row(stage: str, pair: tuple[str, float]) -> Row:
    try:
        key, grams = pair
        mass_g = float(grams)
    except (TypeError, ValueError):
        raise FormulaError(
            f"got {pair!r:.60} where an ingredient and its grams are needed; write "
            "('wheat_bread', 500)"
        ) from None
    item = ingredient(str(key))
    hydration = 100 * (1 / item.flour_share - 1) if item.role == "starter" else None
    return Row(stage, item.key, item.name, item.role, mass_g, hydration)


def _frame_row(record: Mapping[Any, Any]) -> Row:
    key = str(record["ingredient"])
    item = ingredient(key) if is_ingredient(key) else None
    role = record.get("role") or (item.role if item else "other")
    label = record.get("label") or (item.name if item else key)
    hydration = record.get("hydration_pct")
    return Row(
        str(record.get("stage") or "dough"),
        key,
        str(label),
        str(role),
        float(record["mass_g"]),
        None if hydration is None or math.isnan(hydration) else float(hydration),
    )


def _html(formula: Formula) -> str:
    cells: Sequence[str] = [
        f"<tr><td>{escape(r.stage)}</td><td>{escape(r.label)}</td>"
        f"<td style='text-align:right'>{r.mass_g:.1f}</td>"
        f"<td style='text-align:right'>{formula._share(r.mass_g):.1f}</td></tr>"
        for r in formula.rows
    ]
    return (
        f"<table><caption>{escape(formula.title or 'Formula')}</caption>"
        "<thead><tr><th>Stage</th><th>Ingredient</th><th>Mass (g)</th>"
        "<th>Baker's percentage (% of flour)</th></tr></thead>"
        f"<tbody>{''.join(cells)}</tbody><tfoot><tr><td></td><td>Dough</td>"
        f"<td style='text-align:right'>{formula.dough_g:.1f}</td>"
        f"<td style='text-align:right'>{formula._share(formula.dough_g):.1f}</td></tr>"
        f"</tfoot></table><p>Flour {formula.flour_g:.1f} g · water as written "
        f"{formula.water_pct:.1f} % · true hydration {formula.hydration_pct:.1f} %</p>"
    )
