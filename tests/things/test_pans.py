"""Pans: dome, lids, weighing water, text specs, the table, refusals."""

import contextlib
import importlib
import json
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.errors import PanError
from bakelab.pans import SHAPES, Pan, pan, pan_names, pans, volume_of_water
from bakelab.pans.water import water_density
from bakelab.tables import read_table
from bakelab.units import Q_

WORDS = dict.fromkeys(("group", "meaning", "need", "language", "words", "source"), str)
inches = st.integers(8, 120).map(lambda quarter: quarter / 4)


# -- weighing water --


@pytest.mark.parametrize(
    ("water_c", "kg_m3"),
    [
        # IAPWS-95 at 101.325 kPa, as tabled by NIST (Chemistry WebBook, SRD 69);
        # values from memory, good to the digits given
        (4, 999.97),
        (20, 998.21),
        (25, 997.05),
        (60, 983.2),
    ],
)
def test_density_of_water(water_c, kg_m3):
    density = water_density(Q_(water_c, "degC")).to("kg/m^3").magnitude
    assert density == pytest.approx(kg_m3, abs=0.05)


def test_density_table_of_a_food_database():
    # FAO/INFOODS Density Database v1.0 (2011): water at 20 degC, 0.998 g/mL
    assert water_density(Q_(20, "degC")).magnitude == pytest.approx(0.998, abs=5e-4)


def test_density_against_the_scientific_formulation():
    # IAPWS-95 (R6-95) is an independent formulation; the industrial one follows it
    iapws95 = importlib.import_module("iapws").IAPWS95
    for water_c in (1, 20, 37, 80, 99):
        theirs = iapws95(T=water_c + 273.15, P=0.101325).rho
        ours = water_density(Q_(water_c, "degC")).to("kg/m^3").magnitude
        assert ours == pytest.approx(theirs, rel=2e-5)


def test_capacity_from_weighed_water():
    tin = pan("loaf 23 x 13 x 7 cm").with_capacity(
        grams=Q_(1600, "g"), temperature=Q_(20, "degC")
    )
    assert tin.volume.magnitude == pytest.approx(1600 / 0.99821, abs=0.1)
    assert tin.geometric_volume.magnitude == pytest.approx(23 * 13 * 7)
    assert pan("loaf 23 x 13 x 7 cm, holds 1600 g water at 20 C") == tin
    assert pan("loaf 23 x 13 x 7 cm, holds 1.6 kg water at 68 F").volume.m == (
        pytest.approx(tin.volume.m)
    )
    assert "measured" in tin.describe()


@pytest.mark.parametrize(
    ("text", "cm3", "count"),
    [
        # 998.21 kg/m3 at 20 °C as above; 453.59237 g a pound, 28.349523 g an ounce
        ("Kastenform, fasst 1830 g Wasser bei 20 C", 1830 / 0.99821, 1),
        ("Kastenform 30 cm, fasst 1830 g Wasser bei 20 °C", 1830 / 0.99821, 1),
        ("2 Kastenformen, fassen je 1830 g Wasser bei 20 °C", 1830 / 0.99821, 2),
        ("moule à cake, contient 1830 g d'eau à 20 C", 1830 / 0.99821, 1),
        ("a loaf pan that holds 1830 g water at 20 C", 1830 / 0.99821, 1),
        ("loaf, holds 4 lb water at 68 F", 4 * 453.59237 / 0.99821, 1),
        ("loaf, holds 64.6 oz water at 68 F", 64.6 * 28.349523 / 0.99821, 1),
        ("Kastenform, fasst 1,83 l", 1830, 1),
        ("moule à cake, contient 1,8 l", 1800, 1),
        ("3 mini loaf pans, 250 ml each", 250, 3),
    ],
)
def test_a_capacity_said_in_words_is_the_capacity(text, cm3, count):
    tin = pan(text)
    assert tin.volume.to("cm^3").magnitude == pytest.approx(cm3, rel=1e-4)
    assert (tin.count, tin.text) == (count, text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Springform 26 cm, fasst 2,5 kg Wasser", "water and its temperature"),
        ("a box that holds 1830 g water at 20 C", "'a box' is not understood"),
    ],
)
def test_a_capacity_that_is_not_understood_is_refused(text, said):
    with pytest.raises(PanError, match=said):
        pan(text)


def test_capacity_from_a_volume():
    tin = pan("loaf 23 x 13 x 7 cm").with_capacity(volume=Q_(2, "l"))
    assert tin.volume.magnitude == pytest.approx(2000)


