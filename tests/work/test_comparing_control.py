"""Control chart, against the NIST/SEMATECH e-Handbook."""

import math

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from bakelab.comparing import (
    ComparisonError,
    control_chart,
)
from bakelab.comparing.control import D2, D4

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
