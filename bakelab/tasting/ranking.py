"""Ranking: Friedman's test, which pairs differ, and Page's test of an expected order.

Exact where it can be reckoned in about a second, given each taster's ties; else by
the distribution that a large panel comes close to, and the answer says so.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite

from bakelab.errors import BakelabError
from bakelab.tasting.difference import risks
from bakelab.tasting.exact import exact_cost, pair_chance, spread_chance, trend_chance
from bakelab.tasting.gaps import least_gap, wide_gap
from bakelab.tasting.kinds import MOST_RANKED, MOST_TASTERS

__all__ = ["Pair", "Ranking", "Trend", "rank_samples"]

_MOST_WORK = 2e7  # sums to look at: under 2 seconds
_NEAR = 1e-9


@dataclass(frozen=True)
class Pair:
    """Two samples by their numbers, from 0: how far apart, and whether enough.

    `p_value` is the exact chance of two samples named beforehand; `differs` asks
    the least significant difference, `differs_widely` that for all pairs together.
    """

    first: int
    second: int
    apart: float
    p_value: float
    differs: bool
    differs_widely: bool


@dataclass(frozen=True)
class Trend:
    """Page's test: L, its chance, and how that was reckoned."""

    order: tuple[int, ...]
    statistic: float
    p_value: float


@dataclass(frozen=True)
class Ranking:
    """The answer of a ranking.

    Attributes
    ----------
    rank_sums : tuple of float
        1 is first; tied samples share the mean of their places.
    statistic : float
        Friedman's, corrected for ties.
    p_value : float
        Chance of rank sums as far apart or further.
    method : {"exact", "chi-square"}
    chi_square_p, continuity_p : float
        By chi-square, and so with the sum of squares less one step
        (Kendall's correction for continuity).
    least_difference, wide_difference : float
        Of rank sums: for one pair, and for all pairs together.
    pairs : tuple of Pair
    trend : Trend or None
    tasters, alpha : int, float
    tied : bool
        Whether anybody tied samples.
    """

    rank_sums: tuple[float, ...]
    statistic: float
    p_value: float
    method: str
    chi_square_p: float
    continuity_p: float
    least_difference: float
    wide_difference: float
    pairs: tuple[Pair, ...]
    trend: Trend | None
    tasters: int
    alpha: float
    tied: bool

    @property
    def shown(self) -> bool:
        """Whether it is shown that the samples are not all alike."""
        return self.p_value <= self.alpha + _NEAR


def rank_samples(
    ranks: Sequence[Sequence[float]],
    *,
    expected: Sequence[int] | None = None,
    alpha: float = 0.05,
) -> Ranking:
    """Judge ranks, one row per taster, tied samples sharing their mean rank.

    Parameters
    ----------
    ranks : sequence of sequence of float
        A rank for every sample, 1 is first.
    expected : sequence of int, optional
        The samples by number, from 0, in the order that was expected before the
        tasting, the first rank first: asks Page's test as well.
    alpha : float
        Risk of finding a difference that is not there.

    Raises
    ------
    BakelabError
        If a rank is missing, ranks are none, or all tied everything.

    Notes
    -----
    ``F = 12 / (J P (P+1)) sum R² - 3 J (P+1)`` with J tasters, P samples and rank
    sums R, divided by ``1 - E / (J P (P² - 1))``, E the sum of t³ - t over groups of
    t tied samples; the least significant difference is
    ``z sqrt(J P (P+1) / 6)``, at 5 % 1.96 [1]_. For all pairs together it is
    ``q sqrt(J P (P+1) / 12)`` with q of the studentized range [2]_. Page's L is the
    sum of expected place times rank sum [3]_.

    References
    ----------
    .. [1] ISO 8587, as quoted by third parties; the formulas also stand in
       M. Hollander and D. Wolfe, Nonparametric Statistical Methods, chapter 7.
    .. [2] P. Nemenyi, Distribution-free multiple comparisons, 1963.
    .. [3] E. B. Page, Ordered hypotheses for multiple treatments, Journal of the
       American Statistical Association 58 (1963), pp. 216-230.

    Examples
    --------
    >>> found = rank_samples([(1, 2, 3), (1, 3, 2), (1, 2, 3), (1, 2, 3)])
    >>> found.rank_sums, round(found.p_value, 4)
    ((4.0, 9.0, 11.0), 0.0417)
    """
    risks(alpha)
    rows = _checked(ranks)
    samples, tasters = len(rows[0]), len(rows)
    sums = [sum(column) for column in zip(*rows, strict=True)]
    ties = sum(n**3 - n for row in rows for n in Counter(row).values())
    method, chance = _chance(rows, sum(total**2 for total in sums))
    statistic, plain_p, stepped_p = _chi_square(sums, tasters, ties)
    least = least_gap(tasters, samples, alpha=alpha)
    wide = wide_gap(tasters, samples, alpha)
    return Ranking(
        tuple(total / 2 for total in sums),
        statistic,
        plain_p if chance is None else chance,
        method,
        plain_p,
        stepped_p,
        least,
        wide,
        _pairs(rows, sums, least, wide),
        None if expected is None else _trend(rows, sums, expected),
        tasters,
        alpha,
        ties > 0,
    )


