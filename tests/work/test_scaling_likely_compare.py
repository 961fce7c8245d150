"""Guessing a recipe's pan, and formulas side by side."""

import pytest

from bakelab.errors import FitError, FormulaError
from bakelab.formula import Formula
from bakelab.pans import pan, pans
from bakelab.ranges import band
from bakelab.scaling import LIKELY_COLUMNS, compare, fit, likely_pans

OUNCE_G = 28.349523125  # UCUM essence table, exact


def bread(dough_g: float, **meta: str) -> Formula:
    pairs = [("wheat_bread", 100), ("water", 62), ("salt_table", 2)]
    formula = Formula.from_pairs([*pairs, ("yeast_instant", 1)], **meta)
    return formula.scaled(dough_g / formula.dough_g)


@pytest.mark.parametrize(
    ("ounces", "key"),
    [(21.5, "loaf_army_9_9x4_25"), (28, "loaf_army_10_5x5")],
)
def test_army_pans_are_possible_for_their_dough(ounces, key):
    """US Army bread cards D009 and D010 (web copies): the pan and its dough."""
    found = likely_pans(bread(ounces * OUNCE_G), "white_pan", n=500)
    row = found[(found["key"] == key) & (found["count"] == 1)].iloc[0]
    assert row["certainty"] in ("likely", "possible")
    assert row["place"] == "in the usual band"


def test_ranked_by_score_with_reasons():
    found = likely_pans(bread(800), "white_pan", n=8)
    assert tuple(found.columns) == LIKELY_COLUMNS
    assert len(found) == 8
    assert found["score"].is_monotonic_decreasing
    for row in found.itertuples():
        assert row.certainty in row.text
        assert f"{row.loading_cm3_g:.2f} cm³/g" in row.text
        assert pan(row.spec).has_volume


def test_loading_is_volume_over_dough_of_the_pan_that_is_named():
    row = likely_pans(bread(800), "white_pan").iloc[0]
    one = pan(row["spec"])
    assert row["volume_cm3"] == pytest.approx(one.volume.magnitude)
    by_hand = row["count"] * one.total_volume.magnitude / 800
    assert row["loading_cm3_g"] == pytest.approx(by_hand)
    assert row["dough_g"] * row["count"] * one.count == pytest.approx(800)


@pytest.mark.parametrize("style", ["white_pan", "whole_wheat_pan", "brioche"])
def test_the_likeliest_is_a_loaf_pan_in_the_band(style):
    usual = band(style, "loading_cm3_g")
    assert usual is not None
    best = likely_pans(bread(750), style).iloc[0]
    assert usual.low <= best["loading_cm3_g"] <= usual.high
    assert pans().loc[best["key"], "shape"] == "loaf"


def test_lidded_bread_gets_lidded_pans():
    found = likely_pans(bread(900), "sandwich_lidded", n=3)
    assert all(pan(spec).lidded for spec in found["spec"])


def test_yield_in_loaves_settles_the_count():
    two = likely_pans(bread(1600, stated_yield="makes 2 large loaves"), "white_pan")
    assert set(two["count"]) == {2}
    zwei = bread(1600, stated_yield="zwei Kastenbrote", language="de")
    assert set(likely_pans(zwei, "white_pan")["count"]) == {2}
    free = likely_pans(bread(1600), "white_pan", n=100)
    assert set(free["count"]) > {1, 2}


def test_pans_of_the_recipes_country_come_first():
    found = likely_pans(bread(900, language="de"), "white_pan", n=3)
    assert {pans().loc[key, "country"] for key in found["key"]} == {"DE"}


def test_a_guess_leads_back_to_the_same_dough():
    formula = bread(800)
    guess = likely_pans(formula, "white_pan").iloc[0]
    fitted = fit(formula, from_=guess["spec"], to=guess["spec"], style="white_pan")
    assert fitted.factor == pytest.approx(1)


def test_no_pan_is_guessed_where_no_loading_is_known():
    with pytest.raises(FitError, match="no usual pan loading"):
        likely_pans(bread(800), "baguette")
    with pytest.raises(FormulaError, match="no style"):
        likely_pans(bread(800), "moon bread")
    with pytest.raises(FitError, match="at least one"):
        likely_pans(bread(800), n=0)
    with pytest.raises(FormulaError, match="no flour"):
        likely_pans(Formula.from_pairs([("water", 100)]))


