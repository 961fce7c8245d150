"""Difference tests beside scipy: chances, power, tasters, likeness."""

import numpy as np
import pytest
from scipy import stats

from bakelab.tasting import (
    evaluate,
    evaluate_likeness,
    likeness_power,
    likeness_tasters,
    needed_correct,
    power,
    tasters_needed,
)

TWO = ("house loaf", "less salt")
FOUR = ("white", "rye", "spelt", "oat")
CHANCE = {"triangle": 1 / 3, "duo-trio": 1 / 2, "paired": 1 / 2}


def test_chance_agrees_with_scipy() -> None:
    """P(13 or more of 24 by guessing one of three) = 0.028441."""
    done = evaluate("triangle", tasters=24, correct=13)
    assert done.p_value == pytest.approx(0.028441, abs=5e-7)
    for right in range(25):
        found = evaluate("duo-trio", tasters=24, correct=right)
        assert found.p_value == pytest.approx(stats.binom.sf(right - 1, 24, 0.5))
        both = evaluate("paired two-sided", tasters=24, correct=right)
        assert both.p_value == pytest.approx(stats.binomtest(right, 24).pvalue)


@pytest.mark.parametrize("test", list(CHANCE))
@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.9])
def test_power_agrees_with_scipy(test: str, share: float) -> None:
    for n in (6, 9, 17, 36, 100):
        least = needed_correct(test, n, alpha=0.05)
        assert least is not None
        right = share + (1 - share) * CHANCE[test]
        theirs = stats.binom.sf(least - 1, n, right)
        assert power(test, n, share=share) == pytest.approx(theirs)
        assert evaluate(test, tasters=n, correct=0).needed == least


def test_two_sided_power_counts_both_ends() -> None:
    least = needed_correct("paired two-sided", 30, alpha=0.05)
    assert least == 21
    theirs = stats.binom.sf(20, 30, 0.75) + stats.binom.cdf(9, 30, 0.75)
    assert power("paired two-sided", 30, share=0.5) == pytest.approx(theirs)


@pytest.mark.parametrize("share", [0.15, 0.2, 0.25, 0.35, 0.5, 0.8])
@pytest.mark.parametrize(("alpha", "beta"), [(0.05, 0.2), (0.05, 0.1), (0.1, 0.05)])
def test_number_of_tasters_beside_a_search_with_scipy(
    share: float, alpha: float, beta: float
) -> None:
    right = share + (1 - share) / 3
    n = np.arange(1, 900)
    least = stats.binom.isf(alpha, n, 1 / 3) + 1  # P(X >= least) <= alpha
    enough = stats.binom.sf(least - 1, n, right) >= 1 - beta
    risks = {"share": share, "alpha": alpha, "beta": beta}
    assert tasters_needed("triangle", **risks) == n[enough][0]
    assert tasters_needed("triangle", **risks, steady=True) == n[~enough][-1] + 1


def test_band_of_the_share_is_that_of_clopper_and_pearson() -> None:
    found = evaluate("triangle", tasters=24, correct=16)
    band = stats.binomtest(16, 24).proportion_ci(0.95, method="exact")
    assert found.low_share == pytest.approx((band.low - 1 / 3) / (2 / 3))
    assert found.high_share == pytest.approx((band.high - 1 / 3) / (2 / 3))
    assert evaluate("triangle", tasters=24, correct=4).low_share == 0


def test_what_could_be_missed_is_what_would_have_been_found() -> None:
    found = evaluate("triangle", tasters=9, correct=4)
    assert found.missed_share is not None
    assert power("triangle", 9, share=found.missed_share) >= 0.8
    assert power("triangle", 9, share=found.missed_share - 0.01) < 0.8


def test_verdict_does_not_overclaim() -> None:
    done = evaluate("triangle", tasters=9, correct=4)
    assert "could well have been missed" in done.verdict
    assert "does not show that the samples are the same" in done.verdict
    assert "any difference" in evaluate("triangle", tasters=2, correct=2).verdict
    shown = evaluate("triangle", tasters=24, correct=20)
    assert "nothing of which is better" in shown.verdict


@pytest.mark.parametrize("test", ["triangle", "duo-trio"])
@pytest.mark.parametrize("share", [0.2, 0.3, 0.5])
def test_likeness_agrees_with_scipy(test: str, share: float) -> None:
    guess = CHANCE[test]
    right = share + (1 - share) * guess
    n = np.arange(1, 400)
    most = stats.binom.ppf(0.05, n, right) - 1  # P(X <= most) <= beta
    most += stats.binom.cdf(most + 1, n, right) <= 0.05
    shown = np.where(most >= n * guess, stats.binom.cdf(most, n, guess), 0)
    assert likeness_tasters(test, share=share) == n[shown >= 0.8][0]
    for tasters in (30, 48, 90):
        found = likeness_power(test, tasters, share=share)
        assert found == pytest.approx(shown[tasters - 1])
        limit = stats.binomtest(12, tasters, alternative="less").proportion_ci(
            0.95, method="exact"
        )
        high = max(0.0, (limit.high - guess) / (1 - guess))
        done = evaluate_likeness(test, tasters=tasters, correct=12, share=share)
        assert done.high_share == pytest.approx(high)
        assert done.shown == (done.most is not None and high < share)


def test_no_difference_is_not_likeness() -> None:
    """Ten tasters, three right: no difference, and no likeness either."""
    few = evaluate_likeness("triangle", tasters=10, correct=3, share=0.3)
    assert not few.shown
    assert "no difference either" in few.verdict
    many = evaluate_likeness("triangle", tasters=60, correct=40, share=0.3)
    assert "A difference is shown instead" in many.verdict
    alike = evaluate_likeness("triangle", tasters=60, correct=20, share=0.3)
    assert "fewer than 30 % of people taste a difference" in alike.verdict
