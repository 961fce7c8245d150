"""Names, units and decimals of what is compared; values taken for the same."""

import math

import pandas as pd
import pytest

from bakelab.comparing import (
    named,
    repeats,
    unit_of,
)
from bakelab.comparing.data import number, rounded


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
