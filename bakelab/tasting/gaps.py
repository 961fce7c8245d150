"""How far apart rank sums must lie, and how many tasters find such a gap."""

from functools import lru_cache
from math import ceil, sqrt
from statistics import NormalDist

from bakelab.errors import BakelabError
from bakelab.tasting.difference import risks
from bakelab.tasting.kinds import MOST_RANKED

__all__ = ["found_gap", "gap_tasters", "least_gap", "wide_gap"]

_NEAR = 1e-9  # of rank sums: equal but for rounding


def least_gap(tasters: int, samples: int, *, alpha: float = 0.05) -> float:
    """Least significant difference of two rank sums (ISO 8587)."""
    z = NormalDist().inv_cdf(1 - alpha / 2)
    return z * sqrt(tasters * samples * (samples + 1) / 6)


def found_gap(
    tasters: int, samples: int, *, alpha: float = 0.05, beta: float = 0.2
) -> float:
    """Mean ranks apart that are told apart with a chance of 1 - beta, about.

    By the normal distribution, as `gap_tasters`.
    """
    risks(alpha, beta)
    normal = NormalDist()
    z = normal.inv_cdf(1 - alpha / 2) + normal.inv_cdf(1 - beta)
    return min(samples - 1.0, z * sqrt(samples * (samples + 1) / 6 / tasters))


def gap_tasters(
    samples: int, *, gap: float, alpha: float = 0.05, beta: float = 0.2
) -> int:
    """Tasters needed to tell two samples apart that lie `gap` mean ranks apart.

    By the normal distribution, which is an approximation: the ranks of samples
    that do differ scatter a little less than those of samples that do not.

    Raises
    ------
    BakelabError
        If the samples or the gap are out of range.
    """
    if not 2 <= samples <= MOST_RANKED:
        raise BakelabError(
            f"got {samples} samples; a ranking takes 2 to {MOST_RANKED} at a sitting"
        )
    if not 0 < gap <= samples - 1:
        raise BakelabError(
            f"got a gap of {gap:g} ranks; with {samples} samples give one above 0 and "
            f"up to {samples - 1}"
        )
    risks(alpha, beta)
    normal = NormalDist()
    z = normal.inv_cdf(1 - alpha / 2) + normal.inv_cdf(1 - beta)
    return max(2, ceil(z**2 * samples * (samples + 1) / 6 / gap**2 - _NEAR))


@lru_cache(maxsize=256)
def wide_gap(tasters: int, samples: int, alpha: float) -> float:
    """Least difference of rank sums that holds for all pairs together (Nemenyi)."""
    from scipy import stats  # type: ignore[import-untyped]

    q = float(stats.studentized_range.ppf(1 - alpha, samples, float("inf")))
    return q * sqrt(tasters * samples * (samples + 1) / 12)
