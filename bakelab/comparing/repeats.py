"""What the kitchen scatters by itself: bakes of the same, against each other."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import pandas as pd

from bakelab.comparing.tails import f_chance

__all__ = ["LackOfFit", "Repeats", "lack_of_fit", "repeats"]

_SAME = 9  # decimals to which two ratios are the same


@dataclass(frozen=True)
class Repeats:
    """Pure error: sum of squares within cells, degrees of freedom, spread."""

    sum_squares: float
    degrees: int

    @property
    def spread(self) -> float:
        """Standard deviation between bakes of the same, NaN without repeats."""
        return math.sqrt(self.sum_squares / self.degrees) if self.degrees else math.nan


@dataclass(frozen=True)
class LackOfFit:
    """F test of a fit against repeats; `reason` says why there is none."""

    f: float
    p_value: float
    degrees: tuple[int, int]
    sum_squares: tuple[float, float]
    reason: str = ""


def repeats(frame: pd.DataFrame, *, result: str, cell: Sequence[str]) -> Repeats:
    """Scatter of the result within bakes that are alike in every `cell` column.

    Examples
    --------
    >>> frame = pd.DataFrame({"x": [1, 1, 2], "y": [3.0, 5.0, 9.0]})
    >>> repeats(frame, result="y", cell=["x"]).sum_squares
    2.0
    """
    keys = frame[list(cell)].copy()
    for column in keys.columns:
        if pd.api.types.is_numeric_dtype(keys[column]):
            keys[column] = keys[column].astype(float).round(_SAME)
    groups = frame[result].groupby([keys[c] for c in keys.columns])
    inside = frame[result] - groups.transform("mean")
    return Repeats(float((inside**2).sum()), len(frame) - groups.ngroups)


def lack_of_fit(residual_squares: float, degrees: int, pure: Repeats) -> LackOfFit:
    """Is what a fit leaves over larger than what repeats scatter?

    References
    ----------
    NIST/SEMATECH, e-Handbook of Statistical Methods, 4.4.4.6.
    """
    left = degrees - pure.degrees
    squares = (max(0.0, residual_squares - pure.sum_squares), pure.sum_squares)
    reason = ""
    if pure.degrees < 1:
        reason = "nothing was baked twice, so the fit cannot be tested"
    elif left < 1:
        reason = "the fit has as many terms as there are different bakes"
    elif pure.sum_squares <= 0:
        reason = "the repeats do not differ at all, so the fit cannot be tested"
    if reason:
        return LackOfFit(math.nan, math.nan, (left, pure.degrees), squares, reason)
    f = (squares[0] / left) / (squares[1] / pure.degrees)
    degrees_of = (left, pure.degrees)
    return LackOfFit(f, f_chance(f, *degrees_of), degrees_of, squares)
