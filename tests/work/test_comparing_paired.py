"""Pairs compared, against published intervals and other programs."""

import math

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from bakelab.comparing import (
    ComparisonError,
    paired,
    signed_rank_interval,
)

# Hollander and Wolfe, Nonparametric Statistical Methods, 1973, p. 29: depression scale
# factor of nine patients before and after, as in the help of R's wilcox.test.
BEFORE = [1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30]
AFTER = [0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29]
# Student, The probable error of a mean, Biometrika 6, 1908: hours of sleep gained.
SLEEP = ([0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0],
         [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4])  # fmt: skip


def pairs_of(first: list[float], second: list[float]) -> pd.DataFrame:
    days = list(range(len(first)))
    return pd.DataFrame(
        {
            "day": days * 2,
            "pan": ["small"] * len(first) + ["large"] * len(second),
            "height_cm": [*first, *second],
        }
    )


def two_sizes(first: list[float], second: list[float], **more: float) -> object:
    return paired(
        pairs_of(first, second), result="height_cm", by="pan", pair="day",
        first="small", second="large", **more,
    )  # fmt: skip


def test_exact_interval_is_the_published_one() -> None:
    # Hollander and Wolfe: estimate -0.46; R: 0.010 to 0.786 at its attained 96.1 %.
    middle, low, high, attained = signed_rank_interval(
        np.array(AFTER) - np.array(BEFORE)
    )
    assert (middle, low, high) == pytest.approx((-0.46, -0.786, -0.010))
    assert attained == pytest.approx(0.961, abs=5e-4)


def test_students_interval_is_the_published_one() -> None:
    # R, t.test(paired = TRUE) of the data set sleep: 0.7001142 to 2.4598858.
    found = two_sizes(*SLEEP)
    assert found.mean == pytest.approx(1.58)
    assert (found.t_low, found.t_high) == pytest.approx((0.7001142, 2.4598858))


def test_chance_over_all_signs_agrees_with_scipy() -> None:
    found = two_sizes(*SLEEP)
    away = np.array(SLEEP[1]) - np.array(SLEEP[0])
    checked = stats.permutation_test(
        (away,), np.mean, permutation_type="samples", n_resamples=np.inf
    )
    assert found.p_value == pytest.approx(checked.pvalue)
    assert found.method == "exact"


def test_many_pairs_take_students_t() -> None:
    # scipy.stats.ttest_rel.
    random = np.random.default_rng(7)
    first, second = random.normal(9, 1, 30), random.normal(9.4, 1, 30)
    found = two_sizes(list(first), list(second))
    assert found.method == "Student's t"
    assert found.p_value == pytest.approx(stats.ttest_rel(second, first).pvalue)


def test_few_pairs_say_that_they_cannot_carry_the_confidence() -> None:
    # R, wilcox.test of five values: p = 0.0625, so 93.75 % at most.
    found = two_sizes([0.0] * 5, [0.9, 1.2, 2.2, 3.1, 0.4])
    assert found.attained == pytest.approx(0.9375)
    assert found.middle == pytest.approx(1.55)
    assert (found.low, found.high) == pytest.approx((0.4, 3.1))
    assert "5 pairs cannot carry 95 %" in found.text
    assert found.p_value == pytest.approx(0.0625)


def test_exact_interval_covers_as_often_as_it_says() -> None:
    random = np.random.default_rng(11)
    draws = random.standard_normal((2000, 8))
    hits, attained = 0, 0.0
    for row in draws:
        _, low, high, attained = signed_rank_interval(row)
        hits += low <= 0 <= high
    error = math.sqrt(attained * (1 - attained) / len(draws))
    assert hits / len(draws) == pytest.approx(attained, abs=4 * error)


def test_pairs_without_a_partner_stay_out_and_are_counted() -> None:
    frame = pairs_of([1.0, 2.0, 3.0], [1.5, 2.5, 3.5]).iloc[:-1]
    frame = pd.concat([frame, frame.iloc[[0]]])
    found = paired(
        frame, result="height_cm", by="pan", pair="day", first="small", second="large"
    )
    assert len(found.pairs) == 2
    assert any("only one of the two" in r for r in found.remarks)
    assert any("count with their mean" in r for r in found.remarks)


@pytest.mark.parametrize(
    ("first", "second", "said"),
    [("small", "small", "against itself"), ("small", "tin", "there are small, large")],
)
def test_impossible_pairs_are_refused(first: str, second: str, said: str) -> None:
    with pytest.raises(ComparisonError, match=said):
        paired(
            pairs_of([1, 2], [2, 3]), result="height_cm", by="pan", pair="day",
            first=first, second=second,
        )  # fmt: skip
