"""Tasting: tables of the standards, enumeration and scipy."""

from itertools import permutations, product

import pytest
from scipy import stats

from bakelab.errors import BakelabError
from bakelab.tasting import (
    evaluate,
    needed_correct,
    rank_samples,
    serving_plan,
    tasters_needed,
)

RISKS = (0.1, 0.05, 0.01, 0.001)


@pytest.mark.parametrize(
    ("n", "row"),
    [
        (6, (5, 5, 6, None)),
        (12, (7, 8, 9, 10)),
        (24, (12, 13, 15, 16)),
        (96, (39, 41, 44, 48)),
    ],
)
def test_triangle_table(n: int, row: tuple[int | None, ...]) -> None:
    """FAO Fisheries Technical Paper 348 (Huss 1995), appendix A."""
    assert tuple(needed_correct("triangle", n, alpha=a) for a in RISKS) == row


@pytest.mark.parametrize(
    ("n", "row"),
    [(12, (9, 10, 11, 12)), (24, (16, 17, 19, 20)), (88, (51, 53, 56, 59))],
)
def test_duo_trio_table(n: int, row: tuple[int, ...]) -> None:
    """ISO 10399 table A.1, as quoted in GOST ISO 10399-2015."""
    assert tuple(needed_correct("duo-trio", n, alpha=a) for a in RISKS) == row


def test_chance_and_power_agree_with_scipy() -> None:
    done = evaluate("triangle", tasters=24, correct=13)
    assert done.p_value == pytest.approx(stats.binom.sf(12, 24, 1 / 3))
    n = tasters_needed("triangle", share=0.5)
    least = needed_correct("triangle", n)
    assert least is not None
    assert stats.binom.sf(least - 1, n, 2 / 3) >= 0.8


def test_verdict_does_not_overclaim() -> None:
    done = evaluate("triangle", tasters=9, correct=4)
    assert "could well have been missed" in done.verdict
    assert "not show they are the same" in done.verdict


def test_friedman_by_enumeration_and_scipy() -> None:
    ranks = [(1, 2, 3), (1, 3, 2), (1.5, 1.5, 3), (2, 1, 3)]
    done = rank_samples(ranks)
    scipy_result = stats.friedmanchisquare(*zip(*ranks, strict=True))
    assert done.statistic == pytest.approx(scipy_result.statistic)
    seen = sum(s**2 for s in done.rank_sums)
    worlds = list(product(*(list(permutations(row)) for row in ranks)))
    far = sum(sum(sum(c) ** 2 for c in zip(*w, strict=True)) >= seen for w in worlds)
    assert done.p_value == pytest.approx(far / len(worlds))


@pytest.mark.parametrize(
    "bad",
    [[(1, 1, 3)] * 3, [(1, 2)], [(1, 2, 3), (1, 2)], [(1, float("nan"))] * 2],
)
def test_wrong_ranks_are_refused(bad: list[tuple[float, ...]]) -> None:
    with pytest.raises(BakelabError):
        rank_samples(bad)


def test_serving_is_balanced_and_repeatable() -> None:
    slips, key = serving_plan("triangle", tasters=12, seed=4, allergens=["gluten"])
    orders = ["".join(key[code] for code in slip.codes) for slip in slips]
    assert {orders.count(order) for order in orders} == {2}
    assert len(set(orders)) == 6
    assert len(key) == 36
    assert "gluten" in slips[0].allergens
    assert serving_plan("triangle", tasters=12, seed=4, allergens=["gluten"])[1] == key
