"""The best point of a surface as a formula: computed, never baked, and said so."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from bakelab.comparing.data import ComparisonError, joined, rounded
from bakelab.comparing.names import named, with_unit
from bakelab.comparing.surface_words import doubts, none_inside
from bakelab.formula import Assumption, Formula
from bakelab.variants import trial_at

if TYPE_CHECKING:
    from bakelab.comparing.surface import Surface

__all__ = ["best_formula", "best_words", "nearest_trial"]

_SHARE = "_pct"


def best_formula(
    found: "Surface",
    trial: Formula,
    *,
    moved: Sequence[str],
    kind: str,
    plan: str,
) -> Formula:
    """A trial brought to the best point of the surface through the trials.

    Parameters
    ----------
    found : Surface
    trial : Formula
        Any formula of the plan; what the plan does not move stays.
    moved : sequence of str
        Columns that the plan moves, in percent of flour; one that follows from
        the others is worked out from them.
    kind : str
        Of the plan, a key of `bakelab.variants.PLANS`.
    plan : str
        What the plan is called.

    Returns
    -------
    Formula
        Its assumptions say that it was computed, and in which interval.

    Raises
    ------
    ComparisonError
        If the surface has no best point inside what was tried.
    FormulaError
        If the trial cannot be brought there.
    """
    why = none_inside(found)
    if why:
        raise ComparisonError(f"there is no best point to keep: {why}")
    point = {
        column.removesuffix(_SHARE): pct for column, pct in _whole(found, moved).items()
    }
    made = trial_at(trial, point, kind=kind)
    noted = Assumption(
        "best point", f"Best point of {plan}", _spots(found), _basis(found)
    )
    return replace(made, assumptions=(*made.assumptions, noted))


def best_words(found: "Surface") -> str:
    """The point, its interval, that nobody has baked it, and what speaks against it."""
    said = doubts(found)
    doubt = f" The trials leave it open: {'; '.join(said)}." if said else ""
    return (
        f"Computed, not baked: {_spots(found)}.{doubt} Bake it, and compare it with "
        "the trials, before you rely on it."
    )


def nearest_trial(found: "Surface") -> int:
    """Row of `found.trials` whose ratios lie nearest to the best point."""
    coding = found.coding
    columns = list(coding.ratios)
    codes = coding.code(found.trials[columns].to_numpy(dtype=float))
    best = coding.code(found.best.at[columns].to_numpy(dtype=float))
    return int(np.argmin(((codes - best) ** 2).sum(axis=1)))


def _whole(found: "Surface", moved: Sequence[str]) -> dict[str, float]:
    """The best point in every ratio that the plan moves, those that follow as well."""
    free = list(found.ratios)
    rest = [column for column in moved if column not in free]
    at = found.best.at[free].to_numpy(dtype=float)
    ones = np.ones((len(found.trials), 1))
    known = np.hstack([ones, found.trials[free].to_numpy(dtype=float)])
    follow = found.trials[rest].to_numpy(dtype=float)
    weights = np.linalg.lstsq(known, follow, rcond=None)[0]
    ends = np.concatenate([[1.0], at]) @ weights
    values = dict(zip([*free, *rest], [*at, *ends], strict=True))
    return {column: float(values[column]) for column in moved}


def _spots(found: "Surface") -> str:
    best, sure = found.best, f"{100 * found.confidence:g} % interval"
    return joined(
        [
            f"{named(r)} {with_unit(rounded(best.at[r], half), r)} "
            f"({sure} {rounded(best.low[r], half)} to {rounded(best.high[r], half)})"
            for r, half in zip(found.ratios, found.coding.halves, strict=True)
        ]
    )


def _basis(found: "Surface") -> str:
    best, by = found.best, found.spread
    value = with_unit(rounded(best.value, by), found.result)
    return (
        f"computed from {len(found.trials)} trials and none of them; "
        f"{named(found.result)} foretold {value}, one more bake between "
        f"{rounded(best.new_low, by)} and {rounded(best.new_high, by)}"
    )
