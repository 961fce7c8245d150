"""Where the trials of a plan lie: points in percent of flour."""

import itertools
import math
from collections.abc import Mapping, Sequence

import numpy as np
import numpy.typing as npt

from bakelab.errors import FormulaError

__all__ = [
    "MOST_TRIALS",
    "Levels",
    "Point",
    "blend",
    "blend_middle",
    "curved",
    "fraction",
    "full",
    "middle",
    "mixed_up",
    "one_at_a_time",
]

MOST_TRIALS = 256
Levels = Mapping[str, tuple[float, float]]
Point = dict[str, float]
# Generators of two-level fractions: Box, Hunter & Hunter, Statistics for
# Experimenters, from memory; the tests check that no two single effects are mixed.
# For more ratios the library finds plans of resolution IV.
_FRACTIONS = {3: "a b ab", 4: "a b c abc", 5: "a b c d abcd", 6: "a b c d abc bcd",
              7: "a b c d abc bcd acd"}  # fmt: skip
_MOST_RATIOS = 12
_SAME_PCT = 1e-9


def middle(levels: Levels) -> Point:
    """The middle of every band."""
    return {what: (low + high) / 2 for what, (low, high) in levels.items()}


def one_at_a_time(levels: Levels) -> list[Point]:
    """Each ratio low and high, the others in the middle."""
    centre = middle(levels)
    return [centre | {what: end} for what, ends in levels.items() for end in ends]


def full(levels: Levels) -> list[Point]:
    """Every low with every high."""
    if 2 ** len(levels) > MOST_TRIALS:
        raise FormulaError(
            f"{len(levels)} ratios give too many trials; take a fraction"
        )
    return _points(levels, list(itertools.product((-1.0, 1.0), repeat=len(levels))))


def fraction(levels: Levels) -> list[Point]:
    """A balanced part of `full`."""
    return _points(levels, _fraction_codes(len(levels)).tolist())


def curved(levels: Levels) -> list[Point]:
    """A central composite plan with its axial points on the faces.

    These are the corners of `full` and the points of `one_at_a_time`.
    """
    if len(levels) > 7:
        raise FormulaError(
            f"a curved plan of {len(levels)} ratios has too many trials; "
            "move fewer, or take a fraction"
        )
    return full(levels) + one_at_a_time(levels)


def blend(levels: Levels) -> list[Point]:
    """Corners of the blends that are allowed, and the middle of its edges.

    Corners: all flours but one at an end of its band, that one making up
    100 % (the extreme vertices of a mixture with bounds).

    Raises
    ------
    FormulaError
        If no blend lies in all the bands.
    """
    corners = _corners(levels)
    if not corners:
        raise FormulaError(
            "no blend of these flours comes to 100 %: the least shares are over it, or "
            "the most are under it"
        )
    edges = [] if len(levels) == 2 else _edges(levels, corners)
    return [dict(zip(levels, point, strict=True)) for point in (*corners, *edges)]


def blend_middle(levels: Levels) -> Point:
    """The middle of the blends that are allowed: the mean of their corners."""
    mean = np.mean(np.array(_corners(levels)), axis=0)
    return dict(zip(levels, (float(share) for share in mean), strict=True))


def mixed_up(names: Sequence[str]) -> tuple[str, ...]:
    """What a fraction of so many ratios cannot tell apart, a sentence each."""
    codes = _fraction_codes(len(names))
    columns = {name: codes[:, n] for n, name in enumerate(names)}
    pairs = list(itertools.combinations(names, 2))
    said = [
        f"the effect of {name} cannot be told from {one} and {other} acting together"
        for name in names
        for one, other in pairs
        if name not in (one, other)
        and _alike(columns[name], columns[one] * columns[other])
    ]
    both = any(
        _alike(columns[a] * columns[b], columns[c] * columns[d])
        for (a, b), (c, d) in itertools.combinations(pairs, 2)
    )
    if both and not said:
        said.append(
            "single effects stand clear; some pairs acting together cannot be told "
            "from other pairs"
        )
    return tuple(said)


def _alike(one: npt.NDArray[np.float64], other: npt.NDArray[np.float64]) -> bool:
    return abs(abs(float(one @ other)) - len(one)) < 1e-9


def _fraction_codes(ratios: int) -> npt.NDArray[np.float64]:
    import pyDOE3

    if ratios == 2:
        return np.array(list(itertools.product((-1.0, 1.0), repeat=2)))
    if ratios in _FRACTIONS:
        return np.asarray(pyDOE3.fracfact(_FRACTIONS[ratios]), dtype=np.float64)
    if not 2 <= ratios <= _MOST_RATIOS:
        raise FormulaError(
            f"a fraction is planned for 2 to {_MOST_RATIOS} ratios, got {ratios}"
        )
    return np.asarray(pyDOE3.fracfact_by_res(ratios, 4), dtype=np.float64)


def _points(levels: Levels, rows: Sequence[Sequence[float]]) -> list[Point]:
    """Points from rows of -1 (low) to +1 (high)."""
    return [
        {
            what: (low + high) / 2 + (high - low) / 2 * code
            for (what, (low, high)), code in zip(levels.items(), row, strict=True)
        }
        for row in rows
    ]


def _corners(levels: Levels) -> list[tuple[float, ...]]:
    bands = list(levels.values())
    found: dict[tuple[float, ...], tuple[float, ...]] = {}
    for free, (low, high) in enumerate(bands):
        others = [band for n, band in enumerate(bands) if n != free]
        for ends in itertools.product(*others):
            share = 100.0 - math.fsum(ends)
            if low - _SAME_PCT <= share <= high + _SAME_PCT:
                point = (*ends[:free], share, *ends[free:])
                found.setdefault(tuple(round(p, 9) + 0.0 for p in point), point)
    return list(found.values())


def _edges(
    levels: Levels, corners: Sequence[tuple[float, ...]]
) -> list[tuple[float, ...]]:
    """Middles between corners that share all ends but two."""
    return [
        tuple((x + y) / 2 for x, y in zip(a, b, strict=True))
        for a, b in itertools.combinations(corners, 2)
        if sum(abs(x - y) < 1e-6 for x, y in zip(a, b, strict=True)) >= len(levels) - 2
    ]
