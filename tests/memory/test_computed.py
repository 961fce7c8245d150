"""What the book works out of a bake: loss, volumes, rise, cost, deviations."""

import math
from datetime import UTC, date, datetime, timedelta
from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest
import statsmodels.api
from hypothesis import given
from hypothesis import strategies as st

from bakelab.bakebook.computed import COMPUTED, compute
from bakelab.bakebook.costs import ingredients_cost
from bakelab.bakebook.facts import FACTS_BY_NAME
from bakelab.bakebook.results import (
    OFF_PLAN,
    bake_loss_pct,
    loading_cm3_g,
    off_plan,
    oven_spring_pct,
    specific_volume_cm3_g,
)
from bakelab.bakebook.rising import proof_ratio, rise_rate, straight_line
from bakelab.bakebook.volumes import (
    reported_specific_volume,
    volume_by_displacement,
    volume_by_shape,
)
from bakelab.errors import BookError, UnitError
from bakelab.formula import Formula
from bakelab.pans import pan
from bakelab.units import Q_

DOUGH = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 325), ("salt_table", 10), ("honey", 20)]
)
NOON = datetime(2026, 3, 4, 12, tzinfo=UTC)
POUND_OZ = 16


@pytest.mark.parametrize(
    ("dough_g", "loaf_g", "percent"),
    [
        # 2 lb 3 1/2 oz of dough to a loaf of 2 lb: Manual for Army Bakers, 1916.
        (2 * POUND_OZ + 3.5, 2 * POUND_OZ, 9.859),
        # Rumford, essays: 361 lb 19 loth lost of 2755 lb at Munich, 32 loth to the lb.
        (2755, 2755 - (361 + 19 / 32), 13.125),
        # Accum 1821, A Treatise on the Art of Making Bread: 88 lb to 74 1/2 lb.
        (88, 74.5, 15.34),
    ],
)
def test_bake_loss_is_of_the_dough(dough_g, loaf_g, percent):
    found = bake_loss_pct(dough_g=dough_g, loaf_g=loaf_g)
    assert found == pytest.approx(percent, abs=0.005)


def test_loss_of_the_loaf_is_another_number():
    """Gisslen allows 50 to 65 g per 500 g baked: 9.1 to 11.5 % of the dough."""
    assert bake_loss_pct(dough_g=550, loaf_g=500) == pytest.approx(9.1, abs=0.05)
    assert bake_loss_pct(dough_g=565, loaf_g=500) == pytest.approx(11.5, abs=0.05)


@pytest.mark.parametrize(
    ("spec", "ounces", "cm3_g"),
    [
        # Army bread cards: the pans and the dough they are given, box by box.
        ("loaf 11 x 5 x 3.5 in", 27.0, 4.12),
        ("loaf 9.875 x 4.25 x 2.75 in", 21.5, 3.10),
        ("loaf 10.5 x 5 x 3.5 in", 28.0, 3.79),
    ],
)
def test_dough_loading_of_army_pans(spec, ounces, cm3_g):
    pan_cm3 = pan(spec).volume.to("cm^3").magnitude
    found = loading_cm3_g(pan_cm3=pan_cm3, dough_g=Q_(ounces, "oz").to("g").magnitude)
    assert found == pytest.approx(cm3_g, abs=0.006)


def test_specific_volume_and_spring_by_hand():
    assert specific_volume_cm3_g(volume_cm3=2250, loaf_g=500) == 4.5
    assert oven_spring_pct(going_in_mm=80, loaf_mm=100) == 25


def test_deviations_by_hand():
    facts = {"proof_min": 70.0, "planned_proof_min": 60.0, "bake_min": 30.0}
    assert off_plan(facts) == {"off_proof_min": 10.0}
    for done, planned in OFF_PLAN.values():
        assert FACTS_BY_NAME[done].unit == FACTS_BY_NAME[planned].unit


