"""Energy and salt of a serving, against published compositions and targets."""

import math

import pytest

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.nutrition import (
    NOT_A_LABEL,
    SODIUM_TO_SALT,
    nutrition,
    salt_target,
    salt_targets,
)
from bakelab.units import Q_


def _white(salt_g: float = 9, **meta: str) -> Formula:
    rows = [
        ("wheat_bread", 500.0),
        ("water", 310.0),
        ("salt_table", salt_g),
        ("yeast_active_dry", 7.0),
        ("sugar_white", 15.0),
        ("oil_vegetable", 10.0),
    ]
    return Formula.from_pairs(rows, **meta)  # fmt: skip


def test_flour_and_salt_alone_by_hand() -> None:
    """USDA SR: bread flour (20083) 11.98 / 1.66 / 72.53; salt (2047) 38 758 mg Na."""
    dough = Formula.from_pairs([("wheat_bread", 100.0), ("water", 60.0),
                                ("salt_table", 2.0)])  # fmt: skip
    found = nutrition(dough, loss_pct=(10.0, 10.0))
    bread_g = 162 * 0.9
    kcal = 4 * 11.98 + 9 * 1.66 + 4 * 72.53
    sodium = 2 * 387.58 + 2 + 0.6 * 4  # and 2 mg of the flour, 4 of 100 g of water
    assert found.per_100_g("energy_kcal")[0] == pytest.approx(
        100 * kcal / bread_g, rel=0.002
    )
    assert found.per_100_g("sodium_mg")[0] == pytest.approx(
        100 * sodium / bread_g, rel=0.002
    )


def test_a_white_bread_is_near_the_published_one() -> None:
    """USDA SR26 18069, white bread: 265 kcal, 9.15 g protein; Atwater 261.55."""
    found = nutrition(_white())
    low, high = found.per_100_g("energy_kcal")
    assert low == pytest.approx(265, rel=0.05)
    assert high == pytest.approx(265, rel=0.05)
    assert found.per_100_g("protein_g")[0] == pytest.approx(9.15, rel=0.15)


def test_salt_is_sodium_times_its_share() -> None:
    """UK FSA: 430 mg of sodium are 1.1 g of salt, 400 mg are 1.0 g."""
    assert pytest.approx(1.1, abs=0.05) == 0.430 * SODIUM_TO_SALT
    assert pytest.approx(1.0, abs=0.05) == 0.400 * SODIUM_TO_SALT


def test_a_share_of_the_bread_holds_the_same_whatever_bakes_off() -> None:
    dough = _white(stated_yield="12 rolls")
    low, high = nutrition(dough, loss_pct=(5.0, 20.0)).per_serving("salt_g") or (0, 1)
    assert low == pytest.approx(high)
    assert low == pytest.approx(9 * 0.38758 * SODIUM_TO_SALT / 12, rel=0.02)


def test_a_slice_by_its_weight() -> None:
    """28 g is the slice of USDA SR26 18069."""
    found = nutrition(_white(), serving=Q_(28, "g"))
    per_slice = found.per_serving("energy_kcal")
    assert per_slice is not None
    assert per_slice[0] == pytest.approx(0.28 * found.per_100_g("energy_kcal")[0])


def test_without_a_serving_there_is_none() -> None:
    found = nutrition(_white())
    assert found.per_serving("salt_g") is None
    assert math.isnan(found.frame["low_serving"].iloc[0])


@pytest.mark.parametrize(("salt_g", "side"), [(4, "below"), (12, "above")])
def test_the_target_is_told_with_its_source(salt_g: float, side: str) -> None:
    said = nutrition(_white(salt_g)).against("uk_2012")
    assert f", {side} the 1 g of the target" in said
    assert "p. 375" in said


def test_it_is_no_label_claim_and_says_so() -> None:
    found = nutrition(_white())
    assert found.caution == NOT_A_LABEL
    assert "not a label claim" in found._repr_html_()


def test_what_is_not_in_the_table_is_named() -> None:
    dough = _white()
    found = nutrition(
        dough.with_rows(
            [*dough.rows, Row("dough", "moon dust", "moon dust", "other", 20.0)]
        )
    )
    assert found.unknown == ("moon dust",)
    assert "moon dust" in found._repr_html_()


def test_every_target_has_a_source_and_agrees_with_its_sodium() -> None:
    table = salt_targets()
    assert table["key"].is_unique
    assert (table["source"].str.len() > 10).all()
    worked = table["sodium_mg"] / 1000 * SODIUM_TO_SALT
    assert (abs(worked / table["salt_g"] - 1) < 0.02).all()


@pytest.mark.parametrize(
    ("asked", "match"),
    [
        ({"loss_pct": (20.0, 10.0)}, "give the least and the most"),
        ({"loss_pct": (-1.0, 10.0)}, "from 0 up to 50 %"),
        ({"serving": Q_(0, "g")}, "above 0 g"),
        ({"servings": 0}, "got 0 servings; give 1 or more"),
    ],
)
def test_what_cannot_be_is_refused(asked: dict[str, object], match: str) -> None:
    with pytest.raises(FormulaError, match=match):
        nutrition(_white(), **asked)  # type: ignore[arg-type]


def test_unknown_names_are_refused() -> None:
    with pytest.raises(FormulaError, match="no value 'joy'"):
        nutrition(_white()).per_100_g("joy")
    with pytest.raises(FormulaError, match="no salt target 'moon'"):
        salt_target("moon")


def test_a_dough_of_nothing_is_refused() -> None:
    with pytest.raises(FormulaError, match="weighs nothing"):
        nutrition(Formula(()))
