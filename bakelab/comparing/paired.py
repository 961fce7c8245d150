"""Two sizes baked in pairs: the difference, exactly where pairs are few."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pandas as pd

from bakelab.comparing.against_words import chance
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

__all__ = ["MOST_EXACT", "Paired", "paired", "signed_rank_interval"]

MOST_EXACT = 15
"""Up to so many pairs the interval and the chance are exact."""

_SHOWN = 0.05  # common practice, no source


@dataclass(frozen=True)
class Paired:
    """Second minus first, pair by pair.

    `pairs` has a row per pair: `pair`, `first`, `second`, `difference`.
    `low` and `high` hold with at least the `attained` confidence, which is
    less than asked where the pairs are too few for more.
    """

    result: str
    first: str
    second: str
    confidence: float
    pairs: pd.DataFrame
    mean: float
    middle: float
    low: float
    high: float
    attained: float
    p_value: float
    method: str
    t_low: float
    t_high: float
    remarks: tuple[str, ...]

    @property
    def text(self) -> str:
        """What was found in plain sentences."""
        return " ".join(_sentences(self))


def paired(
    frame: pd.DataFrame,
    *,
    result: str,
    by: str,
    pair: str,
    first: str,
    second: str,
    confidence: float = 0.95,
) -> Paired:
    """Compare two sizes (or lids, flours, ovens) that were baked together.

    Parameters
    ----------
    frame : DataFrame
        A row per bake.
    result : str
    by : str
        Column that tells the two apart, such as `pan`.
    pair : str
        Column that is alike within a pair, such as a day or a dough.
    first, second : str
        The two values of `by`; differences are second minus first.
    confidence : float

    Notes
    -----
    Up to `MOST_EXACT` pairs: the median of the Walsh averages with the exact
    interval of the signed-rank test, and the exact chance over every way of
    turning the differences around. It is assumed that differences scatter
    evenly to both sides. Above that Student's t.

    References
    ----------
    M. Hollander and D. A. Wolfe, Nonparametric Statistical Methods, 1973,
    section 3.
    """
    if first == second:
        raise ComparisonError(f"{first} stands against itself; choose two that differ")
    check_confidence(confidence)
    kept, remarks = usable(frame, numbers=[result], words=[by, pair])
    pairs, more = _pairs(kept, result, by, pair, first, second)
    away = pairs["difference"].to_numpy()
    t_low, t_high, t_chance = _student(away, confidence)
    if len(away) > MOST_EXACT:
        middle, low, high, attained, p = (
            float(np.median(away)), t_low, t_high, confidence, t_chance)  # fmt: skip
        method = "Student's t"
    else:
        middle, low, high, attained = signed_rank_interval(away, confidence=confidence)
        p, method = _turned_around(away), "exact"
    return Paired(
        result, first, second, confidence, pairs, float(away.mean()), middle, low,
        high, attained, p, method, t_low, t_high, (*remarks, *more),
    )  # fmt: skip


def signed_rank_interval(
    differences: npt.NDArray[np.float64], *, confidence: float = 0.95
) -> tuple[float, float, float, float]:
    """Middle, low, high and attained confidence of the exact signed-rank interval.

    Examples
    --------
    >>> signed_rank_interval(np.array([1.0, 2.0, 3.0]))[3]
    0.75
    """
    n = len(differences)
    one, other = np.triu_indices(n)
    averages = np.sort((differences[one] + differences[other]) / 2)
    tails = np.cumsum(_rank_sums(n)) / 2.0**n
    wanted = (1 - confidence) / 2
    place = max(1, int(np.searchsorted(tails, wanted, side="right")))
    attained = 1 - 2 * float(tails[place - 1])
    low, high = averages[place - 1], averages[len(averages) - place]
    return float(np.median(averages)), float(low), float(high), attained


def _rank_sums(n: int) -> npt.NDArray[np.float64]:
    """In how many ways the ranks 1 to n, each taken or not, make each sum."""
    ways = np.zeros(n * (n + 1) // 2 + 1)
    ways[0] = 1
    for rank in range(1, n + 1):
        ways[rank:] = ways[rank:] + ways[:-rank]
    return ways


def _turned_around(differences: npt.NDArray[np.float64]) -> float:
    """Share of all sign patterns whose mean is as far from 0, or farther."""
    n = len(differences)
    bits = (np.arange(2**n)[:, None] >> np.arange(n)) & 1
    sums = np.abs((2 * bits - 1) @ differences)
    seen = abs(float(differences.sum()))
    return float((sums >= seen - 1e-9 * max(1.0, seen)).mean())


def _student(
    differences: npt.NDArray[np.float64], confidence: float
) -> tuple[float, float, float]:
    n, mean = len(differences), float(differences.mean())
    error = float(differences.std(ddof=1)) / math.sqrt(n)
    reach = t_reach(confidence, n - 1) * error
    p = t_chance(mean / error, n - 1) if error > 0 else float(mean == 0)
    return mean - reach, mean + reach, p


def _pairs(
    kept: pd.DataFrame, result: str, by: str, pair: str, first: str, second: str
) -> tuple[pd.DataFrame, tuple[str, ...]]:
    for value in (first, second):
        if not (kept[by] == value).any():
            known = ", ".join(dict.fromkeys(kept[by]))
            raise ComparisonError(
                f"no bake with {named(by)} {value}; there are {known}"
            )
    two = kept[kept[by].isin([first, second])]
    wide = two.pivot_table(index=pair, columns=by, values=result, sort=False)
    whole = wide.dropna(subset=[first, second])
    if len(whole) < 2:
        raise ComparisonError(
            f"{counted(len(whole), 'pair')} with both {first} and {second}; two at "
            f"least are needed: bakes with the same {named(pair)} make a pair"
        )
    table = pd.DataFrame(
        {
            "pair": whole.index.astype(str),
            "first": whole[first].to_numpy(),
            "second": whole[second].to_numpy(),
        }
    )
    table["difference"] = table["second"] - table["first"]
    return table, _pair_remarks(two, wide, whole, by, pair)


def _pair_remarks(
    two: pd.DataFrame, wide: pd.DataFrame, whole: pd.DataFrame, by: str, pair: str
) -> tuple[str, ...]:
    said = []
    if len(wide) > len(whole):
        alone = len(wide) - len(whole)
        said.append(f"{counted(alone, 'pair')} with only one of the two stayed out")
    if two.duplicated([pair, by]).any():
        said.append("several bakes of one size in a pair count with their mean")
    return tuple(said)


def _sentences(found: Paired) -> list[str]:
    many = counted(len(found.pairs), "pair")
    by = (found.high - found.low) / 2
    amount = with_unit(rounded(found.middle, by), found.result)
    if found.middle > 0:
        amount = f"+{amount}"
    between = f"{rounded(found.low, by)} to {rounded(found.high, by)}"
    sure = number(100 * found.attained, 4)
    said = [
        (
            f"{found.second} minus {found.first}, {named(found.result)}: {amount} "
            f"({sure} % interval {between}, {found.method}; {many})."
        )
    ]
    if found.attained < found.confidence - 1e-9:
        said.append(
            f"{many} cannot carry {100 * found.confidence:g} %: this is the widest "
            "interval they give; six pairs are the fewest for 95 %."
        )
    odds = f"chance of so much by luck of the draw: {chance(found.p_value)}"
    if found.p_value <= _SHOWN:
        return [*said, f"A difference is shown ({odds})."]
    return [*said, f"No difference is shown ({odds}); one could have been missed."]
