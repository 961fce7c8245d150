"""Bakes of a book, ready to be compared: their ratios, and what can be chosen."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import pandas as pd

from bakelab.bakebook.computed import COMPUTED
from bakelab.bakebook.facts import FACTS
from bakelab.comparing import axis_title, with_ratios
from bakelab.formula import Formula
from bakelab.weighing import Scale

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = [
    "GROUPS",
    "Choice",
    "Source",
    "groups_in",
    "ratios_in",
    "results_of",
    "values_in",
]

Choice = tuple[str, str]
GROUPS: tuple[Choice, ...] = (
    ("variant", "variant"),
    ("pan", "pan"),
    ("lid on or off", "lid"),
    ("steam or none", "steam"),
    ("oven", "oven"),
    ("flour lot", "flour_lot"),
    ("baker", "baker"),
    ("style", "style"),
    ("trial of a plan", "trial"),
    ("day", "day"),
)
"""Columns that put bakes into groups."""

_FIRST = (
    "specific_volume_cm3_g", "bake_loss_pct", "height_cm", "oven_spring_pct",
    "crumb_1_9", "crust_1_9", "taste_1_9", "loaf_volume_cm3", "loaf_out_g",
    "core_end_c", "rise_rate_pct_h", "proof_ratio",
)  # fmt: skip
_NOT_RESULTS = ("planned_", "off_", "rise_rate_low", "rise_rate_high", "loading_")
_RESULTS = frozenset(
    fact.name
    for fact in (*FACTS, *COMPUTED)
    if fact.group in ("result", "computed") and not fact.name.startswith(_NOT_RESULTS)
) | {"core_end_c", "dough_c", "dough_ph"}
_LATER = frozenset(
    fact.name
    for fact in (*FACTS, *COMPUTED)
    if fact.group in ("result", "computed") and not fact.name.startswith("off_")
) - {"loading_cm3_g", "dough_in_g"}
_LEAST_VALUES = 2
_YES_NO = {"lid": ("lid on", "lid off"), "steam": ("steam", "no steam")}


@dataclass
class Source:
    """A book, and what of it can be compared."""

    book: "BakeBook"

    def bakes(
        self, scale: Scale | None = None, *, without: str = "", **filters: Any
    ) -> pd.DataFrame:
        """The bakes that the filters let through, with ratios, variant and day.

        `without` is a tag that leaves a bake out.
        """
        frame = _said(self.book.bakes(**{k: v for k, v in filters.items() if v}))
        if without.strip():
            tagged = [without.strip() in str(t).split(", ") for t in frame["tags"]]
            frame = frame[[not t for t in tagged]].reset_index(drop=True)
        return with_ratios(frame, self.formula, names=self.names, scale=scale)

    @cached_property
    def every(self) -> pd.DataFrame:
        """All bakes of the book, for the lists of the filters."""
        return self.bakes()

    @cached_property
    def names(self) -> dict[str, str]:
        """Names of formulas by key."""
        table = self.book.formulas(retired=True)
        return dict(zip(table["key"], table["name"].fillna(""), strict=True))

    @cached_property
    def plans(self) -> pd.DataFrame:
        """The plans of trials of the book."""
        return self.book.plans()

    @cached_property
    def _formulas(self) -> dict[str, Formula]:
        return {}

    def formula(self, key: str) -> Formula:
        """The formula of a key, read once."""
        if key not in self._formulas:
            self._formulas[key] = self.book.formula(key)
        return self._formulas[key]

    def plan(self, plan: str) -> "pd.Series[Any]":
        """The row of a plan."""
        return self.plans[self.plans["id"] == plan].iloc[0]

    def trials(self, bakes: pd.DataFrame, plan: str) -> pd.DataFrame:
        """Bakes of a plan, with the ratios that the plan moved.

        Those that say that they belong to it; where none does, every bake of
        one of its formulas.
        """
        row = self.plan(plan)
        table: pd.DataFrame = row["trials"]
        own = bakes[bakes["plan"] == row["name"]]
        bakes = own if len(own) else bakes
        moved = self.moved(plan)
        wanted = table[["formula_key", *moved]].drop_duplicates("formula_key")
        kept = bakes.drop(columns=[c for c in moved if c in bakes.columns])
        return kept.merge(wanted, on="formula_key", how="inner")

    def moved(self, plan: str) -> list[str]:
        """Columns of the ratios that a plan moves."""
        table = self.plan(plan)["trials"]
        known = ("trial", "name", "flour_g", "dough_g", "formula_key")
        return [c for c in table.columns if c not in known]


def results_of(bakes: pd.DataFrame) -> list[Choice]:
    """Columns of numbers that bakes have, what comes out of the oven first."""
    found = [c for c in _numbers(bakes, 1) if c in _RESULTS]
    order = {column: place for place, column in enumerate(_FIRST)}
    found = sorted(found, key=lambda c: order.get(c, len(order)))
    return [(axis_title(c), c) for c in found]


def ratios_in(bakes: pd.DataFrame) -> list[Choice]:
    """Columns of numbers that differ between bakes, ratios of the formula first."""
    found = [c for c in _numbers(bakes, _LEAST_VALUES) if c not in _LATER]
    shares = [c for c in found if c.endswith("_pct")]
    found = [*shares, *(c for c in found if c not in shares)]
    return [(axis_title(c), c) for c in found]


def groups_in(bakes: pd.DataFrame, least: int = _LEAST_VALUES) -> list[Choice]:
    """Columns that part the bakes into so many groups at least."""
    return [
        (label, column)
        for label, column in GROUPS
        if column in bakes.columns and len(values_in(bakes, column)) >= least
    ]


def values_in(bakes: pd.DataFrame, column: str) -> Sequence[str]:
    """The values of a column as text, the most frequent first."""
    if column not in bakes.columns:
        return []
    words = bakes[column].dropna().astype(str)
    return words[words != ""].value_counts().index.tolist()


def _numbers(bakes: pd.DataFrame, least: int) -> list[str]:
    """Columns of numbers with so many different values, facts before doubts."""
    found = bakes.select_dtypes("number")
    names = [str(c) for c in found.columns]
    plain = [c for c in names if c != "version" and not c.endswith("_doubt")]
    return [c for c in plain if found[c].dropna().nunique() >= least]


def _said(bakes: pd.DataFrame) -> pd.DataFrame:
    """Yes and no in words, so that a chart can name them."""
    words = {
        column: bakes[column].map({True: yes, False: no}).astype(object)
        for column, (yes, no) in _YES_NO.items()
        if column in bakes.columns
    }
    return bakes.assign(**words)
