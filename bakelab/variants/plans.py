"""Plans of trials: which doughs to bake so that a ratio's effect can be seen."""

import math
import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import pandas as pd

from bakelab.errors import BakelabError, FormulaError
from bakelab.formula import Formula, Row, require_formula
from bakelab.ingredients import ingredient
from bakelab.pans import Pan
from bakelab.scaling import fit
from bakelab.variants import designs
from bakelab.variants.change import set_ratios
from bakelab.variants.designs import MOST_TRIALS, Levels, Point

__all__ = ["PLANS", "Plan", "plan_trials", "trial_at"]

PLANS: Mapping[str, str] = MappingProxyType(
    {
        "one at a time": "one ratio at a time, the others in the middle",
        "full": "every low with every high (full factorial)",
        "fraction": "a balanced part of the full plan (fractional factorial)",
        "curved": "corners, faces and middle (central composite)",
        "blend": "corners, edges and middle of a blend of flours (simplex)",
    }
)
_MAKERS: Mapping[str, Callable[[Levels], list[Point]]] = MappingProxyType(
    {
        "one at a time": designs.one_at_a_time,
        "full": designs.full,
        "fraction": designs.fraction,
        "curved": designs.curved,
        "blend": designs.blend,
    }
)


@dataclass(frozen=True)
class Plan:
    """Trials in the order in which they are baked.

    `frame` has a row per trial: `trial`, `name`, a column for each ratio in
    percent of flour, `flour_g` and `dough_g`. `formulas` stand in the same
    order.
    """

    kind: str
    formulas: tuple[Formula, ...]
    frame: pd.DataFrame
    remarks: tuple[str, ...]

    @property
    def flour_g(self) -> float:
        """All the flour that the plan will take, in g."""
        return float(self.frame["flour_g"].sum())

    @property
    def needs(self) -> pd.DataFrame:
        """What all trials together take: `label`, `mass_g`, largest first."""
        every = pd.concat([f.frame for f in self.formulas])
        sums = every.groupby("label", sort=False)["mass_g"].sum()
        return sums.sort_values(ascending=False, kind="stable").reset_index()

    @property
    def bench(self) -> pd.DataFrame:
        """Grams of every ingredient, a column for each trial, to print.

        A formula in stages names the stage before the ingredient.
        """
        columns = {
            f"{n} {name}": _weights(f)
            for n, (name, f) in enumerate(
                zip(self.frame["name"], self.formulas, strict=True), 1
            )
        }
        return pd.DataFrame(columns).fillna(0.0).round(1)


def plan_trials(
    formula: Formula,
    ratios: Levels,
    *,
    kind: str = "full",
    pan: Pan | str | None = None,
    centres: int = 1,
    seed: int = 1,
) -> Plan:
    """Trials that move ratios between a low and a high percentage.

    Parameters
    ----------
    formula : Formula
        What every trial is made from; its other percentages stay.
    ratios : mapping of str to (low, high)
        What `change` moves, in percent of flour, such as
        ``{"salt": (1.4, 2.2), "water": (62, 70)}``. For ``"blend"`` the
        keys are flours, and low and high the least and most share of all
        weighed flour.
    kind : str
        A key of `PLANS`.
    pan : Pan or str, optional
        The formula is fitted to it, and every trial has as much flour as
        that.
    centres : int
        How often the middle of all bands is baked (the scatter of the house
        shows there).
    seed : int
        Of the random order, which keeps the day's drift out of the ratios.

    Raises
    ------
    FormulaError
        If a band is upside down, the plan is too large, the middle is baked
        less than not at all, or a trial cannot be made from the formula.

    Examples
    --------
    >>> pairs = [("wheat_bread", 500), ("water", 330), ("salt_table", 10)]
    >>> dough = Formula.from_pairs(pairs)
    >>> len(plan_trials(dough, {"salt": (1, 2), "water": (60, 70)}).formulas)
    5
    """
    require_formula(formula)
    if kind not in PLANS:
        raise FormulaError(f"no plan {kind!r}; use one of {', '.join(PLANS)}")
    _check(ratios, kind)
    if centres < 0:
        raise FormulaError(
            f"the middle cannot be baked {centres} times; give centres of 0 or more"
        )
    centre = designs.blend_middle if kind == "blend" else designs.middle
    points = _MAKERS[kind](ratios)
    points += [centre(ratios)] * centres
    if len(points) > MOST_TRIALS:
        raise FormulaError(
            f"that plan has {len(points)} trials, more than {MOST_TRIALS}: "
            "move fewer ratios, or take a fraction"
        )
    random.Random(seed).shuffle(points)
    base = formula if pan is None else _sized(formula, pan)
    made = tuple(trial_at(base, point, kind=kind) for point in points)
    remarks = _remarks(formula, ratios, kind, sized=pan is not None)
    return Plan(kind, made, _frame(made, points), remarks)


