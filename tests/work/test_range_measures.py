"""The measures of a formula that are placed on bands."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.ranges import (
    measured,
    measures,
    shares,
)


def test_white_bread_card(white_bread):
    # Percentages worked from the card's ounces: salt 1 7/8 of 154 and so on.
    found = measures(white_bread)
    assert found["salt"] == pytest.approx(100 * 1.875 / 154, abs=1e-9)
    assert found["sugar"] == pytest.approx(100 * 4.25 / 154, abs=1e-9)
    assert found["yeast_active_dry"] == pytest.approx(100 * 3 / 154, abs=1e-9)
    assert found["fat"] == pytest.approx(100 * 5.875 / 154, abs=0.05)
    # SR26 1091: nonfat dry milk holds 3.16 g of water in 100 g.
    solids = 100 * 3.625 * 0.9684 / 154
    assert found["milk_solids"] == pytest.approx(solids, abs=0.03)
    assert found["egg"] == found["prefermented_flour"] == 0
    # Water as written is 53.25 %; yeast and dry milk add a little.
    assert 53.25 < found["hydration"] < 53.6


def test_whole_milk_reaches_the_milk_bread_rule():
    # 21 CFR 136.130 asks for 8.2 parts of milk solids; SR26 1077 holds
    # 88.13 g of water in 100 g, so 69.1 parts of milk give them.
    dough = Formula.from_pairs([("wheat_bread", 100), ("milk_whole", 69.1)])
    assert measures(dough)["milk_solids"] == pytest.approx(8.2, abs=0.05)


def test_butter_counts_for_its_fat():
    # SR26 1001: salted butter holds 81.11 g of fat, 15.87 g of water in 100 g.
    dough = Formula.from_pairs([("wheat_bread", 200), ("butter_salted", 100)])
    assert measures(dough)["fat"] == pytest.approx(40.6, abs=0.3)
    assert measures(dough)["hydration"] == pytest.approx(7.9, abs=0.4)


def test_two_kinds_of_yeast_count_as_one():
    # 1 : 0.40 : 0.33, common practice, no source.
    dough = Formula.from_pairs(
        [("wheat_bread", 100), ("yeast_fresh", 2), ("yeast_instant", 0.33)]
    )
    found = measured(dough)
    assert found["yeast_fresh"].value == pytest.approx(3.0)
    assert "0.33" in found["yeast_fresh"].note
    assert "yeast_instant" not in found


def test_dried_egg_counts_as_the_egg_it_makes():
    # SR26 1123: whole egg holds 76.15 g of water in 100 g, so about a quarter
    # of it is solids and dried egg makes four times its weight.
    dough = Formula.from_pairs([("wheat_bread", 100), ("egg_dried", 5)])
    assert measures(dough)["egg"] == pytest.approx(20, abs=1.0)


def test_prefermented_flour_of_stages_and_starters():
    rows = (
        Row("poolish", "wheat_bread", "flour", "flour", 100),
        Row("poolish", "water", "water", "water", 100),
        Row("poolish", "yeast_instant", "yeast", "yeast", 0.1),
        Row("soaker", "rye_whole", "rye meal", "flour", 50),
        Row("soaker", "water", "water", "water", 50),
        Row("dough", "wheat_bread", "flour", "flour", 230),
        Row("dough", "starter_liquid", "starter", "starter", 40, 100.0),
        Row("dough", "water", "water", "water", 100),
    )
    found = measures(Formula(rows))
    # By hand: 100 + 20 g of 400 g flour; water 100 + 50 + 20 + 100.
    assert found["prefermented_flour"] == pytest.approx(30.0)
    assert found["hydration"] == pytest.approx(67.5, abs=0.1)


def test_a_straight_dough_in_one_named_stage_has_no_preferment():
    dough = Formula.from_pairs(
        [("wheat_bread", 100), ("water", 60), ("yeast_fresh", 2)], stage="sponge cake"
    )
    assert measures(dough)["prefermented_flour"] == 0


def test_toppings_stay_out():
    dough = Formula.from_pairs([("wheat_bread", 100), ("water", 60)])
    topping = Row("topping", "sugar_white", "sugar", "sweetener", 30)
    assert measures(dough.with_rows([*dough.rows, topping])) == measures(dough)


def test_an_unknown_ingredient_is_named():
    dough = Formula.from_pairs([("wheat_bread", 100), ("water", 60)])
    goop = Row("dough", "cloudberry butterfat", "cloudberry butterfat", "fat", 5)
    found = measured(dough.with_rows([*dough.rows, goop]))
    assert found["fat"].value == 5
    assert "cloudberry butterfat assumed to be all fat" in found["fat"].note
    assert "cloudberry butterfat" in found["hydration"].note


def test_no_flour_is_refused():
    with pytest.raises(FormulaError, match="no flour"):
        measures(Formula.from_pairs([("water", 100)]))


@given(st.floats(0.01, 1000))
def test_batch_size_does_not_move_a_measure(factor):
    dough = Formula.from_pairs(
        [("wheat_bread", 500), ("water", 300), ("egg_whole", 50), ("salt_table", 9)]
    )
    moved = measures(dough.scaled(factor))
    for name, value in measures(dough).items():
        assert moved[name] == pytest.approx(value, rel=1e-9)


def test_shares_by_hand():
    dough = Formula.from_pairs(
        [("wheat_bread", 60), ("rye_whole", 40), ("raisins", 50), ("water", 70)]
    )
    found = shares(dough)
    assert found["rye"] == found["whole"] == pytest.approx(40)
    assert found["fruit"] == pytest.approx(50)
    assert found["gluten_free"] == 0
