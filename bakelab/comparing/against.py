"""A result against a ratio: scatter of repeats, fitted line, confidence band."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from bakelab.comparing.against_words import against_text
from bakelab.comparing.data import ComparisonError, check_confidence, counted, usable
from bakelab.comparing.ratios import doubt_column
from bakelab.comparing.repeats import Repeats, lack_of_fit, repeats
from bakelab.comparing.surface_terms import Array
from bakelab.comparing.tails import least_squares

__all__ = ["SHAPES", "Against", "against"]

SHAPES = ("straight", "curved", "none")
"""How the result may follow the ratio."""

_STEPS = 61
_TERMS = {"straight": 2, "curved": 3}


@dataclass(frozen=True)
class Against:
    """A result against a ratio.

    `points` has a row per bake: `x`, `y`, `x_low`, `x_high` (what the scale
    leaves open), `name`. `line` has `x`, `fitted`, `low`, `high` (where the
    mean lies) and `new_low`, `new_high` (where one more bake would lie); it
    is empty where no line could be fitted, and `reason` says why.
    """

    result: str
    ratio: str
    shape: str
    confidence: float
    points: pd.DataFrame
    line: pd.DataFrame
    slope: float
    slope_low: float
    slope_high: float
    p_value: float
    scatter: Repeats
    lack_of_fit_p: float
    widest_doubt: float
    reason: str
    remarks: tuple[str, ...]

    @property
    def text(self) -> str:
        """What was found, and how far it can be trusted, in plain sentences."""
        return against_text(self)


def against(
    frame: pd.DataFrame,
    *,
    result: str,
    ratio: str,
    shape: str = "straight",
    confidence: float = 0.95,
    name: str = "title",
) -> Against:
    """How a result follows a ratio, with everything that is uncertain in it.

    Parameters
    ----------
    frame : DataFrame
        A row per bake with the columns `result` and `ratio`; with
        `{ratio}_doubt` (see `with_ratios`) the scale's part is shown too.
    result, ratio : str
    shape : str
        One of `SHAPES`.
    confidence : float
        Of every interval, from 0.5 to 0.999.
    name : str
        Column with the name of a bake, where there is one.

    Raises
    ------
    ComparisonError
        If a column is missing, no bake has both, or an argument is out of
        its range.

    Notes
    -----
    Ordinary least squares; the band is that of the mean, pointwise, by
    Student's t. The ratio is taken as weighed: what the scale leaves open
    is shown beside each point and not added to the band.

    Examples
    --------
    >>> frame = pd.DataFrame({"salt_pct": [1, 1, 2, 2], "height_cm": [9, 9.2, 8, 8.3]})
    >>> found = against(frame, result="height_cm", ratio="salt_pct")
    >>> round(found.slope, 2)
    -0.95
    """
    _check(result, ratio, shape, confidence)
    kept, remarks = usable(frame, numbers=[result, ratio])
    points = _points(kept, result, ratio, name)
    scatter = repeats(points, result="y", cell=["x"])
    reason = _no_line(points, shape)
    if reason:
        empty = pd.DataFrame(columns=["x", "fitted", "low", "high"], dtype=float)
        fitted, slopes, p_value, lack = empty, (math.nan,) * 3, math.nan, math.nan
    else:
        model = _model(points, shape)
        fitted = _line(model, points, shape, confidence)
        slopes, p_value = _slope(model, _reach(points), confidence)
        lack = lack_of_fit(float(model.ssr), int(model.df_resid), scatter).p_value
    doubt = float((points["x_high"] - points["x_low"]).max() / 2)
    return Against(
        result, ratio, shape, confidence, points, fitted, *slopes, p_value,
        scatter, lack, doubt, reason, remarks,
    )  # fmt: skip


def _check(result: str, ratio: str, shape: str, confidence: float) -> None:
    if result == ratio:
        raise ComparisonError(
            f"{result} stands against itself; choose another result or ratio"
        )
    if shape not in SHAPES:
        raise ComparisonError(f"no shape {shape!r}; use one of {', '.join(SHAPES)}")
    check_confidence(confidence)


def _points(frame: pd.DataFrame, result: str, ratio: str, name: str) -> pd.DataFrame:
    x = frame[ratio]
    doubt = pd.Series(0.0, index=frame.index)
    if doubt_column(ratio) in frame.columns:
        doubt = pd.to_numeric(frame[doubt_column(ratio)], errors="coerce").fillna(0.0)
    names = frame[name].astype(str) if name in frame.columns else [""] * len(frame)
    return pd.DataFrame(
        {"x": x, "y": frame[result], "x_low": x - doubt, "x_high": x + doubt}
    ).assign(name=names)


def _no_line(points: pd.DataFrame, shape: str) -> str:
    if shape == "none":
        return "no line was asked for"
    if not points["y"].max() > points["y"].min():
        return "the result is the same in every bake"
    needed, levels = _TERMS[shape], points["x"].round(9).nunique()
    if levels < needed:
        return (
            f"a {shape} line needs {needed} different values of the ratio, "
            f"and there {'is' if levels == 1 else 'are'} {levels}"
        )
    if len(points) <= needed:
        return (
            f"{counted(len(points), 'bake')} fit a {shape} line exactly and leave "
            "nothing to judge it by; bake at least one more"
        )
    return ""


def _model(points: pd.DataFrame, shape: str) -> Any:
    columns = _design(points["x"], points, shape)
    return least_squares(points["y"].to_numpy(dtype=float), columns)


def _design(x: "pd.Series[float]", points: pd.DataFrame, shape: str) -> Array:
    """Powers of the distance from the mean, as a share of the largest."""
    away = (x.to_numpy(dtype=float) - float(points["x"].mean())) / _reach(points)
    powers: Array = away[:, None] ** np.arange(_TERMS[shape])
    return powers


def _line(
    model: Any,
    points: pd.DataFrame,
    shape: str,
    confidence: float,
) -> pd.DataFrame:
    x = pd.Series(np.linspace(points["x"].min(), points["x"].max(), _STEPS))
    found = model.get_prediction(_design(x, points, shape)).summary_frame(
        alpha=1 - confidence
    )
    return pd.DataFrame(
        {
            "x": x,
            "fitted": found["mean"],
            "low": found["mean_ci_lower"],
            "high": found["mean_ci_upper"],
            "new_low": found["obs_ci_lower"],
            "new_high": found["obs_ci_upper"],
        }
    )


def _reach(points: pd.DataFrame) -> float:
    """The largest distance of a ratio from the mean."""
    return float((points["x"] - points["x"].mean()).abs().max())


def _slope(
    model: Any, reach: float, confidence: float
) -> tuple[tuple[float, float, float], float]:
    """Slope at the mean ratio with its interval; chance of the whole line."""
    low, high = model.conf_int(alpha=1 - confidence)[1] / reach
    slope = float(model.params[1]) / reach
    perfect = float(model.ssr) <= 0
    return (slope, float(low), float(high)), 0.0 if perfect else float(model.f_pvalue)
