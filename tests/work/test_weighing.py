"""Weights on a real scale: rounding, risk, remedies, eggs."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.errors import FormulaError, UnitError, UnknownIngredientError
from bakelab.formula import Formula, Row
from bakelab.kitchen import grams_per
from bakelab.weighing import (
    HALF_GRAM_SCALE,
    KITCHEN_SCALE,
    QUARTER_OUNCE_SCALE,
    SPOON_AND_KITCHEN_SCALE,
    SPOON_SCALE,
    Scale,
    count_eggs,
    eggs_of,
    nearest_spoons,
    round_to_scale,
    scale_from_text,
    stock_for,
)

OUNCE_G = 28.349523125  # UCUM essence table: pound / 16, exact


@pytest.fixture(autouse=True)
def _no_own_weights(tmp_path, monkeypatch):
    monkeypatch.setenv("BAKELAB_KITCHEN", str(tmp_path / "kitchen.json"))


def small_batch() -> Formula:
    return Formula.from_pairs(
        [
            ("wheat_bread", 270.76),
            ("water", 175.99),
            ("salt_table", 5.42),
            ("yeast_instant", 2.71),
        ]
    )


@pytest.mark.parametrize(
    ("ounces", "printed"),
    [
        (0.00, 0.0),
        (0.12, 0.0),
        (0.13, 0.25),
        (0.37, 0.25),
        (0.38, 0.5),
        (0.62, 0.5),
        (0.63, 0.75),
        (0.87, 0.75),
        (0.88, 1.0),
        (0.99, 1.0),
        (5.60, 5.5),  # the worked example: 0.35 lb = 5.60 oz, weigh 5 1/2 oz
    ],
)
def test_quarter_ounces_round_as_the_army_card_prints(ounces, printed):
    """TM 10-412 (2003), card A-1(2): the table of rounding to quarter ounces."""
    rounded = QUARTER_OUNCE_SCALE.nearest_g(ounces * OUNCE_G) / OUNCE_G
    assert rounded == pytest.approx(printed, abs=1e-6)


def test_army_example_is_rounded_to_five_and_a_half_ounces():
    """TM 10-412 (2003), card A-1(2): 0.35 lb = 5.60 oz, weighed as 5 1/2 oz."""
    formula = Formula.from_pairs(
        [("wheat_bread", 16 * OUNCE_G), ("water", 5.60 * OUNCE_G)]
    )
    weighed = round_to_scale(formula, QUARTER_OUNCE_SCALE)
    assert weighed.formula.rows[1].mass_g / OUNCE_G == pytest.approx(5.5, abs=1e-6)


def test_flour_in_whole_grams_and_small_ones_in_half_grams():
    """Common practice, no source: flour to 1 g, small ingredients to 0.5 g."""
    scale = scale_from_text("1 g, 0.5 g up to 20 g")
    frame = round_to_scale(small_batch(), scale).frame
    flour, *others = frame["weigh_g"].tolist()
    assert flour in (270.0, 271.0)
    assert others == [176.0, 5.5, 2.5]


def _by_hand(formula: Formula, weights: tuple[float, ...]) -> float:
    """The documented objective, written out: plain water and flour only."""
    old = [row.mass_g for row in formula.rows]
    roles = [row.role for row in formula.rows]

    def pct(masses, role):
        flour = sum(m for m, r in zip(masses, roles, strict=True) if r == "flour")
        some = sum(m for m, r in zip(masses, roles, strict=True) if r == role)
        return some / flour

    def water(masses):
        inside = {"water": 1.0, "flour": 0.0}
        got = 0.0
        for mass, row in zip(masses, formula.rows, strict=True):
            one = Formula((Row("dough", row.ingredient, "x", row.role, 100.0),))
            got += mass * inside.get(row.role, one.water_g / 100)
        return got / pct(masses, "flour") / _flour(masses)

    def _flour(masses):
        return sum(m for m, r in zip(masses, roles, strict=True) if r == "flour")

    each = sum(
        ((new / _flour(weights)) / (was / _flour(old)) - 1) ** 2
        for new, was in zip(weights, old, strict=True)
    )
    wet = (water(weights) / water(old) - 1) ** 2
    salt = (pct(weights, "salt") / pct(old, "salt") - 1) ** 2
    return each + 4 * wet + salt


@settings(max_examples=40, deadline=None)
@given(
    flour=st.floats(50, 900),
    water=st.floats(30, 700),
    salt=st.floats(1, 20),
    yeast=st.floats(1, 20),
)
def test_no_other_rounding_down_or_up_is_closer(flour, water, salt, yeast):
    formula = Formula.from_pairs(
        [
            ("wheat_bread", flour),
            ("water", water),
            ("salt_table", salt),
            ("yeast_instant", yeast),
        ]
    )
    weighed = round_to_scale(formula, KITCHEN_SCALE)
    chosen = tuple(row.mass_g for row in weighed.formula.rows)
    ways = [
        (math.floor(r.mass_g + 1e-9), math.ceil(r.mass_g - 1e-9)) for r in formula.rows
    ]
    best = min(_by_hand(formula, way) for way in itertools.product(*ways))
    assert _by_hand(formula, chosen) <= best + 1e-12


def test_rounding_together_beats_rounding_each_alone():
    """Hand-worked: 100.5 and 65.4 g are 65.07 %. Each to the nearest gram is
    101 and 65 g, 64.36 %; 100 and 65 g are 65.00 %."""
    pairs = [("wheat_bread", 100.5), ("water", 65.4)]
    weighed = round_to_scale(Formula.from_pairs(pairs))
    assert [row.mass_g for row in weighed.formula.rows] == [100, 65]
    assert weighed.hydration_pct == pytest.approx(65.0)


masses = st.floats(0.05, 3000, allow_nan=False)
scales = st.sampled_from(
    [KITCHEN_SCALE, HALF_GRAM_SCALE, SPOON_AND_KITCHEN_SCALE, QUARTER_OUNCE_SCALE]
)
extras = st.lists(
    st.tuples(
        st.sampled_from(
            ["milk_whole", "egg_whole", "butter_unsalted", "salt_table", "yeast_fresh"]
        ),
        masses,
    ),
    max_size=14,
)


@settings(max_examples=60, deadline=None)
@given(flour=st.floats(20, 3000), water=masses, more=extras, scale=scales)
def test_rounding_never_moves_hydration_by_more_than_it_says(flour, water, more, scale):
    formula = Formula.from_pairs([("wheat_bread", flour), ("water", water), *more])
    weighed = round_to_scale(formula, scale)
    printed = Formula.from_pairs(
        list(zip(weighed.frame["ingredient"], weighed.frame["weigh_g"], strict=True))
    )
    moved = printed.hydration_pct - formula.hydration_pct
    said = weighed.formula.hydration_pct - weighed.exact.hydration_pct
    assert moved == pytest.approx(said, abs=1e-9)
    assert f"({moved:+.2f} points)".replace("-0.00", "+0.00") in (
        weighed.remarks[0].replace("-0.00", "+0.00")
    )


@settings(max_examples=60, deadline=None)
@given(flour=st.floats(20, 3000), water=masses, more=extras, scale=scales)
def test_every_weight_is_on_the_scale_and_none_is_lost(flour, water, more, scale):
    formula = Formula.from_pairs([("wheat_bread", flour), ("water", water), *more])
    frame = round_to_scale(formula, scale).frame
    for row in frame.itertuples():
        steps = row.weigh_g / row.step_g
        shown = abs(steps - round(steps)) < 1e-6
        assert row.weigh_g > 0
        assert shown or (row.weigh_g == row.exact_g < row.step_g and row.risk_pct > 50)
        assert abs(row.weigh_g - row.exact_g) < row.step_g * (1 + 1e-9)


def test_eighteen_weights_are_rounded_too():
    pairs = [("wheat_bread", 1000.3), ("water", 650.6)]
    pairs += [("sugar_white", 10.4 + i) for i in range(16)]
    weighed = round_to_scale(Formula.from_pairs(pairs))
    assert weighed.frame["off_pct"].abs().max() < 6


def test_risk_is_half_a_step_over_the_amount():
    """Hand-worked: 0.5 g over 4 g is 12.5 %, over 400 g 0.125 %."""
    assert KITCHEN_SCALE.risk_pct(4) == pytest.approx(12.5)
    assert KITCHEN_SCALE.risk_pct(400) == pytest.approx(0.125)
    assert SPOON_AND_KITCHEN_SCALE.risk_pct(4) == pytest.approx(1.25)


def test_a_remedy_is_offered_only_where_the_risk_is_over_five_percent():
    frame = round_to_scale(small_batch()).frame
    assert [bool(text) for text in frame["remedy"]] == [False, False, True, True]
    assert not round_to_scale(small_batch(), SPOON_AND_KITCHEN_SCALE).remedies


def test_stock_adds_up_by_hand():
    """Hand-worked: 2.71 g wanted; 10 g in 90 g is 10 %, 27 g of it holds 2.7 g and
    24.3 g of water, which leaves 151.7 g of 176 g."""
    stock = stock_for(2.71, water_g=176, scale=KITCHEN_SCALE)
    assert stock is not None
    assert (stock.solute_g, stock.solvent_g, stock.weigh_g) == (10, 90, 27)
    assert stock.gives_g == pytest.approx(2.7)
    assert stock.water_left_g == pytest.approx(151.7)


@given(
    exact=st.floats(0.05, 9.9),
    water=st.floats(20, 2000),
    step=st.sampled_from([0.5, 1]),
)
def test_a_stock_keeps_the_water_and_the_limit(exact, water, step):
    scale = Scale(((math.inf, step),))
    stock = stock_for(exact, water_g=water, scale=scale)
    if stock is None:
        too_dry, too_little = water < 100 * exact + 1, 100 * exact < 11 * step
        assert too_dry or too_little
        return
    share = stock.solute_g / (stock.solute_g + stock.solvent_g)
    assert stock.gives_g == pytest.approx(stock.weigh_g * share)
    assert stock.gives_g + stock.water_g == pytest.approx(stock.weigh_g)
    assert stock.water_g + stock.water_left_g == pytest.approx(water)
    assert stock.weigh_g <= stock.solute_g + stock.solvent_g + 1e-9
    assert stock.gives_g == pytest.approx(exact, rel=0.05 + 1e-6)
    assert scale.risk_pct(stock.weigh_g) <= 5
    assert scale.risk_pct(stock.solute_g) <= 5


def test_no_stock_from_water_that_is_not_there():
    dry = Formula.from_pairs([("wheat_bread", 100), ("yeast_instant", 2)])
    assert "stock" not in round_to_scale(dry).frame["remedy"][1]


def test_salt_by_the_spoon_is_usda_salt():
    """USDA SR 02047: 1 tsp of table salt is 6 g, so 4.5 g is 3/4 tsp."""
    spoons = nearest_spoons("salt_table", 4.5)
    assert spoons is not None
    assert spoons.text == "1/2 tsp + 1/4 tsp"
    assert spoons.mass_g == pytest.approx(4.5, rel=0.03)
    assert spoons.low_g < spoons.mass_g < spoons.high_g


def test_spoons_follow_the_weight_of_the_kitchen_table():
    weight = grams_per("yeast_active_dry", "tsp")
    assert weight is not None
    spoons = nearest_spoons("yeast_active_dry", weight.mid_g * 4)
    assert spoons is not None
    assert spoons.text == "1 tbsp + 1 tsp"


def test_two_large_eggs_for_96_grams():
    """USDA SR 01123: a large egg without its shell is 50 g."""
    egg = count_eggs("egg_whole", 96)
    assert egg is not None
    assert egg.text == "2 large eggs (100 g of 96 g)"
    assert egg.off_pct == pytest.approx(100 * 4 / 96)


@pytest.mark.parametrize(
    ("key", "mass_g", "size", "text"),
    [
        ("egg_whole", 44, "medium", "1 medium egg (44 g of 44 g)"),
        ("egg_yolk", 17, "large", "1 large egg yolk (17 g of 17 g)"),
        ("egg_whole", 32, "large", "32 g of one beaten large egg of 50 g"),
        ("egg_whole", 62, "large", "62 g: 1 large egg of 50 g and 12 g of another"),
    ],
)
def test_eggs_by_the_piece(key, mass_g, size, text):
    """USDA SR 01123 and 01125: medium egg 44 g, large 50 g, large yolk 17 g."""
    egg = count_eggs(key, mass_g, size=size)
    assert egg is not None
    assert egg.text.startswith(text)


def test_eggs_keep_their_grams_in_the_formula():
    formula = Formula.from_pairs([("wheat_bread", 400), ("egg_whole", 96.4)])
    weighed = round_to_scale(formula)
    assert weighed.formula.rows[1].mass_g in (96, 97)
    assert [egg.count for egg in eggs_of(weighed.formula)] == [2]
    assert count_eggs("water", 50) is None


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("1 g", ((math.inf, 1.0),)),
        ("1 g, 0.1 g up to 100 g", ((100.0, 0.1), (math.inf, 1.0))),
        ("0,1 g bis 50 g; 2 g", ((50.0, 0.1), (math.inf, 2.0))),
        ("5 g up to 5 kg and 1 g up to 1 kg", ((1000.0, 1.0), (5000.0, 5.0))),
        ("1/4 oz", ((math.inf, OUNCE_G / 4),)),
    ],
)
def test_a_scale_in_words(text, steps):
    got = scale_from_text(text).steps
    assert got == tuple((pytest.approx(a), pytest.approx(b)) for a, b in steps)


def test_two_scales_on_one_bench():
    pair = Scale.pair(fine=SPOON_SCALE, coarse=KITCHEN_SCALE)
    assert (pair.step_g(50), pair.step_g(50.1)) == (0.1, 1.0)
    assert pair.describe().endswith("0.1 g up to 50 g, 1 g above")


@pytest.mark.parametrize("text", ["", "1", "1 cm", "0 g", "-1 g", "1 g, 2 g", "9 kg"])
def test_a_scale_that_cannot_be_is_refused(text):
    with pytest.raises(UnitError, match=r"g\b"):
        scale_from_text(text)


def test_other_refusals_are_one_sentence():
    with pytest.raises(UnitError, match="must rise"):
        Scale(((50.0, 1.0), (50.0, 2.0)))
    with pytest.raises(UnknownIngredientError, match="choose one of"):
        count_eggs("egg_whole", 50, size="ostrich")
    with pytest.raises(FormulaError, match="no flour"):
        round_to_scale(Formula.from_pairs([("water", 100)]))
    with pytest.raises(FormulaError, match="slip"):
        round_to_scale(Formula.from_pairs([("wheat_bread", 1.2e11)]))


def test_a_scale_of_small_reach_says_so():
    formula = Formula.from_pairs([("wheat_bread", 3000), ("water", 100)])
    scale = scale_from_text("1 g up to 2 kg")
    assert any(
        "in parts" in remark for remark in round_to_scale(formula, scale).remarks
    )


def test_shown_html_is_escaped():
    row = Row("dough", "x", "<script>alert(1)</script>", "other", 2.0)
    formula = Formula.from_pairs([("wheat_bread", 100)])
    html = round_to_scale(formula.with_rows((*formula.rows, row)))._repr_html_()
    assert "<script>" not in html
    assert "&lt;script&gt;" in html


def test_a_scale_may_be_given_in_words():
    white = Formula.from_pairs([("wheat_bread", 501.26), ("salt_table", 9.43)])
    fine = round_to_scale(white, "0.1 g")
    assert fine.frame.equals(round_to_scale(white, scale_from_text("0.1 g")).frame)
    with pytest.raises(TypeError, match="written as text such as '1 g'"):
        round_to_scale(white, 5)