def test_seeds_by_volume_and_by_weight():
    """USDA A-A-20126F, 6.6.2: the loaf is what the seeds no longer fill."""
    found = volume_by_displacement(alone=Q_(4000, "ml"), around=Q_(1700, "ml"))
    assert found.to("ml").magnitude == pytest.approx(2300)
    weighed = volume_by_displacement(
        alone=Q_(2680, "g"), around=Q_(1139, "g"), per_volume=Q_(0.67, "kg/l")
    )
    assert weighed.to("ml").magnitude == pytest.approx(2300)


@pytest.mark.parametrize(
    ("volume", "mass", "reported"),
    [
        # USDA A-A-20126F, 6.6.2: whole ml, whole g, to one decimal.
        (2249.6, 450.4, 5.0),
        (2272.4, 499.6, 4.5),
        (2275.0, 500.0, 4.6),  # 4.55: a half goes up
    ],
)
def test_specific_volume_as_reported(volume, mass, reported):
    found = reported_specific_volume(volume=Q_(volume, "ml"), mass=Q_(mass, "g"))
    assert found == reported


@pytest.mark.parametrize(
    ("arguments", "error", "words"),
    [
        ({"alone": Q_(2, "l"), "around": Q_(3, "l")}, BookError, "leave no loaf"),
        ({"alone": Q_(2, "kg"), "around": Q_(1, "kg")}, BookError, "weigh by volume"),
        ({"alone": Q_(2, "min"), "around": Q_(1, "l")}, UnitError, "alone"),
        ({"alone": 5.0, "around": Q_(1, "l")}, TypeError, "alone"),
    ],
)
def test_seeds_that_tell_nothing(arguments, error, words):
    with pytest.raises(error, match=words):
        volume_by_displacement(**arguments)


def test_loaf_level_with_the_rim_is_the_pan():
    tin = pan("loaf 30 x 10 x 7 cm, base 28 x 8 cm")  # 1829.3 by hand, style guide
    found = volume_by_shape(tin, height=Q_(7, "cm"), wall_height=Q_(7, "cm"))
    assert found.middle_cm3 == pytest.approx(1829.3, abs=0.1)
    assert found.low_cm3 == found.high_cm3 == found.middle_cm3


def test_crown_is_two_thirds_of_its_block():
    """Archimedes, Quadrature of the Parabola: a segment is 2/3 of its block."""
    found = volume_by_shape("loaf 20 x 10 x 8 cm", height=Q_(11, "cm"))
    assert found.middle_cm3 == pytest.approx(1600 + 2 / 3 * 200 * 3)
    assert found.low_cm3 == pytest.approx(1600 + 300)
    assert found.high_cm3 == pytest.approx(1600 + 600)


def test_loaf_upright_above_the_rim():
    """By hand: the tin, 200 cm² by 1 cm, and two thirds of 200 cm² by 2 cm."""
    heights = {"height": Q_(11, "cm"), "wall_height": Q_(9, "cm")}
    found = volume_by_shape("loaf 20 x 10 x 8 cm", **heights)
    assert found.middle_cm3 == pytest.approx(1600 + 200 + 2 / 3 * 400)


def test_half_a_ball_on_the_hearth():
    """A hemisphere of radius 10 cm holds 2/3 pi r^3 (Archimedes)."""
    sides = {name: Q_(20, "cm") for name in ("length", "width")}
    found = volume_by_shape("hearth", height=Q_(10, "cm"), **sides)
    assert found.middle_cm3 == pytest.approx(2 / 3 * math.pi * 1000)
    with pytest.raises(BookError, match="length and width"):
        volume_by_shape("hearth", height=Q_(10, "cm"))


def test_lid_leaves_no_crown_and_low_loaf_has_a_wide_band():
    lidded = volume_by_shape("loaf 20 x 10 x 10 cm, lidded", height=Q_(9, "cm"))
    assert lidded.low_cm3 == lidded.high_cm3 == pytest.approx(1800)
    low = volume_by_shape("loaf 20 x 10 x 10 cm", height=Q_(8, "cm"))
    assert low.low_cm3 < low.middle_cm3 < low.high_cm3 == pytest.approx(1600)
    assert "height at the wall" in low.working


