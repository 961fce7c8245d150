"""Ranking: Friedman's test, exact given each taster's ties."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations
from math import isfinite, sqrt

from bakelab.errors import BakelabError

__all__ = ["Ranking", "rank_samples"]


@dataclass(frozen=True)
class Ranking:
    """Rank sums, tie-corrected Friedman statistic, exact chance, 5 % LSD."""

    rank_sums: tuple[float, ...]
    statistic: float
    p_value: float
    least_difference: float


def rank_samples(ranks: Sequence[Sequence[float]]) -> Ranking:
    """Judge ranks, one row per taster, tied samples sharing their mean rank.

    References
    ----------
    ISO 8587, Friedman's test with its correction for ties and the LSD.
    """
    if not all(isfinite(rank) for row in ranks for rank in row):
        raise BakelabError("a rank is missing; give every taster a rank per sample")
    rows = [tuple(round(2 * rank) for rank in row) for row in ranks]
    tasters, samples = _checked(rows, ranks)
    sums = [sum(column) for column in zip(*rows, strict=True)]
    ties = sum(n**3 - n for row in rows for n in Counter(row).values())
    full = tasters * samples * (samples + 1)
    correction = 1 - ties / (full * (samples - 1))
    if correction <= 0:
        raise BakelabError("every taster tied all samples; nothing can be judged")
    squares = sum((total / 2) ** 2 for total in sums)
    plain = 12 * squares / full - 3 * tasters * (samples + 1)
    return Ranking(
        tuple(total / 2 for total in sums),
        plain / correction,
        _exact(rows, sum(total**2 for total in sums)),
        1.96 * sqrt(full / 6),
    )


def _exact(rows: list[tuple[int, ...]], observed: int) -> float:
    """Share of all orders at least as far apart; sums are kept sorted."""
    states: Counter[tuple[int, ...]] = Counter({(0,) * len(rows[0]): 1})
    for row in rows:
        orders = Counter(permutations(row))
        after: Counter[tuple[int, ...]] = Counter()
        for state, ways in states.items():
            for order, times in orders.items():
                moved = sorted(a + b for a, b in zip(state, order, strict=True))
                after[tuple(moved)] += ways * times
        states = after
    far = sum(n for sums, n in states.items() if sum(s * s for s in sums) >= observed)
    return far / sum(states.values())


def _checked(
    rows: list[tuple[int, ...]], ranks: Sequence[Sequence[float]]
) -> tuple[int, int]:
    samples = len(rows[0]) if rows else 0
    if not 2 <= samples <= 5 or not 2 <= len(rows) <= 12:
        raise BakelabError("the exact test takes 2 to 5 samples and 2 to 12 tasters")
    for row, given in zip(rows, ranks, strict=True):
        midranks = [2 * sum(o < r for o in row) + row.count(r) + 1 for r in row]
        if len(row) != samples or list(row) != midranks or 2 * sum(given) != sum(row):
            raise BakelabError(
                f"got the ranks {list(given)}; give 1 to {samples}, "
                "tied samples their mean rank"
            )
    return len(rows), samples
