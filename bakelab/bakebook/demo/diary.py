"""Half a year in the invented test kitchen: what was baked when, and what happened."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import timedelta

import numpy as np

from bakelab.bakebook.demo.failures import FAILURES
from bakelab.bakebook.demo.made import Baker, MadeBake, Wanted
from bakelab.bakebook.demo.recipes import (
    LARGE_TIN,
    PAIRS_NAME,
    PLAN_NAME,
    SMALL_TIN,
    DemoFormula,
)
from bakelab.bakebook.demo.truth import FIRST_DAY, TRUTH, core_curve, plan_volume_cm3_g
from bakelab.formula import Formula
from bakelab.variants import Plan

__all__ = ["diary"]

WEEKS, PAIRS = 24, 8
LARGE_G, SMALL_G = 727.0, 459.0
_AFTER_SHIFT = {  # what was noted, by weeks since the other flour came
    0: (
        "First bag of lot **LM-17**: protein on the bag 11.2 %, the old lot had 12.6 %."
    ),
    3: "The third *low* loaf in a row. Chance, or the flour?",
}


class _Year:
    """Everything that was baked, series by series."""

    def __init__(
        self,
        formulas: Mapping[str, DemoFormula],
        plan: Plan,
        rng: np.random.Generator,
        jars: np.random.Generator,
    ) -> None:
        self._formulas, self._plan = formulas, plan
        self._baker = Baker(rng, jars)
        self._scatter = self._baker.scatter
        mill = formulas["mill"].formula
        self._large = core_curve(mill, LARGE_TIN, LARGE_G, set_c=220.0)
        self._small = core_curve(mill, SMALL_TIN, SMALL_G, set_c=220.0)

    def all(self) -> Iterator[MadeBake]:
        for wanted in (
            *self._weekly(),
            *self._pairs(),
            *self._less_salt(),
            *self._others(),
            *self._failures(),
        ):
            yield self._baker.bake(wanted, self._formulas[wanted.formula].formula)
        for wanted, formula in self._trials():
            yield self._baker.bake(wanted, formula)

    def _weekly(self) -> Iterator[Wanted]:
        """The house loaf, every Thursday; after 15 weeks another flour came."""
        shift = int(TRUTH["shift_after_bakes"])
        for week in range(WEEKS):
            new = week >= shift
            volume = TRUTH["house_volume_cm3_g"] + TRUTH["shift_cm3_g"] * new
            note = _AFTER_SHIFT.get(week - shift)
            yield Wanted(
                "mill",
                FIRST_DAY + timedelta(days=7 * week),
                volume_cm3_g=volume + self._scatter(TRUTH["house_volume_spread_cm3_g"]),
                loss_pct=TRUTH["large_loss_pct"] + self._scatter(0.5),
                curve=self._large,
                probe=week % 2 == 0,
                jar=week % 3 == 0,
                heights=week % 3 == 1,
                tags=("house loaf", "weekly"),
                notes=(note,) if note else (),
                picture="cut of the house loaf" if week % 4 == 0 else None,
                lot="LM-17" if new else "LM-04",
            )

    def _pairs(self) -> Iterator[Wanted]:
        """One dough, two tins, the same morning."""
        for day in range(PAIRS):
            at = FIRST_DAY + timedelta(days=26 + 7 * day, hours=1)
            of_day = self._scatter(0.08)
            loss_pct = TRUTH["large_loss_pct"] + self._scatter(0.4)
            for tin, dough_g, more, curve, minutes in (
                (LARGE_TIN, LARGE_G, 0.0, self._large, 34.0),
                (SMALL_TIN, SMALL_G, TRUTH["small_more_loss_pct"], self._small, 30.0),
            ):
                yield Wanted(
                    "mill",
                    at,
                    tin=tin,
                    dough_g=dough_g,
                    bake_min=minutes,
                    volume_cm3_g=4.28 + of_day + self._scatter(0.06),
                    loss_pct=loss_pct
                    + more
                    + self._scatter(TRUTH["pair_loss_spread_pct"] / 2**0.5),
                    curve=curve,
                    probe=day < 3,
                    tags=("two sizes",),
                    plan=PAIRS_NAME,
                    trial=f"pair {day + 1}",
                    who="Benno",
                )

    def _trials(self) -> Iterator[tuple[Wanted, Formula]]:
        """The plan of trials, four on a Saturday."""
        rows = self._plan.frame.to_dict("records")
        for n, (row, formula) in enumerate(zip(rows, self._plan.formulas, strict=True)):
            volume = plan_volume_cm3_g(
                water_pct=row["water_pct"], yeast_pct=row["yeast_pct"]
            )
            day = FIRST_DAY + timedelta(days=58 + 7 * (n // 4))
            wanted = Wanted(
                "mill",
                day + timedelta(minutes=45 * (n % 4)),
                tin=SMALL_TIN,
                dough_g=formula.dough_g,
                volume_cm3_g=volume + self._scatter(TRUTH["plan_spread_cm3_g"]),
                loss_pct=12.6 + 0.05 * (64 - row["water_pct"]) + self._scatter(0.3),
                bake_min=30.0,
                curve=self._small,
                tags=("plan of trials",),
                plan=PLAN_NAME,
                trial=str(row["trial"]),
                who="Tamsin",
            )
            yield wanted, formula

    def _less_salt(self) -> Iterator[Wanted]:
        for week in range(3):
            yield Wanted(
                "less salt",
                FIRST_DAY + timedelta(days=33 + 14 * week, hours=2),
                volume_cm3_g=4.45 + self._scatter(0.08),
                loss_pct=11.4 + self._scatter(0.4),
                curve=self._large,
                taste=6.3,
                tags=("less salt",),
                notes=("Rises faster. Do tasters notice? See the tasting.",)
                * (week == 2),
                picture="cut of the loaf with less salt" if week == 1 else None,
            )

    def _others(self) -> Iterator[Wanted]:
        """Rye, whole wheat, milk bread: the rest of the shelf."""
        plans = (
            ("rye", 4, 718.0, 3.0, 12.4, 42.0, "rye", "rye of the week", 12),
            ("whole", 3, 740.0, 3.4, 11.8, 36.0, "whole", "whole wheat", 19),
            ("wetter", 2, 760.0, 3.55, 12.0, 37.0, "whole", "whole wheat", 47),
            ("milk", 3, 770.0, 4.5, 9.8, 32.0, "white", "holidays", 85),
        )
        for key, count, dough_g, volume, loss, minutes, crumb, tag, first in plans:
            for n in range(count):
                yield Wanted(
                    key,
                    FIRST_DAY + timedelta(days=first + 14 * n, hours=3),
                    dough_g=dough_g,
                    volume_cm3_g=volume + self._scatter(0.1),
                    loss_pct=loss + self._scatter(0.5),
                    bake_min=minutes,
                    proof_min=90.0 if key == "rye" else 60.0,
                    jar=n == 0,
                    crumb=crumb,
                    tags=(tag,),
                    picture=f"cut: {tag}" if n == 0 else None,
                    facts={"dough_ph": round(4.4 + self._scatter(0.1), 2)}
                    if key == "rye"
                    else {},
                )

    def _failures(self) -> Iterator[Wanted]:
        for wanted in FAILURES:
            baked = wanted.formula == "mill" and not wanted.retired_why
            yield replace(wanted, curve=self._large) if baked else wanted


def diary(
    formulas: Mapping[str, DemoFormula],
    plan: Plan,
    rng: np.random.Generator,
    jars: np.random.Generator,
) -> list[MadeBake]:
    """Every bake, in the order in which they were begun."""
    made = list(_Year(formulas, plan, rng, jars).all())
    return sorted(made, key=lambda bake: (bake.wanted.at, bake.wanted.tin))