def test_measured_capacity_counts_below_the_rim_as_well():
    tin = pan("loaf 20 x 10 x 10 cm").with_capacity(volume=Q_(1800, "ml"))
    found = volume_by_shape(tin, height=Q_(5, "cm"), wall_height=Q_(5, "cm"))
    assert found.middle_cm3 == pytest.approx(900)


@given(st.floats(1, 30), st.floats(0.1, 1))
def test_band_is_in_order(height, share):
    heights = {"height": Q_(height, "cm"), "wall_height": Q_(height * share, "cm")}
    found = volume_by_shape("round 20 x 8 cm, base 18 cm", **heights)
    assert 0 < found.low_cm3 <= found.middle_cm3 <= found.high_cm3


# NIST Statistical Reference Datasets, linear regression "Norris" (y x pairs), typed
# from memory; the certified slope, intercept and standard error come out to all digits.
NORRIS = """0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3
998.5 996.3 449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9
339.3 338.0 448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6
120.2 0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2
11.1 117.6 118.3 228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5"""


def test_line_of_the_reference_data():
    numbers = [float(word) for word in NORRIS.split()]
    y, x = numbers[::2], numbers[1::2]
    line = straight_line(x, y)
    assert line.points == 36
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-12)
    assert line.start == pytest.approx(-0.262323073774029, rel=1e-10)
    t_34 = 2.0322445093  # Student's t, 34 degrees of freedom, 0.975
    error = (line.high - line.slope) / t_34
    assert error == pytest.approx(0.429796848199937e-3, rel=1e-8)


def test_line_agrees_with_statsmodels():
    rng = np.random.default_rng(3)
    x = np.arange(8.0)
    y = 3 + 2 * x + rng.normal(0, 0.5, 8)
    fit = statsmodels.api.OLS(y, statsmodels.api.add_constant(x)).fit()
    line = straight_line(x, y)
    assert (line.start, line.slope) == pytest.approx(tuple(fit.params))
    assert (line.low, line.high) == pytest.approx(tuple(fit.conf_int()[1]))


def test_steady_part_of_a_modified_gompertz_rise():
    """Zwietering et al. 1990: the steepest slope of the curve is its parameter mu.

    Between 15 and 85 % the curve is flatter than its steepest point, so the line
    is at most mu and at least three quarters of it.
    """
    top, mu, lag = 120.0, 90.0, 0.4  # %, %/h, h
    hours = np.arange(0, 4.01, 0.1)
    gain = top * np.exp(-np.exp(mu * np.e / top * (lag - hours) + 1))
    found = rise_rate(60 * hours, 250 * (1 + gain / 100))
    assert 0.75 * mu < found.pct_h < mu


@given(st.floats(1, 300), st.floats(50, 2000), st.integers(3, 20))
def test_a_straight_rise_is_found_again(rate, start, readings):
    minutes = np.linspace(0, 120, readings)
    found = rise_rate(minutes, start * (1 + rate / 100 * minutes / 60))
    assert found.pct_h == pytest.approx(rate, rel=1e-6)


def test_band_covers_the_true_rate_nineteen_times_of_twenty():
    rng = np.random.default_rng(20)
    hours = np.linspace(0, 2, 9)
    held = 0
    for _ in range(400):
        line = straight_line(hours, 100 + 60 * hours + rng.normal(0, 4, 9))
        held += line.low <= 60 <= line.high
    assert 0.92 <= held / 400 <= 0.98


def test_rise_that_tells_nothing():
    assert rise_rate([0], [200]) is None
    assert rise_rate([0, 30], [200, 190]) is None
    assert rise_rate([10, 10], [200, 220]) is None
    two = rise_rate([0, 60], [200, 300])
    assert two.pct_h == pytest.approx(50)
    assert math.isnan(two.low_pct_h)
    assert proof_ratio([200]) is None
    assert proof_ratio([200, 410]) == pytest.approx(2.05)


def prices(*rows) -> pd.DataFrame:
    names = ["ingredient", "price", "currency", "per_g", "date"]
    return pd.DataFrame(rows, columns=names)


