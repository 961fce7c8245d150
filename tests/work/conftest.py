"""Formulas as printed, for the tests of bands and measures."""

from collections.abc import Sequence

import pytest

from bakelab.formula import Formula
from tests.cards import D009_OZ, D055_OZ, OZ_G


def _card(ounces: Sequence[tuple[str, float]], title: str) -> Formula:
    return Formula.from_pairs([(key, oz * OZ_G) for key, oz in ounces], title=title)


@pytest.fixture(scope="module")
def white_bread():
    """TM 10-412 (2003) card D 009 00, white bread (short-time), 100 portions."""
    return _card(D009_OZ, "White bread, short time")


@pytest.fixture(scope="module")
def whole_wheat_bread():
    """TM 10-412 (2003) card D 055 00, whole-wheat bread, 100 portions."""
    return _card(D055_OZ, "Whole wheat bread")


@pytest.fixture(scope="module")
def laboratory_loaf():
    """USDA-ARS Western Wheat Quality Lab straight dough, "based on AACC 10-10B".

    Its water is set for each flour, so the formula names none.
    """
    return Formula.from_pairs(
        [
            ("wheat_bread", 100),
            ("salt_table", 1.5),
            ("sugar_white", 6),
            ("yeast_active_dry", 1.8),
            ("milk_dry_nonfat", 4),
            ("shortening", 3),
        ]
    )