def test_water_that_cannot_be():
    with pytest.raises(PanError, match="not liquid"):
        volume_of_water(Q_(100, "g"), Q_(120, "degC"))
    with pytest.raises(PanError, match="above 0 g"):
        volume_of_water(Q_(0, "g"), Q_(20, "degC"))
    with pytest.raises(TypeError, match="grams"):
        volume_of_water(100, Q_(20, "degC"))  # type: ignore[arg-type]  # on purpose
    with pytest.raises(PanError, match="a volume"):
        pan("loaf 23 x 13 x 7 cm").with_capacity(grams=Q_(1, "kg"))
    with pytest.raises(PanError, match="temperature"):
        pan("loaf 23 x 13 x 7 cm, holds 1600 g")


# -- dome: common practice, no source --


def test_open_pan_in_inches_gets_one_inch():
    tin = pan("loaf 9 x 5 x 3 in")
    assert tin.usable_volume().to("inch^3").magnitude == pytest.approx(9 * 5 * 4)


def test_open_pan_in_cm_gets_two_and_a_half():
    tin = pan("loaf 30 x 11 x 7 cm, base 28 x 9 cm")
    dome = tin.usable_volume() - tin.volume
    assert dome.magnitude == pytest.approx(30 * 11 * 2.5)


def test_dome_in_proportion_to_the_width():
    # a pan 10 cm wide gets 2.5 cm, one 8 cm wide gets 2 cm
    assert pan("loaf 20 x 10 x 7 cm").dome_height("width").m == pytest.approx(2.5)
    assert pan("loaf 18 x 8 x 6 cm").dome_height("width").m == pytest.approx(2.0)
    small = pan("loaf 14 x 8 x 5 cm")
    fixed, width = small.usable_volume("fixed").m, small.usable_volume("width").m
    assert fixed - width == pytest.approx(14 * 8 * 0.5)


def test_lidded_pan_is_used_to_its_rim():
    tin = pan("loaf 13 x 4 x 4 in, lidded")
    for dome in ("fixed", "width", None):
        assert tin.usable_volume(dome).magnitude == pytest.approx(tin.volume.magnitude)


def test_ring_is_as_wide_as_its_channel():
    assert pan("tube 25 x 10 cm, tube 7 cm").width.magnitude == pytest.approx(9)


def test_several_pans():
    strip = pan("strip_3_loaf")
    assert strip.total_volume.m == pytest.approx(3 * strip.volume.m)


def test_unknown_dome_rule():
    with pytest.raises(PanError, match="choose 'fixed'"):
        pan("loaf_9x5").usable_volume("tall")


# -- specs --


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("loaf 9 x 5 x 2.75 in", "loaf 22.86 x 12.7 x 6.985 cm"),
        ('9" x 5" x 2 3/4" loaf', "loaf 9″ × 5″ × 2¾″"),
        ("9-by-5-by-3-inch loaf pan", "loaf 9 by 5 by 3 inches"),
        ("loaf 229 x 114 x 70 mm", "loaf 22,9 x 11,4 x 7 cm"),
        ("23x13x7 cm loaf, lidded", "lidded loaf pan 23 x 13 x 7 cm"),
        ("loaf 8½ x 4½ x 2¾ in", "loaf 8.5 x 4.5 x 2.75 in"),
        ("muffin 12 x 7 cm / base 5 x 3 cm deep", "12 muffin 7 x 3 cm, base 5 cm"),
        ("3 joined loaf 8 x 4 x 3 in", "3 loaf pans 8 x 4 x 3 in"),
        ("round 20 x 5 cm", "round pan 20 cm, 5 cm deep"),
    ],
)
def test_ways_to_write_one_pan(text, same):
    one, other = pan(text), pan(same)
    assert one.total_volume.m == pytest.approx(other.total_volume.m)
    assert (one.shape, one.count, one.lidded) == (
        other.shape,
        other.count,
        other.lidded,
    )


