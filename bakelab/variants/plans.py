"""Plans of trials: which doughs to bake so that a ratio's effect can be seen."""

import itertools
import math
import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
import pandas as pd

from bakelab.errors import BakelabError, FormulaError
from bakelab.formula import Formula, Row
from bakelab.ingredients import ingredient
from bakelab.pans import Pan
from bakelab.scaling import fit
from bakelab.variants.change import change

__all__ = ["PLANS", "Plan", "plan_trials"]

_MOST_TRIALS = 256
_FRACTIONS = {3: "a b ab", 4: "a b c abc", 5: "a b c d abcd", 6: "a b c d abc bcd",
              7: "a b c d abc bcd acd"}  # fmt: skip


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
    def bench(self) -> pd.DataFrame:
        """Grams of every ingredient, a column for each trial, to print."""
        columns = {
            f"{n} {name}": f.frame.groupby("label", sort=False)["mass_g"].sum()
            for n, (name, f) in enumerate(
                zip(self.frame["name"], self.formulas, strict=True), 1
            )
        }
        return pd.DataFrame(columns).fillna(0.0).round(1)


Levels = Mapping[str, tuple[float, float]]


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
        What the trials start from; it is the first centre.
    ratios : mapping of str to (low, high)
        What `change` moves, in percent of flour, such as
        ``{"salt": (1.4, 2.2), "water": (62, 70)}``. For ``"blend"`` the
        keys are flours, and low and high the least and most share.
    kind : str
        A key of `PLANS`.
    pan : Pan or str, optional
        Every trial is sized to it.
    centres : int
        How often the middle is baked (the scatter of the house shows there).
    seed : int
        Of the random order, which keeps the day's drift out of the ratios.

    Raises
    ------
    FormulaError
        If a band is upside down, or the plan is too large.

    Examples
    --------
    >>> pairs = [("wheat_bread", 500), ("water", 330), ("salt_table", 10)]
    >>> dough = Formula.from_pairs(pairs)
    >>> len(plan_trials(dough, {"salt": (1, 2), "water": (60, 70)}).formulas)
    5
    """
    if kind not in PLANS:
        raise FormulaError(f"no plan {kind!r}; use one of {list(PLANS)}")
    _check(ratios, kind)
    points = [*_MAKERS[kind](ratios), *([_middle(ratios)] * _centres(kind, centres))]
    if len(points) > _MOST_TRIALS:
        raise FormulaError(
            f"that plan has {len(points)} trials, more than {_MOST_TRIALS}: "
            "move fewer ratios, or take a fraction"
        )
    random.Random(seed).shuffle(points)
    made, remarks = _made(formula, points, pan, kind)
    return Plan(kind, made, _frame(made, points), tuple(dict.fromkeys(remarks)))


def _check(ratios: Levels, kind: str) -> None:
    if not ratios or (kind in ("fraction", "curved", "blend") and len(ratios) < 2):
        raise FormulaError(f"more ratios have to move in this plan: {PLANS[kind]}")
    for what, (low, high) in ratios.items():
        if not (math.isfinite(low) and math.isfinite(high) and 0 <= low < high):
            raise FormulaError(
                f"{what} goes from {low} to {high} %; give a low and a higher one"
            )


def _centres(kind: str, centres: int) -> int:
    return 0 if kind == "blend" else max(0, centres)


Point = dict[str, float]


def _middle(ratios: Levels) -> Point:
    return {what: (low + high) / 2 for what, (low, high) in ratios.items()}


def _coded(ratios: Levels, rows: Sequence[Sequence[float]]) -> list[Point]:
    """Points from rows of -1 (low) to +1 (high)."""
    return [
        {
            what: (low + high) / 2 + (high - low) / 2 * code
            for (what, (low, high)), code in zip(ratios.items(), row, strict=True)
        }
        for row in rows
    ]


def _one_at_a_time(ratios: Levels) -> list[Point]:
    middle = _middle(ratios)
    return [middle | {what: end} for what, ends in ratios.items() for end in ends]


def _full(ratios: Levels) -> list[Point]:
    if 2 ** len(ratios) > _MOST_TRIALS:
        raise FormulaError(
            f"{len(ratios)} ratios give too many trials; take a fraction"
        )
    return _coded(ratios, list(itertools.product((-1.0, 1.0), repeat=len(ratios))))


def _fraction(ratios: Levels) -> list[Point]:
    import pyDOE3

    words = _FRACTIONS.get(len(ratios))
    if words is None:
        if len(ratios) == 2:
            return _full(ratios)
        raise FormulaError(
            f"a fraction is planned for 3 to 7 ratios, got {len(ratios)}"
        )
    return _coded(ratios, pyDOE3.fracfact(words).tolist())


def _curved(ratios: Levels) -> list[Point]:
    """A central composite plan with its axial points on the faces."""
    import pyDOE3

    rows = pyDOE3.ccdesign(len(ratios), center=(0, 0), face="ccf")
    return _coded(ratios, rows.tolist())


def _blend(ratios: Levels) -> list[Point]:
    """Corners, edges and the middle of a simplex between least and most shares."""
    keys = list(ratios)
    lows = [ratios[k][0] for k in keys]
    free = 100.0 - sum(lows)
    if free <= 0:
        raise FormulaError("the least shares of the flours are over 100 % together")
    corners = np.eye(len(keys))
    edges = [(a + b) / 2 for a, b in itertools.combinations(corners, 2)]
    whole = [*corners, *edges, corners.mean(axis=0)]
    points = [
        {k: low + free * part for k, low, part in zip(keys, lows, row, strict=True)}
        for row in whole
    ]
    return [p for p in points if all(p[k] <= ratios[k][1] + 1e-9 for k in keys)]


def _made(
    formula: Formula, points: Sequence[Point], pan: Pan | str | None, kind: str
) -> tuple[tuple[Formula, ...], list[str]]:
    made, remarks = [], []
    for point in points:
        trial = formula
        if kind == "blend":
            trial = _blended(formula, point)
        else:
            for what, pct in point.items():
                trial = change(trial, what, to=pct).formula
        if pan is not None:
            trial = _sized(trial, pan)
        made.append(trial)
    if pan is not None:
        remarks.append("every trial is sized to the same pan")
    return tuple(made), remarks


def _blended(formula: Formula, point: Point) -> Formula:
    """All weighed flour shared out at once, in percent of it."""
    flours = [r for r in formula.rows if r.role == "flour"]
    total_g = math.fsum(r.mass_g for r in flours)
    stage = flours[0].stage if flours else "dough"
    rows = [
        Row(stage, key, ingredient(key).name, "flour", total_g * pct / 100)
        for key, pct in point.items()
        if pct > 0
    ]
    return formula.with_rows([*rows, *(r for r in formula.rows if r.role != "flour")])


def _sized(trial: Formula, pan: Pan | str) -> Formula:
    way = "volume" if trial.stated_pan else "loading"
    try:
        return fit(trial, to=pan, by=way).formula
    except BakelabError as error:
        raise FormulaError(f"the trials cannot be sized to the pan: {error}") from None


def _frame(formulas: Sequence[Formula], points: Sequence[Point]) -> pd.DataFrame:
    records = [
        {
            "trial": n,
            "name": ", ".join(f"{what} {pct:g} %" for what, pct in point.items()),
            **{f"{what}_pct": pct for what, pct in point.items()},
            "flour_g": f.flour_g,
            "dough_g": f.dough_g,
        }
        for n, (f, point) in enumerate(zip(formulas, points, strict=True), 1)
    ]
    return pd.DataFrame(records)


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
        "one at a time": _one_at_a_time,
        "full": _full,
        "fraction": _fraction,
        "curved": _curved,
        "blend": _blend,
    }
)
