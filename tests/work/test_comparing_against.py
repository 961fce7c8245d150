"""A result against a ratio, against certified values and nested models."""

import math

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from bakelab.comparing import (
    ComparisonError,
    against,
    ratios_of,
    with_ratios,
)
from bakelab.formula import Formula
from bakelab.weighing import KITCHEN_SCALE
from tests.work.printed_tables import values

# NIST StRD, linear regression, data set Norris: y, x. Data and certified values from
# memory; that they agree to ten digits confirms both.
NORRIS = values(
    """0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3
    998.5 996.3 449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8
    666.9 339.3 338.0 448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8
    887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0
    778.9 779.0 10.2 11.1 117.6 118.3 228.9 229.2 668.4 669.1 449.2 448.9 0.2
    0.5"""
).reshape(-1, 2)
NORRIS_SLOPE, NORRIS_ERROR, NORRIS_SPREAD = (
    1.00211681802045,
    0.429796848199937e-03,
    0.884796396144373,
)


def test_line_has_the_certified_slope_and_interval() -> None:
    frame = pd.DataFrame(NORRIS, columns=["y", "x"])
    found = against(frame, result="y", ratio="x")
    reach = stats.t.ppf(0.975, 34) * NORRIS_ERROR
    assert found.slope == pytest.approx(NORRIS_SLOPE, rel=1e-10)
    assert found.slope_low == pytest.approx(NORRIS_SLOPE - reach, rel=1e-9)
    assert found.slope_high == pytest.approx(NORRIS_SLOPE + reach, rel=1e-9)


def test_band_is_narrowest_at_the_mean_and_wider_for_a_new_bake() -> None:
    # At the mean of x the half width is t s / sqrt(n) (NIST e-Handbook, 4.5.1.2).
    frame = pd.DataFrame(NORRIS, columns=["y", "x"])
    line = against(frame, result="y", ratio="x").line
    half = (line["high"] - line["low"]) / 2
    least = stats.t.ppf(0.975, 34) * NORRIS_SPREAD / 6
    assert half.min() == pytest.approx(least, rel=1e-3)
    assert half.idxmin() not in (0, len(line) - 1)
    new = (line["new_high"] - line["new_low"]) / 2
    np.testing.assert_allclose(
        new**2 - half**2, (stats.t.ppf(0.975, 34) * NORRIS_SPREAD) ** 2, rtol=1e-6
    )


def test_repeats_and_lack_of_fit_are_those_of_two_nested_models() -> None:
    # An F test of the line inside the means of cells, by hand with numpy.
    random = np.random.default_rng(4)
    x = np.repeat([1.0, 2.0, 3.0, 4.0], 3)
    y = (x - 2.4) ** 2 + random.normal(0, 0.3, 12)
    found = against(pd.DataFrame({"x": x, "y": y}), result="y", ratio="x")
    line = np.polynomial.Polynomial.fit(x, y, 1)
    cells = np.array([y[x == v].mean() for v in x])
    pure, rest = ((y - cells) ** 2).sum(), ((y - line(x)) ** 2).sum()
    f = ((rest - pure) / 2) / (pure / 8)
    assert found.scatter.spread == pytest.approx(math.sqrt(pure / 8))
    assert found.lack_of_fit_p == pytest.approx(stats.f.sf(f, 2, 8))
    assert "try a curved one" in found.text
    curved = against(
        pd.DataFrame({"x": x, "y": y}), result="y", ratio="x", shape="curved"
    )
    assert curved.lack_of_fit_p > 0.05


def test_what_cannot_be_fitted_says_why() -> None:
    flat = pd.DataFrame({"salt_pct": [2.0, 2.0, 2.0], "height_cm": [9.0, 9.4, 9.1]})
    found = against(flat, result="height_cm", ratio="salt_pct")
    assert found.line.empty
    assert "needs 2 different values" in found.text
    two = pd.DataFrame({"salt_pct": [1.0, 2.0], "height_cm": [9.0, 9.4]})
    assert "bake at least one more" in against(
        two, result="height_cm", ratio="salt_pct"
    ).text  # fmt: skip


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"result": "salt_pct", "ratio": "salt_pct"}, "against itself"),
        ({"result": "crumb", "ratio": "salt_pct"}, "no column crumb"),
        ({"result": "height_cm", "ratio": "salt_pct", "shape": "wavy"}, "no shape"),
        ({"result": "height_cm", "ratio": "salt_pct", "confidence": 95}, "0.5 to"),
        ({"result": "nothing", "ratio": "salt_pct"}, "no bake has all of"),
    ],
)
def test_nonsense_is_refused_in_one_sentence(arguments: dict, said: str) -> None:
    frame = pd.DataFrame(
        {"salt_pct": [1.0, 2.0, 2.0], "height_cm": [9.0, 8.0, 8.5], "nothing": None}
    )
    with pytest.raises(ComparisonError, match=said):
        against(frame, **arguments)


def test_bakes_without_a_value_stay_out_and_are_counted() -> None:
    frame = pd.DataFrame(
        {"salt_pct": [1, 1.5, 2, 2, math.inf], "height_cm": ["9", 8.8, None, 8.1, 1]}
    )
    found = against(frame, result="height_cm", ratio="salt_pct")
    assert len(found.points) == 3
    assert found.remarks == (
        "1 of 5 bakes has no height and stays out",
        "1 of 5 bakes has no salt and stays out",
    )


def test_what_the_scale_leaves_open_is_half_a_step_of_each_weight() -> None:
    # By hand: 10 g of salt may be 9.5 to 10.5 g on 499.5 to 500.5 g of flour; the
    # linear bound is 100 * 0.5 / 500 + 2 * 0.5 / 500 = 0.102 %.
    pairs = [("wheat_bread", 500), ("water", 325), ("salt_table", 10)]
    found = ratios_of(Formula.from_pairs(pairs), scale=KITCHEN_SCALE)
    worst = 100 * 10.5 / 499.5 - 2.0
    assert found["salt_pct_doubt"] == pytest.approx(worst, rel=0.02)
    twice = ratios_of(Formula.from_pairs(pairs), scale=KITCHEN_SCALE, batch=2)
    assert twice["salt_pct_doubt"] == pytest.approx(found["salt_pct_doubt"] / 2)


def test_ratios_that_the_scale_cannot_tell_apart_are_said() -> None:
    bread = {
        key: Formula.from_pairs(
            [("wheat_bread", 100), ("water", 65), ("salt_table", salt)]
        )
        for key, salt in (("a", 1.8), ("b", 2.0), ("c", 2.2))
    }
    bakes = pd.DataFrame({"formula_key": list("aabbcc"), "height_cm": range(6)})
    frame = with_ratios(bakes, bread.__getitem__, scale=KITCHEN_SCALE)
    assert frame["salt_pct"].round(2).tolist() == [1.8, 1.8, 2.0, 2.0, 2.2, 2.2]
    found = against(frame, result="height_cm", ratio="salt_pct")
    assert "they cannot be told apart by it" in found.text