@pytest.mark.parametrize(
    ("text", "shape", "count", "cubic_cm"),
    [
        ("2 loaf 8.5x4.5x2.5 in", "loaf", 2, 8.5 * 4.5 * 2.5 * 2.54**3),
        ("13x4x4 in lidded", "loaf", 1, 13 * 4 * 4 * 2.54**3),
        ("oval 30 x 20 x 5 cm", "oval", 1, 3.14159265 / 4 * 30 * 20 * 5),
        ("dish Ø 20 x 5 cm", "dish", 1, 3.14159265 / 4 * 400 * 5),
        ("square 20 x 5 cm", "square", 1, 2000),
        ("5 quart pot", "pot", 1, 5 * 57.75 * 2.54**3),
    ],
)
def test_specs(text, shape, count, cubic_cm):
    made = pan(text)
    assert (made.shape, made.count) == (shape, count)
    assert made.volume.magnitude == pytest.approx(cubic_cm, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("loaf 9 x 5 x 3", "9 x 5 x 3 needs a unit"),
        ("loaf 9 x 5 x 0 in", "depth is 0 cm; give an inside measure above 0"),
        ("loaf -9 x 5 x 3 in", "below zero"),
        ("loaf inf x 5 x 3 in", "'inf' is not a measure"),
        ("loaf nan x 5 x 3 in", "'nan' is not a measure"),
        ("loaf 300 x 5 x 3 cm", "up to 200 cm"),
        ("loaf 1e9 x 5 x 3 in", "up to 200 cm"),
        ("loaf 9 x 5 x 3 x 2 in", "length x width x depth"),
        ("round 20 x 15 x 5 cm", "diameter x depth"),
        ("loaf 23 x 13 x 7 cm 4 cm", "too many"),
        ("loaf 9 x 5 x 3 in, corner 4 in", "does not fit"),
        ("tube 25 x 9 cm, tube 26 cm", "as wide as the pan"),
        ("loaf 9 x 5 x 3 in, fluting 90 %", "fluting of 90 %"),
        ("", "the pan is empty"),
        ("a nice loaf of bread 5 minutes", "is not a pan"),
        ("x" * 5000, "letters is no pan"),
        ("hearth 20 cm", "free-standing"),
        ("2.5 loaf 9 x 5 x 3 in", "whole number"),
        ("1.83 L", "says what the pan holds but not its shape"),
        ("holds 1830 ml", "not its shape; write both"),
    ],
)
def test_refusals_are_one_sentence(text, says):
    with pytest.raises(PanError, match=says) as caught:
        pan(text)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 240


@pytest.mark.parametrize(
    ("measures", "says"),
    [
        ({"length_cm": 20, "width_cm": 10}, "needs its depth"),
        ({"length_cm": 20, "width_cm": 10, "depth_cm": 0}, "depth is 0 cm"),
        ({"length_cm": 20, "width_cm": 10, "depth_cm": float("inf")}, "depth is inf"),
        ({"length_cm": 20, "width_cm": 10, "depth_cm": float("nan")}, "depth is nan"),
        ({"length_cm": 20, "width_cm": 10, "depth_cm": 7, "count": 0}, "1 to 1000"),
        ({"length_cm": 20, "width_cm": 10, "depth_cm": 7, "count": 1.5}, "whole"),
        ({"length_cm": 20, "width_cm": 10, "depth_cm": 7, "dome_unit": "m"}, "'cm' or"),
        ({"length_cm": "20", "width_cm": 10, "depth_cm": 7}, "a number of cent"),
        (
            {"length_cm": 9, "width_cm": 5, "depth_cm": 7, "capacity_cm3": -1},
            "capacity",
        ),
    ],
)
def test_impossible_pans(measures, says):
    with pytest.raises(PanError, match=says):
        Pan("loaf", **measures)


def test_unknown_shape():
    with pytest.raises(PanError, match="choose one of loaf"):
        Pan("triangle", length_cm=1)


def test_free_standing_loaf_has_no_volume():
    free = pan("hearth")
    assert not free.has_volume
    assert free.to_dict()["volume_cm3"] is None
    assert "dough weight" in free.describe()
    with pytest.raises(PanError, match="scale it by dough weight"):
        _ = free.volume


def test_pan_takes_a_pan_and_refuses_a_number():
    tin = pan("loaf_9x5")
    assert pan(tin) is tin
    with pytest.raises(TypeError, match="a pan is written as text"):
        pan(9)  # type: ignore[arg-type]  # on purpose


# -- what was written and what was assumed --


def test_missing_depth_is_assumed_and_said():
    tin = pan("loaf 9 x 5 in")
    assert tin.depth_cm is not None
    assert set(tin.assumed_measures) == {"depth_cm"}
    assert tin.to_dict()["depth_cm"] is None
    assert tin.to_dict()["assumed_cm"] == {"depth_cm": tin.depth_cm}
    assert tin.assumed[0].startswith("depth 7.62 cm: assumed from the usual")
    assert tin.to_dict()["volume_cm3"] == pytest.approx(tin.volume.m)


def test_written_measures_are_not_called_assumed():
    assert pan("loaf 9 x 5 x 3 in").assumed == ()


def test_a_named_pan_has_everything_assumed():
    tin = pan("large loaf")
    assert set(tin.assumed_measures) == {"length_cm", "width_cm", "depth_cm"}


# -- round trips --


def round_trips(made):
    assert pan(made.text_spec) == made
    assert Pan.from_dict(json.loads(json.dumps(made.to_dict()))) == made


@pytest.mark.parametrize(
    "text",
    [
        "large loaf",
        "loaf 9 x 5 in",
        "springform 26 cm",
        "pizza 14 in",
        "2 quart dish",
        "hearth",
        "fluted tube 25 x 9 cm",
        "fluted tube",
        "Kastenform 30 cm",
        "26er Springform",
        "two 9 x 5 inch loaf pans",
        "12-cup muffin tin",
        "basket",
        "dish 20 cm",
    ],
)
def test_spec_and_dict_round_trip(text):
    round_trips(pan(text))


