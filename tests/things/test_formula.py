"""The formula: percentages against published ones, and lossless exchange."""

import math

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.errors import FormulaError
from bakelab.formula import (
    Assumption,
    Formula,
    Row,
    formula_from_csv,
    formula_from_json,
    formula_to_csv,
    formula_to_json,
    working,
)
from tests.cards import D009_OZ, D055_OZ, OZ_G


def _card(ounces: list[tuple[str, float]]) -> Formula:
    return Formula.from_pairs([(key, oz * OZ_G) for key, oz in ounces])


def test_white_bread_card_d_009_00() -> None:
    card = _card(D009_OZ)
    assert card.flour_g / OZ_G == pytest.approx(154)
    assert card.dough_g / OZ_G == pytest.approx(254.625)
    assert 100 * card.dough_g / card.flour_g == pytest.approx(165.34, abs=0.005)
    assert card.water_pct == pytest.approx(53.25, abs=0.005)
    assert card.pct("yeast_active_dry") == pytest.approx(1.95, abs=0.005)
    assert card.pct("sugar_white") == pytest.approx(0.49 + 2.27, abs=0.01)
    assert card.pct("milk_dry_nonfat") == pytest.approx(2.35, abs=0.005)
    assert card.pct("shortening") == pytest.approx(3.81, abs=0.006)
    assert card.pct("salt_table") == pytest.approx(1.22, abs=0.005)


def test_whole_wheat_card_d_055_00() -> None:
    card = _card(D055_OZ)
    assert card.flour_g / OZ_G == pytest.approx(124)
    assert card.dough_g / OZ_G == pytest.approx(229.04, abs=0.005)
    assert 100 * card.dough_g / card.flour_g == pytest.approx(184.71, abs=0.005)
    assert card.pct("wheat_bread") == pytest.approx(54.84, abs=0.005)
    assert card.pct("wheat_whole") == pytest.approx(45.16, abs=0.005)
    assert card.water_pct == pytest.approx(63.31, abs=0.005)
    assert card.pct("salt_table") == pytest.approx(2.02, abs=0.005)
    assert card.pct("sugar_white") == pytest.approx(8.57, abs=0.005)


def test_garrison_bread_of_1916() -> None:
    """Manual for Army Bakers 1916, as quoted by seabeecook.com: flour 100 lb, sugar,
    salt and lard 1 1/4 lb each, yeast 10 oz, water 6 gal 3 qt: water 56.2 %."""
    water_lb = 27 * 2 * 473.176473 * 0.9982 / 453.59237 * 1
    bread = Formula.from_pairs(
        [
            ("wheat_bread", 100),
            ("sugar_white", 1.25),
            ("salt_table", 1.25),
            ("lard", 1.25),
            ("yeast_fresh", 0.625),
            ("water", water_lb),
        ]
    )
    assert bread.water_pct == pytest.approx(56.2, abs=0.1)
    assert bread.dough_g == pytest.approx(160.6, abs=0.1)


def test_true_hydration_counts_the_water_of_milk_and_egg() -> None:
    """USDA SR28: whole milk 88.13 g, egg 76.15 g water in 100 g; worked by hand."""
    dough = Formula.from_pairs(
        [("wheat_bread", 500), ("milk_whole", 250), ("egg_whole", 50)]
    )
    by_hand = (250 * 0.8813 + 50 * 0.7615) / 500 * 100
    assert dough.water_pct == 0
    assert dough.hydration_pct == pytest.approx(by_hand, abs=0.05)


def test_flour_in_a_starter_counts_as_flour() -> None:
    """100 g at 100 % is 50 g flour and 50 g water; at 60 % it is 62.5 and 37.5."""
    flour = Row("dough", "wheat_bread", "flour", "flour", 450)
    liquid = Row("dough", "starter_liquid", "levain", "starter", 100, 100)
    stiff = Row("dough", "starter_stiff", "levain", "starter", 100, 60)
    assert Formula((flour, liquid)).flour_g == pytest.approx(500)
    assert Formula((flour, liquid)).hydration_pct == pytest.approx(10)
    assert Formula((flour, stiff)).flour_g == pytest.approx(512.5)
    assert Formula((flour, stiff)).water_g == pytest.approx(37.5)