def trial_at(formula: Formula, point: Mapping[str, float], *, kind: str) -> Formula:
    """The formula at a point, made as the trials of a plan of that kind are.

    Parameters
    ----------
    formula : Formula
        What the trials are made from, or any of them.
    point : mapping of str to float
        What the plan moves, in percent of flour; all flours of a ``"blend"``.
    kind : str
        A key of `PLANS`.

    Raises
    ------
    FormulaError
        If there is no such plan, or the formula cannot be brought there.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 500), ("salt_table", 10)])
    >>> round(trial_at(dough, {"salt": 1.8}, kind="full").role_g("salt"), 9)
    9.0
    """
    if kind not in PLANS:
        raise FormulaError(f"no plan {kind!r}; use one of {', '.join(PLANS)}")
    return _blended(formula, point) if kind == "blend" else set_ratios(formula, point)


def _check(ratios: Levels, kind: str) -> None:
    if not ratios or (kind in ("fraction", "curved", "blend") and len(ratios) < 2):
        least = 1 if kind not in ("fraction", "curved", "blend") else 2
        raise FormulaError(
            f"got {len(ratios)} ratios; a plan of the kind {kind!r} moves {least} at "
            "least, each with a low and a high"
        )
    for what, levels in ratios.items():
        if not isinstance(levels, Sequence) or len(levels) != 2:
            raise FormulaError(
                f"{what} has the levels {levels}; give a low and a high, such as "
                "(1.5, 2)"
            )
        low, high = levels
        if not (math.isfinite(low) and math.isfinite(high) and 0 <= low < high):
            raise FormulaError(
                f"{what} goes from {low} to {high} %; give a low and a higher one"
            )
        if kind == "blend" and ingredient(what).role not in ("flour", "other"):
            raise FormulaError(f"{ingredient(what).name} is no flour to blend")


def _remarks(
    formula: Formula, ratios: Levels, kind: str, *, sized: bool
) -> tuple[str, ...]:
    said = ["every trial is sized to the same pan"] if sized else []
    if kind == "fraction":
        said += designs.mixed_up(list(ratios))
    if kind == "blend":
        out = [
            r.label
            for r in formula.rows
            if r.role == "flour" and r.ingredient not in ratios
        ]
        if out:
            names = ", ".join(dict.fromkeys(out))
            said.append(f"left out of the trials, as it is not in the blend: {names}")
    return tuple(said)


def _blended(formula: Formula, point: Mapping[str, float]) -> Formula:
    """The flour of every stage shared out, so that the stage keeps its flour."""
    rows: list[Row] = []
    done: set[str] = set()
    for row in formula.rows:
        if row.role != "flour":
            rows.append(row)
        elif row.stage not in done:
            done.add(row.stage)
            rows += _shared(formula, row.stage, point)
    return formula.with_rows(rows)


def _shared(formula: Formula, stage: str, point: Mapping[str, float]) -> list[Row]:
    total_g = math.fsum(
        r.mass_g for r in formula.rows if r.role == "flour" and r.stage == stage
    )
    return [
        Row(stage, key, ingredient(key).name, "flour", total_g * pct / 100)
        for key, pct in point.items()
        if pct > 0
    ]


def _sized(formula: Formula, pan: Pan | str) -> Formula:
    way = "volume" if formula.stated_pan else "loading"
    try:
        return fit(formula, to=pan, by=way).formula
    except BakelabError as error:
        raise FormulaError(f"the trials cannot be sized to the pan: {error}") from None


def _weights(formula: Formula) -> "pd.Series[float]":
    frame = formula.frame
    if len(formula.stages) > 1:
        frame["label"] = frame["stage"] + ": " + frame["label"]
    return frame.groupby("label", sort=False)["mass_g"].sum()


def _frame(formulas: Sequence[Formula], points: Sequence[Point]) -> pd.DataFrame:
    records = [
        {
            "trial": n,
            "name": ", ".join(f"{what} {pct:.4g} %" for what, pct in point.items()),
            **{f"{what}_pct": pct for what, pct in point.items()},
            "flour_g": f.flour_g,
            "dough_g": f.dough_g,
        }
        for n, (f, point) in enumerate(zip(formulas, points, strict=True), 1)
    ]
    return pd.DataFrame(records)