def _chance(rows: list[tuple[int, ...]], squares: int) -> tuple[str, float | None]:
    plain = tuple(sorted(tuple(sorted(row)) for row in rows))
    if exact_cost(plain) > _MOST_WORK:
        return "chi-square", None
    return "exact", _spread(plain, squares)


@lru_cache(maxsize=64)
def _spread(rows: tuple[tuple[int, ...], ...], squares: int) -> float:
    return spread_chance(rows, squares)


def _chi_square(
    sums: Sequence[int], tasters: int, ties: int
) -> tuple[float, float, float]:
    """Friedman's statistic and its chance by chi-square, plain and stepped.

    Kendall's correction takes 1 off the sum of squares about the mean and adds 2
    to the largest that there can be.
    """
    from scipy.special import chdtrc  # type: ignore[import-untyped]

    samples = len(sums)
    mean = tasters * (samples + 1) / 2
    spread = sum((total / 2 - mean) ** 2 for total in sums)
    most = tasters**2 * (samples**3 - samples) / 12 - tasters * ties / 12
    if most <= _NEAR:
        raise BakelabError("every taster tied all samples; nothing can be judged")
    free = samples - 1
    statistic = tasters * free * spread / most
    stepped = tasters * free * max(0.0, spread - 1) / (most + 2)
    return (
        statistic,
        float(chdtrc(free, statistic)),
        float(chdtrc(free, stepped)),
    )


def _pairs(
    rows: list[tuple[int, ...]], sums: Sequence[int], least: float, wide: float
) -> tuple[Pair, ...]:
    plain = [tuple(sorted(row)) for row in rows]
    found = []
    for first in range(len(sums)):
        for second in range(first + 1, len(sums)):
            doubled = abs(sums[first] - sums[second])
            apart = doubled / 2
            chance = pair_chance(plain, doubled)
            enough = apart >= least - _NEAR, apart >= wide - _NEAR
            found.append(Pair(first, second, apart, chance, *enough))
    return tuple(found)


def _trend(
    rows: list[tuple[int, ...]], sums: Sequence[int], expected: Sequence[int]
) -> Trend:
    if sorted(expected) != list(range(len(sums))):
        raise BakelabError(
            f"got the expected order {', '.join(map(str, expected))}; name each of the "
            f"{len(sums)} samples once, by its number from 0"
        )
    places = range(1, len(sums) + 1)
    doubled = sum(
        place * sums[sample] for place, sample in zip(places, expected, strict=True)
    )
    plain = [tuple(sorted(row)) for row in rows]
    chance = trend_chance(plain, list(places), doubled)
    return Trend(tuple(expected), doubled / 2, chance)


def _checked(ranks: Sequence[Sequence[float]]) -> list[tuple[int, ...]]:
    """The ranks doubled, so that those of ties are whole numbers."""
    if not all(isfinite(rank) for row in ranks for rank in row):
        raise BakelabError("a rank is missing; give every taster a rank per sample")
    rows = [tuple(round(2 * rank) for rank in row) for row in ranks]
    samples = len(rows[0]) if rows else 0
    if not 2 <= samples <= MOST_RANKED or not 2 <= len(rows) <= MOST_TASTERS:
        raise BakelabError(
            f"got {samples} samples and {len(rows)} tasters; a ranking takes 2 to "
            f"{MOST_RANKED} samples and 2 to {MOST_TASTERS} tasters"
        )
    for row, given in zip(rows, ranks, strict=True):
        midranks = [2 * sum(o < r for o in row) + row.count(r) + 1 for r in row]
        if len(row) != samples or list(row) != midranks or 2 * sum(given) != sum(row):
            raise BakelabError(
                f"got the ranks {', '.join(f'{rank:g}' for rank in given)}; give 1 to "
                f"{samples}, tied samples their mean rank"
            )
    return rows