# TM 10-412 (2003) D 009 00 and D 055 00 (US Government work; en.wikisource.org,
# pages 136 and 279), weights in oz, and their percentages of flour worked out.
WHITE = Formula.from_pairs(
    [
        ("wheat_bread", 154 * OUNCE_G),
        ("water", 82 * OUNCE_G),
        ("sugar_white", 4.25 * OUNCE_G),
        ("salt_table", 1.875 * OUNCE_G),
        ("shortening", 5.875 * OUNCE_G),
        ("milk_dry_nonfat", 3.625 * OUNCE_G),
        ("yeast_active_dry", 3 * OUNCE_G),
    ],
    title="White",
)
WHEAT = Formula.from_pairs(
    [
        ("wheat_bread", 68 * OUNCE_G),
        ("wheat_whole", 56 * OUNCE_G),
        ("water", 78.5 * OUNCE_G),
        ("sugar_white", 10.625 * OUNCE_G),
        ("salt_table", 2.5 * OUNCE_G),
        ("shortening", 7.25 * OUNCE_G),
        ("milk_dry_nonfat", 4.5 * OUNCE_G),
        ("yeast_active_dry", 5 / 3 * OUNCE_G),
    ],
    title="Whole wheat",
)


def test_two_army_breads_side_by_side():
    """TM 10-412 (2003) D 009 00: salt 1.22, yeast 1.95, total 165.34 % of flour;
    D 055 00: salt 2.02, yeast 1.34, flours 54.84 and 45.16, total 184.71 %."""
    table = compare(WHITE, WHEAT).set_index("label")
    salt = table[table["ingredient"] == "salt_table"].iloc[0]
    assert salt["White %"] == pytest.approx(1.22, abs=0.005)
    assert salt["Whole wheat %"] == pytest.approx(2.02, abs=0.005)
    assert salt["Whole wheat sign"] == "+"
    assert salt["Whole wheat change"] == "0.80 points more (66 % more)"
    yeast = table[table["role"] == "yeast"].iloc[0]
    assert yeast["Whole wheat sign"] == "−"
    whole = table[table["ingredient"] == "wheat_whole"].iloc[0]
    assert whole["White g"] == 0
    assert whole["Whole wheat change"] == "new: 45.16 % of flour"
    assert table.loc["dough", "White %"] == pytest.approx(165.34, abs=0.005)
    assert table.loc["dough", "Whole wheat %"] == pytest.approx(184.71, abs=0.005)


def test_a_scaled_formula_differs_in_grams_only():
    table = compare(WHITE, WHITE.scaled(0.37))
    signs = [name for name in table.columns if name.endswith("sign")]
    assert len(signs) == 1
    assert set(table[signs[0]]) == {"="}
    ratio = table["White (2) g"] / table["White (1) g"]
    assert ratio.tolist() == pytest.approx([0.37] * len(table))


def test_left_out_and_untitled():
    plain = Formula.from_pairs([("wheat_bread", 500), ("water", 300)])
    rich = Formula.from_pairs(
        [("wheat_bread", 500), ("water", 300), ("butter_unsalted", 50)]
    )
    table = compare(rich, plain, rich)
    butter = table[table["ingredient"] == "butter_unsalted"].iloc[0]
    assert butter["formula 2 change"] == "left out: was 10.00 % of flour"
    assert butter["formula 3 sign"] == "="


def test_one_ingredient_in_two_stages_is_one_row():
    sponge = Formula.from_pairs([("wheat_bread", 200), ("water", 200)], stage="sponge")
    dough = Formula.from_pairs([("wheat_bread", 300), ("water", 100)])
    both = dough.with_rows((*sponge.rows, *dough.rows))
    straight = Formula.from_pairs([("wheat_bread", 500), ("water", 300)])
    table = compare(both, straight)
    assert set(table["formula 2 sign"]) == {"="}
    assert table["ingredient"].tolist().count("wheat_bread") == 1


def test_comparison_that_cannot_be_is_refused():
    with pytest.raises(FitError, match="at least two"):
        compare(WHITE)
    with pytest.raises(FormulaError, match="no flour"):
        compare(WHITE, Formula.from_pairs([("water", 100)]))
