"""Units against the published definitions, and text read as one amount."""

import math
import os
import shutil
import subprocess
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.errors import UnitError
from bakelab.ingredients import ingredient
from bakelab.units import CUPS_ML, Q_, in_unit, kitchen_units, number, quantity

# UCUM essence table (ucum-essence.xml, commit d060c6d3, 28 Jun 2024): inch 2.54 cm,
# US gallon 231 cubic inches, quart gal/4, pint qt/2, fluid ounce pt/16, tablespoon
# fl oz/2, teaspoon tbsp/3, cup 16 tbsp; pound 7000 grains of 64.79891 mg.
GALLON_ML = 231 * 2.54**3
POUND_G = 7000 * 64.79891e-3
UCUM = {
    "gallon": GALLON_ML,
    "quart": GALLON_ML / 4,
    "pint": GALLON_ML / 8,
    "cup": GALLON_ML / 16,
    "gill": GALLON_ML / 32,
    "fl oz": GALLON_ML / 128,
    "tbsp": GALLON_ML / 256,
    "tsp": GALLON_ML / 768,
    "lb": POUND_G,
    "oz": POUND_G / 16,
    "inch": 2.54,
}


@pytest.mark.parametrize(("key", "size"), UCUM.items())
def test_sizes_are_those_of_ucum(key: str, size: float) -> None:
    assert kitchen_units()[key].size == pytest.approx(size, rel=1e-12)


# NIST SP 811 App. B.8, as quoted in the OMG SysML v2 library USCustomaryUnits
# (header "generated from NIST SP811 Appendix B"), in cubic metres and kilograms.
@pytest.mark.parametrize(
    ("key", "si"),
    [
        ("cup", 2.365882e-4),
        ("tbsp", 1.478676e-5),
        ("tsp", 4.928922e-6),
        ("fl oz", 2.957353e-5),
        ("gill", 1.182941e-4),
        ("gallon", 3.785412e-3),
        ("oz", 2.834952e-2),
    ],
)
def test_sizes_are_those_of_nist_sp_811(key: str, si: float) -> None:
    per_si = 1e3 if key == "oz" else 1e6
    assert kitchen_units()[key].size == pytest.approx(si * per_si, rel=1e-6)


def test_label_cup_is_1_442_percent_over_the_us_cup() -> None:
    # 21 CFR 101.9(b)(5)(viii): a cup means 240 mL, as quoted in UCUM ticket 120.
    assert CUPS_ML["label"] == 240
    assert CUPS_ML["label"] / CUPS_ML["us"] - 1 == pytest.approx(0.01442, abs=5e-6)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1 1/2", Fraction(3, 2)),
        ("1½", Fraction(3, 2)),
        ("1-1/2", Fraction(3, 2)),
        ("¾", Fraction(3, 4)),
        ("2,5", Fraction(5, 2)),
        (".5", Fraction(1, 2)),
        ("5/2", Fraction(5, 2)),
        ("−3", Fraction(-3)),
    ],
)
def test_numbers_as_people_write_them(text: str, expected: Fraction) -> None:
    assert number(text) == expected


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("2 3/4 in", "cm", 6.985),
        ('9"', "cm", 22.86),
        ("1,5 kg", "g", 1500),
        ("350 F", "degC", 176.6667),
        ("180 °C", "degC", 180),
        ("1 cup", "ml", 236.5882),
        ("1 h", "minute", 60),
    ],
)
def test_amounts_from_text(text: str, unit: str, value: float) -> None:
    assert in_unit(quantity(text), unit, "amount") == pytest.approx(value, rel=1e-4)


@pytest.mark.parametrize(
    ("text", "dimension", "said"),
    [
        ("3", "[length]", "needs a unit"),
        ("pinch", "[mass]", "expected a mass"),
        ("3 tesla", "[mass]", "unknown unit"),
        ("3 g", "[length]", "expected a length"),
        ("1/0 g", "[mass]", "cannot have 0"),
        ("inf g", "[mass]", "expected a mass"),
        ("1e999 g", "[mass]", "a scale can show"),
        ("9" * 60 + " g", "[mass]", "a scale can show"),
    ],
)
def test_other_text_is_refused_in_a_sentence(
    text: str, dimension: str, said: str
) -> None:
    with pytest.raises(UnitError, match=said):
        quantity(text, dimension=dimension)


def test_kitchen_words_never_reach_pint() -> None:
    """pint alone would take T for tesla, pinch for picoinch."""
    assert quantity("1 T").check("[length] ** 3")
    assert quantity("1 pinch").check("[length] ** 3")


def test_a_bare_number_is_refused_by_name() -> None:
    with pytest.raises(TypeError, match="depth needs a unit"):
        in_unit(3, "cm", "depth")  # type: ignore[arg-type]


def test_a_wrong_dimension_is_refused_by_name() -> None:
    with pytest.raises(UnitError, match="depth"):
        in_unit(Q_(3, "g"), "cm", "depth")


@given(st.text(max_size=40))
def test_any_text_gives_an_amount_or_a_unit_error(text: str) -> None:
    try:
        value = quantity(text)
    except UnitError:
        return
    assert math.isfinite(float(value.magnitude))


GNU = {
    "wheat_all_purpose": ("flour_sifted", "flour_scooped"),
    "wheat_bread": ("breadflour_sifted", "breadflour_scooped"),
    "sugar_white": ("0.97 sugar", "1.03 sugar"),
    "honey": ("0.97 honey", "1.03 honey"),
}


@pytest.mark.parametrize(("key", "names"), GNU.items())
def test_cup_weights_lie_in_the_band_of_gnu_units(
    key: str, names: tuple[str, str]
) -> None:
    """Definitions file of GNU units (Debian `units`), read in place."""
    low, high = (_gnu_grams(f"uscup {name}") for name in names)
    assert low <= ingredient(key).cup_mid_g <= high


def _gnu_grams(amount: str) -> float:
    program = shutil.which("units")
    if program is None:
        assert os.environ.get("CI") != "true", "CI needs Debian's package `units`"
        pytest.skip("GNU units is not on this machine")
    asked = [program, "-t", amount, "g"]
    done = subprocess.run(asked, capture_output=True, text=True, check=True)
    return float(done.stdout.strip())
