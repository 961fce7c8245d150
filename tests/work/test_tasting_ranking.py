"""Rankings beside ISO 8587, enumeration and scipy."""

from itertools import permutations, product

import numpy as np
import pytest
from scipy import stats

from bakelab.errors import BakelabError
from bakelab.tasting import (
    found_gap,
    gap_tasters,
    least_gap,
    rank_samples,
)

RANKS_8587 = [
    (2, 5, 4, 3, 1), (2, 4, 3, 5, 1), (1, 5, 2, 3, 4), (1, 2, 5, 4, 3),
    (4, 5, 3, 1, 2), (1, 4, 5, 2, 3), (2, 3, 5, 4, 1), (4, 3, 5, 1, 2),
]  # fmt: skip


def _columns(ranks: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
    return list(zip(*ranks, strict=True))


def test_ranking_example_of_iso_8587() -> None:
    """Annex A as quoted by third parties: 8 assessors, 5 samples, rank sums 17, 31,
    32, 23, 17; F = 10.60 > 9.49; least significant difference 12.40. The single ranks
    were not seen: these rows are our own, with those sums."""
    found = rank_samples(RANKS_8587)
    assert found.rank_sums == (17, 31, 32, 23, 17)
    assert found.statistic == pytest.approx(10.60, abs=0.005)
    assert found.chi_square_p == pytest.approx(0.0314, abs=5e-5)
    assert found.least_difference == pytest.approx(12.40, abs=0.005)
    apart = {(p.first, p.second) for p in found.pairs if p.differs}
    assert apart == {(0, 1), (0, 2), (1, 4), (2, 4)}
    assert found.shown
    assert found.method == "exact"


def test_ranking_of_seven_tasters_and_six_samples() -> None:
    """A student's report (STM3105, seen on scribd 617021425): rank totals 7, 14,
    21, 28, 36, 41 of 7 panellists give 34.51."""
    ranks = [(1, 2, 3, 4, 5, 6)] * 6 + [(1, 2, 3, 4, 6, 5)]
    found = rank_samples(ranks)
    assert found.rank_sums == (7, 14, 21, 28, 36, 41)
    assert found.statistic == pytest.approx(34.51, abs=0.02)
    assert found.p_value < 1e-9


@pytest.mark.parametrize(
    "ranks",
    [
        [(1, 2, 3), (1, 3, 2), (1.5, 1.5, 3), (2, 1, 3)],
        [(1, 2, 3), (1, 2, 3), (3, 1, 2), (1, 2.5, 2.5), (2, 2, 2)],
        [(1, 2, 3, 4), (2, 1, 4, 3), (1.5, 1.5, 4, 3)],
    ],
)
def test_friedman_by_enumeration_and_scipy(ranks: list[tuple[float, ...]]) -> None:
    """Every order of every row is counted; scipy's own statistic and its exact
    permutation test over samples within tasters say the same."""
    done = rank_samples(ranks)
    theirs = stats.friedmanchisquare(*_columns(ranks))
    assert done.statistic == pytest.approx(theirs.statistic)
    assert done.chi_square_p == pytest.approx(theirs.pvalue)
    seen = sum(s**2 for s in done.rank_sums)
    worlds = list(product(*(list(permutations(row)) for row in ranks)))
    far = sum(sum(sum(c) ** 2 for c in zip(*w, strict=True)) >= seen for w in worlds)
    assert done.p_value == pytest.approx(far / len(worlds))


def test_friedman_and_page_beside_the_permutation_test_of_scipy() -> None:
    ranks = [(1, 2, 3), (2, 1, 3), (1, 2.5, 2.5), (1, 3, 2), (1, 2, 3)]
    done = rank_samples(ranks, expected=(0, 1, 2))
    assert done.trend is not None

    def spread(*columns: "np.ndarray", axis: int = -1) -> "np.ndarray":
        return np.sum([np.sum(c, axis=axis) ** 2 for c in columns], axis=0)

    def trend(*columns: "np.ndarray", axis: int = -1) -> "np.ndarray":
        return np.sum(
            [i * np.sum(c, axis=axis) for i, c in enumerate(columns, start=1)], axis=0
        )

    for statistic, ours in ((spread, done.p_value), (trend, done.trend.p_value)):
        theirs = stats.permutation_test(
            _columns(ranks), statistic, permutation_type="samples",
            alternative="greater", n_resamples=10**5, vectorized=True,
        )  # fmt: skip
        assert ours == pytest.approx(theirs.pvalue)


@pytest.mark.parametrize(("samples", "tasters"), [(3, 4), (4, 12), (5, 7), (6, 9)])
def test_page_is_that_of_scipy(samples: int, tasters: int) -> None:
    chance = np.random.default_rng(samples)
    ranks = [tuple(map(int, chance.permutation(samples) + 1)) for _ in range(tasters)]
    found = rank_samples(ranks, expected=range(samples)).trend
    theirs = stats.page_trend_test(np.array(ranks), ranked=True, method="exact")
    assert found is not None
    assert found.statistic == theirs.statistic
    assert found.p_value == pytest.approx(theirs.pvalue)


def test_chi_square_takes_over_where_the_exact_chance_takes_long() -> None:
    chance = np.random.default_rng(1)
    ranks = [tuple(map(int, chance.permutation(6) + 1)) for _ in range(40)]
    found = rank_samples(ranks)
    assert found.method == "chi-square"
    theirs = stats.friedmanchisquare(*_columns(ranks))
    assert found.p_value == pytest.approx(theirs.pvalue)
    assert found.continuity_p > found.p_value


def test_exact_and_chi_square_meet_in_a_large_panel() -> None:
    ranks = [(1, 2, 3)] * 60 + [(3, 1, 2)] * 45 + [(2, 3, 1)] * 50
    found = rank_samples(ranks)
    assert found.method == "exact"
    assert found.p_value == pytest.approx(found.chi_square_p, rel=0.03)


def test_differences_of_pairs() -> None:
    """Critical differences of all pairs over sqrt(P (P+1) J / 6): 1.960, 2.343,
    2.569, 2.728, 2.850, 2.949, 3.031 for 2 to 8 samples at 5 % (Nemenyi's test as
    tabled by Demšar 2006, from memory)."""
    for samples, q in enumerate((1.960, 2.343, 2.569, 2.728, 2.850, 2.949, 3.031), 2):
        ranks = [tuple(range(1, samples + 1))] * 4
        found = rank_samples(ranks)
        unit = (4 * samples * (samples + 1) / 6) ** 0.5
        assert found.wide_difference / unit == pytest.approx(q, abs=0.0011)
        assert found.least_difference == pytest.approx(1.96 * unit, rel=1e-4)


def test_chance_of_a_pair_is_that_of_enumeration() -> None:
    ranks = [(1, 2, 3), (1, 3, 2), (1.5, 1.5, 3)]
    found = rank_samples(ranks).pairs[1]
    worlds = list(product(*(list(permutations(row)) for row in ranks)))
    far = sum(abs(sum(r[0] - r[2] for r in w)) >= found.apart for w in worlds)
    assert (found.first, found.second) == (0, 2)
    assert found.p_value == pytest.approx(far / len(worlds))


def test_tasters_for_a_gap_hold_the_risks_in_a_simulation() -> None:
    """Four samples; scores from a normal shifted so that two lie 1 rank apart."""
    tasters = gap_tasters(4, gap=1.0)
    assert tasters == 27
    assert found_gap(27, 4) == pytest.approx(1.0, abs=0.03)
    chance = np.random.default_rng(3)
    scores = chance.normal(size=(4000, tasters, 4)) + np.array([-0.46, 0, 0, 0.46])
    ranks = scores.argsort(axis=2).argsort(axis=2)
    sums = ranks.sum(axis=1)
    gap = sums[:, 3] - sums[:, 0]
    assert gap.mean() / tasters == pytest.approx(1.0, abs=0.06)
    assert (gap >= least_gap(tasters, 4)).mean() == pytest.approx(0.8, abs=0.06)


@pytest.mark.parametrize(
    "bad",
    [[(1, 1, 3)] * 3, [(1, 2)], [(1, 2, 3), (1, 2)], [(1, float("nan"))] * 2, []],
)
def test_wrong_ranks_are_refused(bad: list[tuple[float, ...]]) -> None:
    with pytest.raises(BakelabError):
        rank_samples(bad)


def test_all_tied_says_nothing() -> None:
    with pytest.raises(BakelabError, match="tied all"):
        rank_samples([(2, 2, 2)] * 5)