def test_the_flours_share_one_hundred_percent() -> None:
    dough = Formula.from_pairs([("wheat_bread", 300), ("rye_medium", 100)])
    assert list(dough.frame["bakers_pct"]) == [75, 25]
    assert dough.role_pct("flour") == 100


def test_a_table_of_keys_and_grams_is_a_formula() -> None:
    table = pd.DataFrame({"ingredient": ["wheat_bread", "water"], "mass_g": [500, 340]})
    dough = Formula.from_frame(table, title="Plain loaf")
    assert (dough.title, dough.flour_g, dough.water_pct) == ("Plain loaf", 500, 68)
    again = Formula.from_frame(dough.frame, title="Plain loaf")
    assert again.key == dough.key
    with pytest.raises(FormulaError, match="lacks "):
        Formula.from_frame(table[["mass_g"]])


def test_no_flour_has_no_percentages_and_says_so() -> None:
    dough = Formula.from_pairs([("water", 100)])
    assert math.isnan(dough.hydration_pct)
    with pytest.raises(FormulaError, match="no flour"):
        dough.require_flour()


@pytest.mark.parametrize("mass_g", [-1, math.inf, math.nan])
def test_an_impossible_mass_is_refused(mass_g: float) -> None:
    with pytest.raises(FormulaError, match="a mass is 0 g or more"):
        Row("dough", "water", "water", "water", mass_g)


def test_the_working_of_one_number() -> None:
    dough = Formula.from_pairs([("wheat_bread", 400), ("salt_table", 7.6)])
    assert working(dough, "salt") == "salt 1.9 % = 7.6 g / 400 g x 100"
    assert working(dough, "dough").startswith("dough 407.6 g = ")
    assert "400 g" in working(dough, "flour")
    with pytest.raises(FormulaError, match="no 'honey'"):
        working(dough, "honey")


texts = st.text(max_size=20)
rows = st.builds(
    Row,
    texts,
    st.sampled_from(["wheat_bread", "water", "unheard of", "=1+1"]),
    st.one_of(texts, st.sampled_from(["=cmd()", "@x", "'quoted", 'a,b\n"c"', "#"])),
    st.sampled_from(["flour", "water", "starter", "other"]),
    st.floats(0, 1e6, allow_nan=False),
    st.one_of(st.none(), st.floats(0, 1000)),
)
assumptions = st.builds(Assumption, texts, texts, texts, texts, st.none())
formulas = st.builds(
    Formula,
    st.lists(rows, max_size=6).map(tuple),
    title=texts,
    notes=texts,
    bake_minutes=st.one_of(st.none(), st.just((30.0, 35.0))),
    assumptions=st.lists(assumptions, max_size=2).map(tuple),
)


@given(formulas)
def test_json_round_trip_is_exact(formula: Formula) -> None:
    again = formula_from_json(formula_to_json(formula))
    assert again == formula
    assert again.key == formula.key


@given(formulas)
def test_csv_round_trip_is_exact(formula: Formula) -> None:
    assert formula_from_csv(formula_to_csv(formula)) == formula


def test_csv_cells_cannot_run_in_a_spreadsheet() -> None:
    row = Row("dough", "wheat_bread", "=HYPERLINK(1)", "flour", 1)
    lines = formula_to_csv(Formula((row,))).splitlines()
    assert ",'=HYPERLINK(1)," in lines[-1]


@pytest.mark.parametrize("text", ["", "{}", "[1]", "nonsense", '{"format": 3}'])
def test_other_text_is_no_saved_formula(text: str) -> None:
    with pytest.raises(FormulaError, match="not a formula saved by bakelab"):
        formula_from_json(text)
    with pytest.raises(FormulaError, match="not a formula saved by bakelab"):
        formula_from_csv(text)


def test_the_table_in_a_notebook_is_escaped() -> None:
    row = Row("<b>", "wheat_bread", "<script>x</script>", "flour", 1)
    shown = Formula((row,), title="<i>")._repr_html_()
    assert "<script>" not in shown
    assert "<b>" not in shown
    assert "<i>" not in shown


@given(st.floats(0.01, 100))
def test_scaling_keeps_every_percentage(factor: float) -> None:
    card = _card(D009_OZ)
    before, after = card.frame["bakers_pct"], card.scaled(factor).frame["bakers_pct"]
    assert list(after) == pytest.approx(list(before), rel=1e-12)
