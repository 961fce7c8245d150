"""What a book holds beside the bakes: formulas, the house, tastings, plans."""

from collections.abc import Mapping
from typing import Any

import pandas as pd

from bakelab.bakebook import house as _house
from bakelab.bakebook import kept_formulas as _kept
from bakelab.bakebook import sessions
from bakelab.bakebook.opened import OpenBook
from bakelab.formula import Formula
from bakelab.variants import Plan

__all__ = ["Shelf"]


class Shelf(OpenBook):
    """The verbs of `BakeBook` for everything but the bakes."""

    def keep(
        self,
        formula: Formula,
        *,
        parent: str | None = None,
        change: str = "",
        name: str = "",
    ) -> str:
        """Keep a formula for good; the same one is kept once. Gives its key."""
        with self._writing() as db:
            return _kept.keep(
                db, formula, parent=parent, change=change, name=name, who=self.who
            )

    def formula(self, key: str) -> Formula:
        """The formula of a key, exactly as it was kept."""
        with self._reading() as db:
            return _kept.formula_of(db, key)

    def formulas(self, *, retired: bool = False) -> pd.DataFrame:
        """A row per formula, the last kept first, with how often it was baked."""
        with self._reading() as db:
            return _kept.formulas(db, retired=retired)

    def own(self, kind: str, name: str, **facts: Any) -> str:
        """Note a pan, flour, scale, oven or price of the house. Gives its id."""
        with self._writing() as db:
            return _house.own(db, kind, name, facts, self.who)

    def house(self, kind: str, *, retired: bool = False) -> pd.DataFrame:
        """All things of a kind that the house has."""
        with self._reading() as db:
            return _house.house(db, kind, retired=retired)

    def serve(self, kind: str, plan: Any, *, key: Any = None, name: str = "") -> str:
        """Keep a tasting as it is served, its key apart. Gives its id."""
        with self._writing() as db:
            return sessions.serve(db, kind, plan, key=key, name=name, who=self.who)

    def answer(
        self,
        tasting: str,
        answers: Mapping[str, Any],
        *,
        verdict: Any = None,
        version: int | None = None,
    ) -> int:
        """Add answers by taster, and the verdict when there is one."""
        with self._writing() as db:
            return sessions.answer(
                db, tasting, answers, verdict=verdict, version=version, who=self.who
            )

    def tastings(self, *, retired: bool = False) -> pd.DataFrame:
        """A row per tasting, the last planned first."""
        with self._reading() as db:
            return sessions.tastings(db, retired=retired)

    def plan(self, trials: Plan, name: str) -> str:
        """Keep a plan of trials with all its formulas. Gives its id."""
        with self._writing() as db:
            return sessions.add_plan(db, trials, name, self.who)

    def plans(self, *, retired: bool = False) -> pd.DataFrame:
        """A row per plan; `trials` holds a table with the formulas' keys."""
        with self._reading() as db:
            return sessions.plans(db, retired=retired)
