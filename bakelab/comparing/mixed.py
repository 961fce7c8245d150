"""Variants over several doughs or days: what differs, apart from the batch."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from bakelab.comparing.against_words import chance
from bakelab.comparing.batches import BatchFit, fit_batches
from bakelab.comparing.data import (
    ComparisonError,
    check_confidence,
    counted,
    number,
    rounded,
    usable,
)
from bakelab.comparing.names import named, with_unit
from bakelab.comparing.tails import t_chance, t_reach

__all__ = ["Mixed", "mixed_comparison"]

_SHOWN = 0.05  # common practice, no source
_MOST_TOLD = 4
_MOST_LEVELS = 60


@dataclass(frozen=True)
class Mixed:
    """A comparison with the batch as a random part.

    `effects` has a row per fixed term: `term`, `estimate`, `error`,
    `degrees`, `low`, `high`, `p_value`; a level of `by` stands against
    `reference`. `points` has a row per bake: `level`, `batch`, `y`.
    `batch_spread` and `bake_spread` are standard deviations between batches
    and between bakes of one batch.
    """

    result: str
    by: str
    batch: str
    reference: str
    confidence: float
    effects: pd.DataFrame
    points: pd.DataFrame
    batches: int
    batch_spread: float
    bake_spread: float
    log_likelihood: float
    remarks: tuple[str, ...]

    @property
    def batch_share(self) -> float:
        """Part of the scatter that lies between batches, from 0 to 1."""
        whole = self.batch_spread**2 + self.bake_spread**2
        return self.batch_spread**2 / whole if whole > 0 else 0.0

    @property
    def text(self) -> str:
        """What was found in plain sentences."""
        return " ".join(_sentences(self))


def mixed_comparison(
    frame: pd.DataFrame,
    *,
    result: str,
    by: str,
    batch: str,
    also: Sequence[str] = (),
    reference: str | None = None,
    confidence: float = 0.95,
    restricted: bool = True,
) -> Mixed:
    """Compare variants while batches (doughs, days, ovens) differ at random.

    Parameters
    ----------
    frame : DataFrame
        A row per bake.
    result : str
    by : str
        Column of what is compared, taken as a name.
    batch : str
        Column of the batch. Give one that is unique to a batch: two doughs
        of different variants are two batches.
    also : sequence of str
        Further columns that are allowed for, numbers as a slope.
    reference : str, optional
        The value of `by` that the others stand against; the one with the
        most bakes by default.
    confidence : float
    restricted : bool
        Restricted maximum likelihood, or plain.

    Raises
    ------
    ComparisonError
        If no batch holds more than one bake, or variants cannot be told
        from batches.

    Notes
    -----
    A linear model with a random intercept per batch (`fit_batches`). Intervals are by
    Student's t with the degrees of freedom of the level at which a term
    changes, within or between batches.

    References
    ----------
    J. C. Pinheiro and D. M. Bates, Mixed-Effects Models in S and S-PLUS,
    Springer, 2000, section 2.4.2.
    """
    check_confidence(confidence)
    numeric = [
        c for c in also if c in frame and pd.api.types.is_numeric_dtype(frame[c])
    ]
    words = [by, batch, *(c for c in also if c not in numeric)]
    kept, remarks = usable(frame, numbers=[result, *numeric], words=words)
    kept, reference = _led(kept, by, reference)
    columns = _columns(kept, by, also, numeric)
    _enough(kept, by, batch)
    _scatter_is_left(kept[result], columns.shape[1])
    degrees = _degrees(columns, kept[batch])
    found = _fitted(kept[result], columns, kept[batch], restricted=restricted)
    if found.between == 0:
        remarks += (
            "batches differ no more than bakes within one, so they add nothing",
        )
    points = pd.DataFrame({"level": kept[by], "batch": kept[batch], "y": kept[result]})
    return Mixed(
        result, by, batch, reference, confidence,
        _effects(columns, found, degrees, confidence), points,
        int(kept[batch].nunique()), math.sqrt(found.between), math.sqrt(found.within),
        found.log_likelihood, remarks,
    )  # fmt: skip


def _fitted(
    results: "pd.Series[float]",
    columns: pd.DataFrame,
    batches: "pd.Series[str]",
    *,
    restricted: bool,
) -> BatchFit:
    codes, _ = pd.factorize(batches)
    y = results.to_numpy(dtype=float)
    table = columns.to_numpy(dtype=float)
    return fit_batches(y, table, codes, restricted=restricted)


def _scatter_is_left(results: "pd.Series[float]", terms: int) -> None:
    if len(results) <= terms or not results.max() > results.min():
        raise ComparisonError(
            f"{counted(len(results), 'bake')} for {counted(terms, 'term')}, "
            "or all alike: no scatter is left to judge by; bake more"
        )


def _columns(
    kept: pd.DataFrame, by: str, also: Sequence[str], numeric: Sequence[str]
) -> pd.DataFrame:
    """Intercept, a column for every level of `by` but the first, and the rest."""
    parts = [pd.DataFrame({"mean of the reference": 1.0}, index=kept.index)]
    for column in (by, *also):
        if column in numeric:
            parts.append(kept[[column]].rename(columns={column: named(column)}))
            continue
        levels = _levels(kept, column)
        # A level of `by` keeps its own name, that of another column says whose it is.
        lead = "" if column == by else f"{named(column)} "
        parts.append(
            pd.DataFrame({f"{lead}{v}": (kept[column] == v) * 1.0 for v in levels[1:]})
        )
    columns = pd.concat(parts, axis=1)
    table = columns.to_numpy(dtype=float)
    table = table / np.abs(table).max(axis=0).clip(min=1e-300)
    if np.linalg.matrix_rank(table, tol=1e-8 * len(table)) < columns.shape[1]:
        raise ComparisonError(
            f"{named(by)} cannot be told from the other columns in these bakes; leave "
            "one of them out"
        )
    return columns


def _levels(kept: pd.DataFrame, column: str) -> list[str]:
    """The values of a column of names, in the order of the bakes."""
    levels = list(dict.fromkeys(kept[column]))
    if len(levels) < 2:
        raise ComparisonError(
            f"{named(column)} has only one value, {levels[0]}; choose bakes of two "
            "at least"
        )
    if len(levels) > _MOST_LEVELS:
        raise ComparisonError(
            f"{len(levels)} values of {named(column)} are too many to set against "
            f"each other; choose bakes of {_MOST_LEVELS} at most"
        )
    return levels


def _led(
    kept: pd.DataFrame, by: str, reference: str | None
) -> tuple[pd.DataFrame, str]:
    """The bakes with those of the reference first."""
    counts = kept[by].value_counts()
    most = next(v for v in kept[by] if counts[v] == counts.max())
    leader = most if reference is None else reference
    if leader not in counts.index:
        raise ComparisonError(
            f"no bake with {named(by)} {leader}; there are {', '.join(counts.index)}"
        )
    first = kept[by] == leader
    return pd.concat([kept[first], kept[~first]]).reset_index(drop=True), str(leader)


def _enough(kept: pd.DataFrame, by: str, batch: str) -> None:
    sizes = kept.groupby(batch).size()
    if len(sizes) < 2 or sizes.max() < 2:
        raise ComparisonError(
            f"{counted(len(sizes), 'batch').replace('batchs', 'batches')} with "
            f"{sizes.max()} bake at most in one; batches tell something where two or "
            "more hold two bakes or more"
        )
    single = (kept.groupby(batch)[by].nunique() == 1).all()
    if single and len(sizes) <= kept[by].nunique():
        raise ComparisonError(
            f"each {named(by)} was baked in one batch only, so it cannot be told from "
            "the batch; bake each in two batches or more"
        )


def _degrees(columns: pd.DataFrame, batch: "pd.Series[str]") -> list[int]:
    """Degrees of freedom of each column: of its level, between or within."""
    spans = columns.groupby(batch.to_numpy()).agg(np.ptp)
    outer = [bool((spans[c] < 1e-12).all()) for c in columns.columns]
    batches = int(batch.nunique())
    between = batches - sum(outer)
    within = len(columns) - batches - (len(outer) - sum(outer))
    return [max(1, between if out else within) for out in outer]


def _effects(
    columns: pd.DataFrame,
    found: BatchFit,
    degrees: Sequence[int],
    confidence: float,
) -> pd.DataFrame:
    reach = np.array([t_reach(confidence, d) for d in degrees]) * found.errors
    ratios = found.estimates / np.where(found.errors > 0, found.errors, np.nan)
    return pd.DataFrame(
        {
            "term": list(columns.columns),
            "estimate": found.estimates,
            "error": found.errors,
            "degrees": list(degrees),
            "low": found.estimates - reach,
            "high": found.estimates + reach,
            "p_value": [t_chance(r, d) for r, d in zip(ratios, degrees, strict=True)],
        }
    )


def _sentences(found: Mixed) -> list[str]:
    bakes = counted(len(found.points), "bake")
    said = [f"{bakes} in {found.batches} batches, each against {found.reference}."]
    levels = list(dict.fromkeys(found.points["level"]))[1:]
    table = found.effects.set_index("term")
    for level in levels[:_MOST_TOLD]:
        row = table.loc[level]
        by = float(row["error"])
        amount = with_unit(rounded(float(row["estimate"]), by), found.result)
        sign = "+" if row["estimate"] > 0 else ""
        shown = "a difference" if row["p_value"] <= _SHOWN else "no difference shown"
        said.append(
            f"{level}: {sign}{amount} ({100 * found.confidence:g} % interval "
            f"{rounded(float(row['low']), by)} to {rounded(float(row['high']), by)}, "
            f"chance {chance(float(row['p_value']))}: {shown})."
        )
    if len(levels) > _MOST_TOLD:
        said.append(f"{len(levels) - _MOST_TOLD} more stand in the table.")
    spread = with_unit(number(found.batch_spread), found.result)
    said.append(
        f"Batches scatter by {spread}, bakes within one by "
        f"{number(found.bake_spread)}: {100 * found.batch_share:.0f} % of the scatter "
        f"in {named(found.result)} is the batch."
    )
    return said
