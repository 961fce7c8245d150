"""The best point of a response surface, and where else it could lie."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pandas as pd

from bakelab.comparing.surface_terms import Array, Coding, Term, design
from bakelab.comparing.tails import t_reach

__all__ = ["AIMS", "Best", "Canonical", "canonical", "find_best", "region"]

AIMS = ("largest", "smallest")
_STEPS = {1: 201, 2: 41, 3: 17, 4: 9, 5: 5, 6: 4, 7: 3}
_MOST_HULL = 4
_EDGE = 0.02  # of the half span: nearer to the border counts as on it


@dataclass(frozen=True)
class Canonical:
    """The point where the surface is level, and how it bends there.

    `kind` is "peak", "hollow" or "saddle"; `bends` are the eigenvalues of
    the second-order part on the coded scale.
    """

    at: "pd.Series[float]"
    value: float
    kind: str
    bends: tuple[float, ...]


@dataclass(frozen=True)
class Best:
    """The best point between the trials.

    `at`, `low` and `high` are in percent of flour by ratio; `value` is the
    fitted result there with the interval of its mean (`low_value`,
    `high_value`) and of one more bake (`new_low`, `new_high`). `draws` are
    the best points of surfaces drawn within the uncertainty; `bent` is the
    share of them that bend as a best point in the middle needs.
    """

    at: "pd.Series[float]"
    low: "pd.Series[float]"
    high: "pd.Series[float]"
    value: float
    low_value: float
    high_value: float
    new_low: float
    new_high: float
    on_edge: tuple[str, ...]
    draws: pd.DataFrame
    bent: float


def canonical(terms: Sequence[Term], coding: Coding, beta: Array) -> Canonical:
    """Stationary point and eigenvalues of a curved surface.

    References
    ----------
    NIST/SEMATECH, e-Handbook of Statistical Methods, 5.5.3.
    """
    slopes, bends = _parts(terms, len(coding.ratios), beta)
    values: Array = np.linalg.eigvalsh(bends)
    where: Array = np.linalg.lstsq(-2 * bends, slopes, rcond=None)[0]
    kind = (
        "peak" if (values < 0).all() else "hollow" if (values > 0).all() else "saddle"
    )
    value = float((design(where, terms) @ beta)[0])
    at = pd.Series(coding.uncode(where), index=list(coding.ratios))
    return Canonical(at, value, kind, tuple(float(v) for v in values))


def region(codes: Array) -> Array:
    """Half spaces around the trials: rows of a normal and an offset, <= 0 inside.

    The convex hull for up to four ratios, the box of lows and highs above.
    """
    ratios = codes.shape[1]
    box = np.vstack([np.eye(ratios), -np.eye(ratios)])
    limits = np.concatenate([-codes.max(axis=0), codes.min(axis=0)])
    if not 2 <= ratios <= _MOST_HULL:
        return np.column_stack([box, limits])
    from scipy.spatial import ConvexHull  # type: ignore[import-untyped]

    return np.asarray(ConvexHull(np.unique(codes.round(9), axis=0)).equations)


def find_best(
    codes: Array,
    terms: Sequence[Term],
    coding: Coding,
    beta: Array,
    covariance: Array,
    degrees: int,
    *,
    spread: float,
    aim: str,
    confidence: float,
    draws: int,
    seed: int,
) -> Best:
    """Seek the best point among what lies between the trials."""
    sides = region(codes)
    grid = _grid(codes, sides)
    columns = design(grid, terms)
    start = grid[int(np.argmin(_loss(columns @ beta, aim)))]
    point = _polished(start, terms, beta, sides, aim)
    drawn = _drawn(beta, covariance, degrees, draws, seed)
    places = grid[np.argmin(_loss(columns @ drawn.T, aim), axis=0)]
    bent = _bent(terms, len(coding.ratios), drawn, aim)
    if bent is not None:
        places = _exact(places, terms, drawn, bent, sides)
    tails = [(1 - confidence) / 2, (1 + confidence) / 2]
    names = list(coding.ratios)
    low, high = coding.uncode(np.quantile(places, tails, axis=0))
    value, mean_half, new_half = _value(
        point, terms, beta, covariance, degrees, spread, confidence
    )
    return Best(
        pd.Series(coding.uncode(point), index=names),
        pd.Series(low, index=names), pd.Series(high, index=names),
        value, value - mean_half, value + mean_half, value - new_half,
        value + new_half, _edges(point, names),
        pd.DataFrame(coding.uncode(places), columns=names),
        math.nan if bent is None else float(bent.mean()),
    )  # fmt: skip


def _parts(terms: Sequence[Term], ratios: int, beta: Array) -> tuple[Array, Array]:
    """Slopes and the matrix of bends of a surface."""
    slopes, bends = np.zeros(ratios), np.zeros((ratios, ratios))
    for term, weight in zip(terms, beta, strict=True):
        if len(term) == 1:
            slopes[term[0]] = weight
        elif len(term) == 2:
            bends[term[0], term[1]] += weight / 2
            bends[term[1], term[0]] += weight / 2
    return slopes, bends


def _loss(values: Array, aim: str) -> Array:
    return -values if aim == "largest" else values


def _grid(codes: Array, sides: Array) -> Array:
    """Points between the trials, evenly spread, and the trials themselves."""
    ratios = codes.shape[1]
    axes = [np.linspace(-1, 1, _STEPS[ratios])] * ratios
    points = np.array(list(itertools.product(*axes)))
    inside = (points @ sides[:, :-1].T + sides[:, -1] <= 1e-9).all(axis=1)
    return np.vstack([points[inside], np.unique(codes.round(9), axis=0)])


def _polished(
    start: Array, terms: Sequence[Term], beta: Array, sides: Array, aim: str
) -> Array:
    """The best grid point moved to the exact best beside it."""
    from scipy.optimize import minimize  # type: ignore[import-untyped]

    scale = max(1e-12, float(np.abs(beta[1:]).max(initial=0.0)))

    def loss(point: Array) -> float:
        return float(_loss(design(point, terms) @ beta, aim)[0]) / scale

    room = {"type": "ineq", "fun": lambda p: -(sides[:, :-1] @ p + sides[:, -1])}
    found = minimize(loss, start, method="SLSQP", constraints=[room])
    inside = (sides[:, :-1] @ found.x + sides[:, -1] <= 1e-6).all()
    better = inside and loss(found.x) <= loss(start)
    return np.asarray(found.x if better else start, dtype=float)


def _drawn(
    beta: Array, covariance: Array, degrees: int, draws: int, seed: int
) -> Array:
    """Coefficients from their multivariate t distribution, a row per draw."""
    random = np.random.default_rng(seed)
    normal = random.standard_normal((draws, len(beta))) @ _root(covariance).T
    stretch = np.sqrt(degrees / random.chisquare(degrees, size=draws))
    drawn: Array = beta + normal * stretch[:, None]
    return drawn


def _root(covariance: Array) -> Array:
    """The lower triangle that gives the covariance when multiplied by itself."""
    try:
        triangle: Array = np.linalg.cholesky(covariance)
    except np.linalg.LinAlgError:  # a fit without any scatter
        values, vectors = np.linalg.eigh(covariance)
        triangle = vectors * np.sqrt(np.clip(values, 0, None))
    return triangle


def _value(
    point: Array,
    terms: Sequence[Term],
    beta: Array,
    covariance: Array,
    degrees: int,
    spread: float,
    confidence: float,
) -> tuple[float, float, float]:
    column = design(point, terms)[0]
    variance = max(0.0, float(column @ covariance @ column))
    reach = t_reach(confidence, degrees)
    mean, new = math.sqrt(variance), math.sqrt(variance + spread**2)
    return float(column @ beta), reach * mean, reach * new


def _edges(point: Array, names: Sequence[str]) -> tuple[str, ...]:
    return tuple(
        f"{'highest' if p > 0 else 'lowest'} {name}"
        for name, p in zip(names, point, strict=True)
        if abs(p) >= 1 - _EDGE
    )


def _bent(
    terms: Sequence[Term], ratios: int, drawn: Array, aim: str
) -> "npt.NDArray[np.bool_] | None":
    """Which draws bend down (or up) in every direction; None without bends."""
    if not any(len(t) == 2 and t[0] == t[1] for t in terms):
        return None
    sign = 1 if aim == "largest" else -1
    bends = np.array([_parts(terms, ratios, row)[1] for row in drawn])
    falls: npt.NDArray[np.bool_] = sign * np.linalg.eigvalsh(bends).T < 0
    return np.asarray(np.logical_and.reduce(falls), dtype=np.bool_)


def _exact(
    places: Array,
    terms: Sequence[Term],
    drawn: Array,
    bent: "npt.NDArray[np.bool_]",
    sides: Array,
) -> Array:
    """The grid point of a draw replaced by its peak, where that lies inside."""
    moved = places.copy()
    for n in np.flatnonzero(bent):
        slopes, bends = _parts(terms, places.shape[1], drawn[n])
        peak = np.linalg.solve(-2 * bends, slopes)
        if (sides[:, :-1] @ peak + sides[:, -1] <= 1e-9).all():
            moved[n] = peak
    return moved
