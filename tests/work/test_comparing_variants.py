"""Variants compared by a one-way analysis of variance."""

import math

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from bakelab.comparing import (
    by_variant,
)


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
