"""An estimated time on a formula: written, read back, dropped for another pan."""

from dataclasses import replace

import pytest

from bakelab.errors import FormulaError
from bakelab.formula import (
    Formula,
    formula_from_csv,
    formula_from_json,
    formula_to_csv,
    formula_to_json,
)
from bakelab.oven import estimate_bake, expected_bake, with_expected_bake
from bakelab.oven.result import BakeEstimate
from bakelab.scaling import before_fit, fit

OLD, NEW = "loaf 9 x 5 x 2.75 in", "loaf 8 x 4 x 2.5 in"
LOAF = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 320), ("salt_table", 10), ("yeast_instant", 5)],
    title="Quay loaf", stated_pan=OLD, oven="200 °C", bake_minutes=(34, 38),
    style="white_pan",
)  # fmt: skip
FITTED = fit(LOAF, to=NEW).formula


@pytest.fixture(scope="module")
def found() -> BakeEstimate:
    return estimate_bake(LOAF, OLD, NEW, samples=24)


def test_the_estimate_is_read_back_as_it_was_written(found: BakeEstimate) -> None:
    kept = with_expected_bake(FITTED, found)
    for same in (
        kept,
        formula_from_json(formula_to_json(kept)),
        formula_from_csv(formula_to_csv(kept)),
    ):
        expected = expected_bake(same)
        assert expected is not None
        assert expected.middle_min == round(found.middle_minutes)
        assert expected.low_min == round(found.low_minutes)
        assert expected.high_min == round(found.high_minutes)
        assert expected.dough_g == round(FITTED.dough_g)
        assert (expected.pan, expected.setting) == (NEW, "200 °C")
        assert "from 36 min in" in expected.basis
        assert "check the centre with a thermometer" in expected.text
    assert kept.rows == FITTED.rows
    assert kept.bake_minutes is None


def test_a_second_estimate_takes_the_place_of_the_first(found: BakeEstimate) -> None:
    twice = with_expected_bake(with_expected_bake(FITTED, found), found)
    assert twice == with_expected_bake(FITTED, found)


def test_fitted_to_another_pan_there_is_no_estimate(found: BakeEstimate) -> None:
    other = fit(with_expected_bake(FITTED, found), to="loaf 12 x 5 x 3 in").formula
    assert expected_bake(other) is None
    assert expected_bake(LOAF) is None


def test_without_a_pan_no_time_is_kept(found: BakeEstimate) -> None:
    with pytest.raises(FormulaError, match="states no pan"):
        with_expected_bake(replace(FITTED, stated_pan=""), found)


def test_a_fitted_formula_still_knows_its_recipe() -> None:
    before = before_fit(FITTED)
    assert before is not None
    assert before.bake_minutes == (34, 38)
    assert before.stated_pan == OLD
    assert before.dough_g == pytest.approx(835)  # 500 + 320 + 10 + 5
    assert before.role_g("salt") == pytest.approx(10)


def test_a_formula_that_was_never_fitted_has_nothing_before_it() -> None:
    assert before_fit(LOAF) is None
    nameless = replace(LOAF, stated_pan="")
    fitted = fit(nameless, from_=OLD, to=NEW).formula
    before = before_fit(fitted)
    assert before is not None
    assert (before.stated_pan, before.bake_minutes) == ("", (34, 38))