ALL = prices(
    ("wheat_bread", 1.80, "EUR", 1000, "2026-01-02"),
    ("wheat_bread", 2.00, "EUR", 1000, "2026-03-01"),
    ("wheat_bread", 9.00, "EUR", 1000, "2026-04-01"),
    ("salt_table", 0.50, "EUR", 500, "2026-01-02"),
    ("honey", 6.00, "EUR", 500, "2026-06-01"),
)


def test_cost_by_hand_with_the_price_of_the_day():
    found = ingredients_cost(DOUGH, ALL, factor=2, on=date(2026, 3, 4))
    by_hand = 2 * (500 * 2.00 / 1000 + 10 * 0.50 / 500 + 20 * 6.00 / 500)
    assert found.total == pytest.approx(by_hand)
    assert (found.currency, found.words) == ("EUR", "water counted as nothing")


def test_no_cost_where_a_price_is_missing_or_money_is_mixed():
    missing = ingredients_cost(DOUGH, ALL[ALL["ingredient"] != "honey"])
    assert missing.total is None
    assert "honey" in missing.words.lower()
    mixed = ALL.assign(currency=["EUR"] * 4 + ["CHF"])
    assert "CHF, EUR" in ingredients_cost(DOUGH, mixed).words
    assert ingredients_cost(DOUGH, prices()) is None


def bake(facts=None, readings=(), marks=()):
    names = ["kind", "at", "minute", "value"]
    frame = pd.DataFrame(list(readings), columns=names)
    frame["at"] = pd.to_datetime(frame["at"], utc=True)
    marked = [
        SimpleNamespace(what=what, at=NOON + timedelta(minutes=minute))
        for what, minute in marks
    ]
    return SimpleNamespace(
        facts=facts or {}, formula=DOUGH, readings=frame, started_at=NOON, marks=marked
    )


def test_what_is_not_known_is_left_out():
    assert compute(bake(), prices=prices()) == {}


def test_whole_bake_by_hand():
    facts = {
        "pan": "loaf 20 x 10 x 8 cm", "dough_in_g": 500.0, "loaf_out_g": 450.0,
        "loaf_volume_cm3": 2025.0, "dough_volume_cm3": 450.0, "height_cm": 11.0,
        "dough_c": 26.5, "planned_dough_c": 25.0, "batch_factor": 0.5,
    }  # fmt: skip
    readings = [
        ("rise_mm", None, 0.0, 40.0), ("rise_mm", None, 60.0, 60.0),
        ("rise_mm", None, 120.0, 80.0), ("core_c", None, 0.0, 26.0),
        ("rise_mm", NOON + timedelta(minutes=200), 195.0, 110.0),  # out of the oven
    ]  # fmt: skip
    marks = [("mixed", 5), ("in the oven", 130)]
    found = compute(bake(facts, readings, marks), prices=ALL)
    expected = {
        "bake_loss_pct": 10.0, "specific_volume_cm3_g": 4.5, "loading_cm3_g": 3.2,
        "height_volume_cm3": 2000.0, "oven_spring_pct": 37.5, "loaf_over_dough": 4.5,
        "proof_ratio": 2.0, "rise_rate_pct_h": 50.0, "rise_rate_low_pct_h": 50.0,
        "rise_rate_high_pct_h": 50.0, "cost": 0.625, "off_dough_c": 1.5,
    }  # fmt: skip
    words = {"cost_currency": "EUR", "cost_words": "water counted as nothing"}
    assert {k: v for k, v in found.items() if k not in words} == pytest.approx(expected)
    assert {k: found[k] for k in words} == words


def test_names_are_listed_and_a_pan_of_words_gives_no_loading():
    found = compute(
        bake({"pan": "the blue one", "dough_in_g": 500.0, "height_cm": 9.0}),
        prices=prices(),
    )
    assert found == {}
    names = [fact.name for fact in COMPUTED]
    assert len(set(names)) == len(names)
    assert set(OFF_PLAN) < set(names)
    assert not set(names) & set(FACTS_BY_NAME)
