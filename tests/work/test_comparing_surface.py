"""Response surface, against published fits and other programs."""

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from bakelab.comparing import (
    ComparisonError,
    response_surface,
)
from tests.work.printed_tables import values

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