@pytest.mark.parametrize("key", pan_names())
def test_every_usual_pan_round_trips(key):
    round_trips(pan(key))


@given(
    st.sampled_from([s for s in SHAPES if s != "hearth"]),
    st.floats(0.5, 199.0),
    st.floats(0.5, 199.0),
    st.floats(0.5, 199.0),
    st.booleans(),
    st.sampled_from(["in", "cm"]),
    st.integers(1, 24),
    st.one_of(st.none(), st.floats(1, 10_000)),
    st.one_of(st.just(""), st.text(max_size=20)),
)
def test_any_pan_round_trips(
    shape, first, second, third, lidded, unit, count, capacity, name
):
    common = {
        "lidded": lidded,
        "dome_unit": unit,
        "count": count,
        "capacity_cm3": capacity,
        "name": name,
    }
    if shape in ("tube", "fluted tube"):
        sides = {"diameter_cm": first, "tube_cm": first / 4}
    elif shape in ("loaf", "square", "rectangle", "sheet", "oval"):
        sides = {
            "length_cm": first,
            "width_cm": second,
            "base_length_cm": first,
            "base_width_cm": second,
        }
    else:
        sides = {"diameter_cm": first, "base_diameter_cm": second}
    made = Pan(shape, depth_cm=third, corner_cm=0.0, **sides, **common)
    round_trips(made)


@given(inches, inches, inches)
def test_unit_of_input_does_not_matter(long, wide, deep):
    by_inch = pan(f"loaf {long} x {wide} x {deep} in")
    cm = [f"{side * 2.54:.6f}" for side in (long, wide, deep)]
    by_cm = pan("loaf " + " x ".join(cm) + " cm")
    mm = [f"{side * 25.4:.6f}" for side in (long, wide, deep)]
    by_mm = pan("loaf " + " x ".join(mm) + " mm")
    assert by_inch.volume.m == pytest.approx(by_cm.volume.m)
    assert by_mm.volume.m == pytest.approx(by_cm.volume.m)


@given(st.text(max_size=80))
def test_no_spec_crashes(text):
    with contextlib.suppress(PanError):
        assert isinstance(pan(text), Pan)


# -- the tables --


def test_words_around_pans_are_sound():
    nouns = read_table("pan_words", WORDS).to_dict("records")
    words = [
        w for row in nouns if row["group"] == "noun" for w in row["words"].split("|")
    ]
    assert len(words) == len(set(words)) > 100
    for row in nouns:
        assert row["words"] == row["words"].lower()
        assert row["source"]
        if row["group"] in ("noun", "shape"):
            assert row["meaning"] in ("", *SHAPES)


def test_heavy_libraries_wait_until_they_are_needed():
    code = (
        "import sys; from bakelab.pans import pan; pan('Kastenform 30 cm').describe();"
        "print([m for m in ('iapws', 'altair', 'ipywidgets') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_table_of_usual_pans():
    table = pans()
    assert len(table) >= 75
    assert table.index.is_unique
    assert {"US", "UK", "DE", "FR", "JP"} <= set(table["country"])
    assert set(table["shape"]) == set(SHAPES)
    assert (table["source"].str.len() > 0).all()


def test_table_measures_are_sensible():
    for key in pan_names():
        made = pan(key)
        if made.has_volume:
            assert 10 < made.volume.magnitude < 12_000
            assert made.surface.m > made.top_area.m * 0.5
            assert made.depth.m > 0


def test_table_is_handed_out_as_a_copy():
    pans().drop(columns="name")
    assert "name" in pans().columns


def test_no_makers_names_in_the_table():
    shown = " ".join(pans()["name"]).lower()
    for word in ("bundt", "pullman", "®", "™"):
        assert word not in shown


def test_describe_is_one_line():
    for key in pan_names():
        assert "\n" not in pan(key).describe()


@pytest.mark.parametrize("text", ["9 x 0 in", "0 x 0 x 0 cm", "0 in", "9 x -1 cm"])
def test_a_pan_of_nothing_without_a_shape_is_refused(text):
    with pytest.raises(PanError):
        pan(text)


@pytest.mark.parametrize(
    ("text", "field", "value"),
    [
        ("loaf 30 cm", "width_cm", 11),  # a 30 cm tin is usual; 31 cm is another
        ("12 inch round", "depth_cm", 5.08),  # a cake pan, not a flat pizza pan
        ("12 inch pizza pan", "depth_cm", 1.27),
    ],
)
def test_missing_measures_come_from_the_pan_most_likely_meant(
    text: str, field: str, value: float
) -> None:
    """Common nominal sizes, no source."""
    found = pan(text)
    assert getattr(found, field) == value
    assert any(field.removesuffix("_cm") in note for note in found.assumed)
