"""The usual bands: the table, the printed numbers, and where a value lies."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.errors import FormulaError
from bakelab.ranges import (
    ABOVE,
    BELOW,
    COMMON_PRACTICE,
    INSIDE,
    MEASURES,
    NO_BAND,
    against_ranges,
    band,
    place,
    style_name,
    styles,
    trade_ranges,
)
from bakelab.ranges.clues import _signs
from tests.cards import OZ_G
from tests.work.range_cases import FIGONI, INCH_CM, WIHLFAHRT, row_of

PRINTED = {
    FIGONI,
    WIHLFAHRT,
    "Wihlfahrt, A Treatise on Baking, The Temperature of the Bread Dough",
    "Gisslen, Professional Baking (Wiley), ch. 6",
    "TM 10-412 (2003), bread cards",
    "US Army bread cards D009 and D010, as quoted in web copies",
    "Manual for Army Bakers (1916), as quoted on seabeecook.com",
    "Therdthai, Zhou & Adamczak, J. Food Eng. 55 (2002) 41-48, abstract",
    "Zanoni, Peri & Pierucci, J. Food Eng. 19 (1993) 383-398, abstract",
}
UNITS = {"loading_cm3_g": "cm³/g", "dough_c": "°C", "core_end_c": "°C"}


def test_many_styles_of_every_family():
    table = styles()
    assert len(table) >= 28
    assert table["style"].is_unique
    assert table["name"].is_unique
    families = {"pan", "hearth", "enriched", "whole-grain", "rye", "sweet", "flat"}
    assert families | {"gluten-free", "quick", "rolls"} <= set(table["family"])


def test_every_row_is_whole_and_ordered():
    table = trade_ranges()
    assert (table["low"] <= table["high"]).all()
    assert (table["low"] >= 0).all()
    assert table[["low", "high"]].notna().all(axis=None)
    assert (table[["unit", "basis", "source"]] != "").all(axis=None)
    assert not table.duplicated(["style", "measure", "basis", "source"]).any()
    assert set(table["measure"]) == set(MEASURES)


def test_a_source_is_printed_or_says_that_there_is_none():
    assert set(trade_ranges()["source"]) == PRINTED | {COMMON_PRACTICE}


def test_units_follow_the_measure():
    for row in trade_ranges().itertuples():
        usual = "% of dough" if row.measure == "bake_loss" else "% of flour"
        assert row.unit == UNITS.get(row.measure, usual)


@pytest.mark.parametrize("style", list(styles()["style"]))
def test_every_style_has_what_a_formula_needs(style):
    of_formula = list(MEASURES)[:10]
    found = set(trade_ranges(style)["measure"])
    assert set(of_formula) <= found
    assert style in _signs()


def test_pan_styles_have_a_loading():
    table = styles()
    for style in table["style"][table["family"] == "pan"]:
        assert band(style, "loading_cm3_g").low > 1


def test_yeast_bands_agree_with_each_other():
    # 1 : 0.40 : 0.33, common practice, no source.
    for style in styles()["style"]:
        fresh = band(style, "yeast_fresh")
        for kind, per_fresh in (("active_dry", 0.40), ("instant", 0.33)):
            dry = band(style, f"yeast_{kind}")
            assert dry.low == pytest.approx(fresh.low * per_fresh, abs=0.0051)
            assert dry.high == pytest.approx(fresh.high * per_fresh, abs=0.0051)


def test_the_table_is_a_copy():
    table = trade_ranges()
    table["low"] = -1.0
    assert (trade_ranges()["low"] >= 0).all()


@pytest.mark.parametrize(
    ("source", "low", "high"),
    [
        pytest.param(FIGONI, 1.5, 2.0, id="figoni-ch-7"),
        pytest.param(WIHLFAHRT, 1.0, 2.0, id="wihlfahrt"),
    ],
)
def test_salt_as_printed(source, low, high):
    table = trade_ranges("white_pan")
    row = table[(table.measure == "salt") & (table.source == source)].iloc[0]
    assert (row.low, row.high) == (low, high)


def test_sources_that_disagree_both_stand():
    salt = trade_ranges("white_pan").query("measure == 'salt'")
    assert {FIGONI, WIHLFAHRT, COMMON_PRACTICE} == set(salt["source"])
    widest = band("white_pan", "salt")
    assert (widest.low, widest.high) == (1.0, 2.2)
    assert len(widest.sources) == 3


def test_bake_loss_is_of_the_dough():
    # Gisslen, Professional Baking, ch. 6: 50 to 65 g for each 500 g baked.
    table = trade_ranges("white_pan")
    row = table[table.source.str.startswith("Gisslen")].iloc[0]
    assert row.low == pytest.approx(100 * 50 / 550, abs=0.05)
    assert row.high == pytest.approx(100 * 65 / 565, abs=0.05)


def test_army_loaf_of_1916():
    # Manual for Army Bakers (1916), as quoted: 2 lb 3 1/2 oz for a 2-lb loaf.
    table = trade_ranges("white_pan")
    row = table[table.source.str.startswith("Manual for Army")].iloc[0]
    assert row.low == row.high == pytest.approx(100 * 3.5 / 35.5, abs=0.005)


def test_dough_temperature_as_printed():
    # TM 10-412 (2003) bread cards and Wihlfahrt: 78 to 82 °F.
    table = trade_ranges("white_pan").query("measure == 'dough_c'")
    printed = table[table.source != COMMON_PRACTICE]
    assert len(printed) == 2
    for row in printed.itertuples():
        assert row.low == pytest.approx((78 - 32) / 1.8, abs=0.05)
        assert row.high == pytest.approx((82 - 32) / 1.8, abs=0.05)


@pytest.mark.parametrize(
    ("inches", "dough_oz"),
    [
        pytest.param((11, 5, 3.5), 27, id="D010-large"),
        pytest.param((10.5, 5, 3.5), 28, id="D009"),
        pytest.param((9.875, 4.25, 2.75), 21.5, id="D010-small"),
    ],
)
def test_army_pans_span_the_loading_band(inches, dough_oz):
    # US Army bread cards D009 and D010, as quoted in web copies.
    length, width, depth = inches
    volume_cm3 = length * width * depth * INCH_CM**3
    loading = volume_cm3 / (dough_oz * OZ_G)
    table = trade_ranges("white_pan").query("measure == 'loading_cm3_g'")
    row = table[table.source.str.startswith("US Army")].iloc[0]
    assert row.low - 0.005 <= loading <= row.high + 0.005


@pytest.mark.parametrize(
    ("value", "state"),
    [(1.49, BELOW), (1.5, INSIDE), (1.8, INSIDE), (2.0, INSIDE), (2.016, ABOVE)],
)
def test_place(value, state):
    assert place(value, 1.5, 2.0) == state


def test_rounding_noise_does_not_leave_the_band():
    assert place(0.1 + 0.2, 0.0, 0.3) == INSIDE
    assert place(0.0, 0.0, 0.0) == INSIDE


@given(st.floats(0, 200), st.floats(0, 200), st.floats(0, 200))
def test_place_is_one_of_three_and_mirrors(value, one, other):
    low, high = sorted((one, other))
    mirrored = {BELOW: ABOVE, INSIDE: INSIDE, ABOVE: BELOW}
    assert place(-value, -high, -low) == mirrored[place(value, low, high)]


def test_unknown_style_names_the_closest():
    with pytest.raises(FormulaError, match=r"no style 'bagle'.*closest: bagel"):
        trade_ranges("bagle")


def test_unknown_measure_names_the_measures():
    with pytest.raises(FormulaError, match=r"no measure 'saltiness'.*hydration"):
        band("bagel", "saltiness")


def test_a_style_is_found_by_its_printed_name():
    assert style_name("country_sourdough") == "Country sourdough"
    assert trade_ranges("Country sourdough").equals(trade_ranges("country_sourdough"))


def test_no_band_where_the_measure_is_not_usual():
    assert band("pita", "loading_cm3_g") is None


def test_a_band_says_itself():
    assert band("brioche", "fat").text == "20 to 65 % of flour"
    assert band("baguette", "egg").text == "0 % of flour"


def test_white_bread_card_on_its_bands(white_bread):
    placed = against_ranges(white_bread, "white_pan")
    assert row_of(placed, "salt", FIGONI).state == BELOW
    assert row_of(placed, "salt", WIHLFAHRT).state == INSIDE
    assert row_of(placed, "hydration", COMMON_PRACTICE).state == BELOW
    for measure in ("yeast_active_dry", "sugar", "fat", "egg", "milk_solids"):
        assert row_of(placed, measure, COMMON_PRACTICE).state == INSIDE


def test_whole_wheat_card_on_its_bands(whole_wheat_bread):
    placed = against_ranges(whole_wheat_bread, "part_whole_wheat_pan")
    # Salt is 2 1/2 of 124 oz, 2.016 %: just over both printed bands.
    assert row_of(placed, "salt", FIGONI).state == ABOVE
    assert row_of(placed, "salt", WIHLFAHRT).state == ABOVE
    for measure in ("salt", "hydration", "yeast_active_dry", "sugar", "fat"):
        assert row_of(placed, measure, COMMON_PRACTICE).state == INSIDE


def test_laboratory_loaf_on_the_white_pan_bands(laboratory_loaf):
    placed = against_ranges(laboratory_loaf, "white_pan")
    assert row_of(placed, "salt", FIGONI).state == INSIDE
    assert row_of(placed, "salt", COMMON_PRACTICE).state == BELOW
    for measure in ("yeast_active_dry", "sugar", "fat", "milk_solids"):
        assert row_of(placed, measure, COMMON_PRACTICE).state == INSIDE


def test_a_finding_reads_as_a_sentence_with_its_source(white_bread):
    placed = against_ranges(white_bread, "white_pan")
    assert row_of(placed, "salt", FIGONI).text == (
        "Salt 1.22 % of flour: below the usual 1.5 to 2 "
        "(Figoni, How Baking Works (Wiley 2003), ch. 7)"
    )


def test_the_widest_band_has_one_row_per_measure(white_bread):
    placed = against_ranges(white_bread, "white_pan", widest=True)
    assert placed["measure"].is_unique
    salt = placed[placed.measure == "salt"].iloc[0]
    assert (salt.low, salt.high, salt.state) == (1.0, 2.2, INSIDE)
    assert FIGONI in salt.source
    assert WIHLFAHRT in salt.source


def test_readings_are_placed_too(white_bread):
    # Card D 009: 8 pans of 10 1/2 x 5 x 3 1/2 in, 28 oz each; dough 78 to 82 °F.
    loading = 10.5 * 5 * 3.5 * INCH_CM**3 / (28 * OZ_G)
    readings = {"loading_cm3_g": loading, "dough_c": 26.7}
    placed = against_ranges(white_bread, "white_pan", readings=readings)
    army = placed[placed.source.str.startswith("US Army")].iloc[0]
    assert army.state == INSIDE
    assert row_of(placed, "dough_c", "TM 10-412 (2003), bread cards").state == INSIDE


def test_a_single_printed_value_says_that_it_is_one(white_bread):
    # Therdthai, Zhou & Adamczak (2002), abstract: crumb 99 °C.
    placed = against_ranges(white_bread, "white_pan", readings={"core_end_c": 96})
    row = placed[placed.source.str.startswith("Therdthai")].iloc[0]
    assert "below the usual single value 99" in row.text


def test_a_reading_without_a_band_says_so(white_bread):
    placed = against_ranges(white_bread, "pita", readings={"loading_cm3_g": 3.0})
    bare = placed[placed.measure == "loading_cm3_g"].iloc[0]
    assert bare.state == NO_BAND
    assert "no usual band for Pita" in bare.text
