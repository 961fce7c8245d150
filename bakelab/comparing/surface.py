"""Response surface of a complete plan of trials: fit, test, residuals, best point."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from bakelab.comparing.data import (
    ComparisonError,
    check_confidence,
    rounded,
    usable,
)
from bakelab.comparing.names import named, with_unit
from bakelab.comparing.ratios import doubt_column
from bakelab.comparing.repeats import LackOfFit, Repeats, lack_of_fit
from bakelab.comparing.surface_best import AIMS, Best, Canonical, canonical, find_best
from bakelab.comparing.surface_terms import (
    SHAPES,
    Array,
    Coding,
    Term,
    carried,
    design,
    free,
    label,
)
from bakelab.comparing.surface_words import followed_words, surface_text
from bakelab.comparing.tails import f_chance, least_squares

__all__ = ["Surface", "response_surface"]

_MOST_RATIOS = 7
_BLUR = 0.1  # common practice, no source


@dataclass(frozen=True)
class Surface:
    """A fitted response surface.

    `coefficients` has a row per term: `term`, `estimate` (change of the
    result over half of the span that was baked), `error`, `low`, `high`,
    `p_value`. `residuals` has a row per trial: `trial`, `name`, `observed`,
    `fitted`, `residual`, `standardised`, `normal` (the normal quantile it
    should have).
    """

    result: str
    coding: Coding
    aim: str
    shape: str
    terms: tuple[Term, ...]
    confidence: float
    trials: pd.DataFrame
    coefficients: pd.DataFrame
    residuals: pd.DataFrame
    beta: Array
    covariance: Array
    degrees: int
    spread: float
    r_squared: float
    p_value: float
    lack_of_fit: LackOfFit
    canonical: Canonical | None
    best: Best
    remarks: tuple[str, ...]

    @property
    def ratios(self) -> tuple[str, ...]:
        """The ratios that the surface runs over."""
        return self.coding.ratios

    @property
    def text(self) -> str:
        """What was found, and whether the data can carry it."""
        return surface_text(self)

    def predict(self, values: Array) -> Array:
        """The fitted result at points in percent of flour, a column per ratio."""
        fitted: Array = design(self.coding.code(values), self.terms) @ self.beta
        return fitted


def response_surface(
    frame: pd.DataFrame,
    *,
    result: str,
    ratios: Sequence[str],
    aim: str = "largest",
    shape: str | None = None,
    block: str | None = None,
    confidence: float = 0.95,
    draws: int = 1000,
    seed: int = 1,
) -> Surface:
    """Fit a surface to the trials of a plan, and find its best point.

    Parameters
    ----------
    frame : DataFrame
        A row per baked trial.
    result : str
    ratios : sequence of str
        Columns, one to seven. One that follows from the others (the last
        flour of a blend) is left out, and a remark says so.
    aim : {"largest", "smallest"}
        Which result is best.
    shape : str, optional
        A key of `SHAPES`; the fullest that the trials can carry by default.
    block : str, optional
        Column of days or ovens whose level may differ.
    confidence : float
    draws, seed : int
        How often the surface is drawn anew within its uncertainty, to see
        where the best point would lie.

    Raises
    ------
    ComparisonError
        If the trials cannot carry any surface, or an argument is impossible.

    Notes
    -----
    Ordinary least squares on ratios coded from -1 to +1. The best point is
    sought among what lies between the trials, never beyond. Its interval
    comes from coefficients drawn from their multivariate t distribution.

    References
    ----------
    NIST/SEMATECH, e-Handbook of Statistical Methods, 5.5.3.

    Examples
    --------
    >>> frame = pd.DataFrame({"salt_pct": [1, 1.5, 1.5, 2, 1, 2, 1.5]})
    >>> frame["height_cm"] = [7.0, 9.1, 8.9, 8.1, 7.2, 8.0, 9.0]
    >>> found = response_surface(frame, result="height_cm", ratios=["salt_pct"])
    >>> found.shape, round(float(found.best.at["salt_pct"]), 2)
    ('curved', 1.58)
    """
    _check(result, ratios, aim, shape, confidence)
    words = [] if block is None else [block]
    kept, remarks = usable(frame, numbers=[result, *ratios], words=words)
    _differs(kept, result)
    moving, follow = free(kept, ratios)
    if follow:
        remarks += (followed_words(follow, moving),)
    coding = Coding.of(kept, moving)
    codes = coding.code(kept[moving].to_numpy(dtype=float))
    blocks = _blocks(kept, block)
    used, terms, why = carried(codes, blocks, shape)
    remarks += (why,) if why else ()
    remarks += _open_by_scale(kept, coding)
    return _fitted(
        kept, result, coding, codes, blocks, used, terms, aim, confidence, draws,
        seed, remarks,
    )  # fmt: skip


def _check(
    result: str,
    ratios: Sequence[str],
    aim: str,
    shape: str | None,
    confidence: float,
) -> None:
    if not 1 <= len(set(ratios)) == len(ratios) <= _MOST_RATIOS or result in ratios:
        raise ComparisonError(
            f"got the ratios {', '.join(ratios) or 'none'}; give one to "
            f"{_MOST_RATIOS} different columns, without the result"
        )
    if shape is not None and shape not in SHAPES:
        raise ComparisonError(f"no shape {shape!r}; use one of {', '.join(SHAPES)}")
    if aim not in AIMS:
        raise ComparisonError(f"no aim {aim!r}; use {' or '.join(AIMS)}")
    check_confidence(confidence)


def _differs(kept: pd.DataFrame, result: str) -> None:
    if not kept[result].max() > kept[result].min():
        raise ComparisonError(
            f"{named(result)} is the same in every trial, so no ratio is seen to do "
            "anything to it"
        )


def _open_by_scale(kept: pd.DataFrame, coding: Coding) -> tuple[str, ...]:
    """A word on every ratio that the scale blurs by a tenth of its span or more."""
    said = []
    for ratio, half in zip(coding.ratios, coding.halves, strict=True):
        if doubt_column(ratio) in kept.columns:
            doubt = float(pd.to_numeric(kept[doubt_column(ratio)]).max())
            if doubt >= _BLUR * 2 * half:
                open_ = with_unit(f"±{rounded(doubt, doubt)}", ratio)
                said.append(
                    f"the scale leaves up to {open_} open in {named(ratio)}, "
                    f"{50 * doubt / half:.0f} % of the span that was baked"
                )
    return tuple(said)


def _blocks(frame: pd.DataFrame, block: str | None) -> Array:
    """Columns that add to 0 over the blocks; none for a single block."""
    if block is None:
        return np.empty((len(frame), 0))
    marks = pd.get_dummies(frame[block], dtype=float).to_numpy()
    return np.asarray(marks[:, :-1] - marks[:, -1:], dtype=float)


def _fitted(
    kept: pd.DataFrame,
    result: str,
    coding: Coding,
    codes: Array,
    blocks: Array,
    shape: str,
    terms: list[Term],
    aim: str,
    confidence: float,
    draws: int,
    seed: int,
    remarks: tuple[str, ...],
) -> Surface:
    y = kept[result].to_numpy(dtype=float)
    model = least_squares(y, np.column_stack([design(codes, terms), blocks]))
    size, degrees = len(terms), int(model.df_resid)
    beta, cov = model.params[:size], model.cov_params()[:size, :size]
    pure = _pure_error(y, codes, blocks)
    best = find_best(
        codes, terms, coding, beta, cov, degrees, spread=math.sqrt(model.mse_resid),
        aim=aim, confidence=confidence, draws=draws, seed=seed,
    )  # fmt: skip
    return Surface(
        result, coding, aim, shape, tuple(terms), confidence, kept,
        _coefficients(model, terms, coding.ratios, confidence),
        _residuals(model, kept, y), beta, cov, degrees,
        math.sqrt(model.mse_resid), float(model.rsquared), _overall(model, y, blocks),
        lack_of_fit(float(model.ssr), degrees, pure),
        canonical(terms, coding, beta) if shape == "curved" else None, best, remarks,
    )  # fmt: skip


def _pure_error(y: Array, codes: Array, blocks: Array) -> Repeats:
    """What a mean for every different trial, and the blocks, leave over."""
    cells = pd.DataFrame(codes.round(9) + 0.0)
    marks = pd.get_dummies(cells.groupby(list(cells.columns)).ngroup(), dtype=float)
    columns = np.column_stack([marks.to_numpy(), blocks])
    fitted = columns @ np.linalg.lstsq(columns, y, rcond=None)[0]
    degrees = len(y) - int(np.linalg.matrix_rank(columns))
    return Repeats(float(((y - fitted) ** 2).sum()) if degrees else 0.0, degrees)


def _overall(model: Any, y: Array, blocks: Array) -> float:
    """Chance of so good a fit if no ratio did anything (blocks apart)."""
    alone = np.column_stack([np.ones(len(y)), blocks])
    left = y - alone @ np.linalg.lstsq(alone, y, rcond=None)[0]
    ssr, degrees = float(model.ssr), int(model.df_resid)
    terms = len(y) - degrees - alone.shape[1]
    gained = max(0.0, float((left**2).sum()) - ssr)
    if ssr <= 0:
        return 0.0 if gained > 0 else 1.0
    return f_chance((gained / terms) / (ssr / degrees), terms, degrees)


def _coefficients(
    model: Any, terms: Sequence[Term], ratios: Sequence[str], confidence: float
) -> pd.DataFrame:
    size = len(terms)
    found: dict[str, object] = {"term": [label(t, ratios) for t in terms]}
    limits = model.conf_int(alpha=1 - confidence)[:size]
    found["estimate"] = model.params[:size]
    found["error"] = model.bse[:size]
    found["low"], found["high"] = limits[:, 0], limits[:, 1]
    found["p_value"] = model.pvalues[:size]
    return pd.DataFrame(found)


def _residuals(model: Any, kept: pd.DataFrame, y: Array) -> pd.DataFrame:
    from scipy.stats import norm, rankdata  # type: ignore[import-untyped]

    left = np.asarray(model.resid)
    hat = model.get_influence().hat_matrix_diag
    room = np.sqrt(np.clip(1 - hat, 0, 1) * model.mse_resid)
    scaled = np.divide(left, room, out=np.full(len(y), np.nan), where=room > 1e-9)
    place = (rankdata(left) - 0.375) / (len(y) + 0.25)  # Blom's plotting positions
    names = next((c for c in ("name", "title") if c in kept.columns), None)
    return pd.DataFrame(
        {
            "trial": kept["trial"] if "trial" in kept.columns else range(1, len(y) + 1),
            "name": "" if names is None else kept[names].astype(str),
            "observed": y,
            "fitted": y - left,
            "residual": left,
            "standardised": scaled,
            "normal": norm.ppf(place),
        }
    )
