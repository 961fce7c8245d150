"""No alarm from rounding: whatever is true and printed rounded stays clean."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.checking import check
from bakelab.checking.printed import Interval, number_interval
from bakelab.ingredients import ingredient

CUP_ML = 236.5882365  # UCUM essence table
OUNCE_G = 28.349523125
SIGNS = {"0": "", "1/4": "¼", "1/3": "⅓", "1/2": "½", "2/3": "⅔", "3/4": "¾"}
PARTS = [Fraction(s) for s in SIGNS]
KEYS = {
    "wheat_bread": "bread flour", "wheat_all_purpose": "all-purpose flour",
    "sugar_white": "sugar", "water": "water", "milk_whole": "whole milk",
    "shortening": "shortening", "honey": "honey",
}  # fmt: skip


def _kinds(lines: list[str], text: str = "") -> list[str]:
    listed = "\n".join(f"- {line}" for line in lines)
    page = f"Dough\n\n## Ingredients\n\n{listed}\n\n## Method\n\nKnead it. {text}\n"
    units = ("-units", "-volume", "-of-a-cup", "-weight", "-of-what", "-sum")
    return [f.message for f in check(page).findings if f.identifier.endswith(units)]


def _on_ladder(cups: float) -> str:
    """A volume rounded to the nearest usual cup measure, as a cook prints it."""
    whole = int(cups)
    near = min(
        (Fraction(w) + p for w in (whole, whole + 1) for p in PARTS),
        key=lambda v: abs(float(v) - cups),
    )
    near = max(near, Fraction(1, 4))
    part = near - int(near)
    sign = next((SIGNS[str(p)] for p in PARTS if p == part), "")
    return f"{int(near) or ''}{sign}"


@settings(max_examples=150, deadline=None)
@given(
    key=st.sampled_from(sorted(KEYS)),
    cups=st.floats(0.25, 12),
    place=st.floats(0, 1),
    step=st.sampled_from([1, 5, 10]),
)
def test_a_true_amount_printed_rounded_is_clean(
    key: str, cups: float, place: float, step: int
) -> None:
    """Any weight of a cup inside the table's band, rounded to 1, 5 or 10 g."""
    item = ingredient(key)
    per_cup = item.cup_low_g + place * (item.cup_high_g - item.cup_low_g)
    grams = per_cup * cups
    if step > 0.1 * grams:
        step = 1
    shown = max(1, step * round(grams / step))
    assert _kinds([f"{shown} g ({_on_ladder(cups)} cups) {KEYS[key]}"]) == []


@settings(max_examples=80, deadline=None)
@given(fahrenheit=st.integers(10, 20), step=st.sampled_from([1, 5, 10]))
def test_an_oven_setting_converted_and_rounded_is_clean(
    fahrenheit: int, step: int
) -> None:
    """25 °F dials converted to °C (°F = 1.8 °C + 32) and rounded to 1, 5 or 10."""
    degrees = 25 * fahrenheit
    celsius = step * round((degrees - 32) / 1.8 / step)
    assert _kinds(["500 g flour"], f"Bake at {degrees} °F ({celsius} °C).") == []


@settings(max_examples=80, deadline=None)
@given(celsius=st.integers(12, 26), step=st.sampled_from([1, 5, 25]))
def test_a_metric_setting_converted_and_rounded_is_clean(
    celsius: int, step: int
) -> None:
    degrees = 10 * celsius
    fahrenheit = step * round((degrees * 1.8 + 32) / step)
    assert _kinds(["500 g flour"], f"Bake at {degrees} °C/{fahrenheit} °F.") == []


@settings(max_examples=100, deadline=None)
@given(ounces=st.integers(1, 40), step=st.sampled_from([1, 5, 25]))
def test_ounces_converted_and_rounded_are_clean(ounces: int, step: int) -> None:
    grams = ounces * OUNCE_G
    if step > 0.1 * grams:
        step = 1
    shown = step * round(grams / step)
    assert _kinds([f"{shown} g ({ounces} oz) butter"]) == []


@settings(max_examples=60, deadline=None)
@given(inches=st.integers(3, 16))
def test_inches_converted_and_rounded_are_clean(inches: int) -> None:
    text = f"Use a {inches} inch ({round(inches * 2.54)} cm) tin."
    assert _kinds(["500 g flour"], text) == []


@settings(max_examples=60, deadline=None)
@given(
    flour=st.integers(40, 240),
    water=st.floats(55, 85),
    salt=st.floats(1.5, 2.4),
    places=st.sampled_from([0, 1]),
)
def test_percentages_of_whole_grams_are_clean(
    flour: int, water: float, salt: float, places: int
) -> None:
    """Whole grams from percentages, printed with none or one place."""
    flour_g = 5 * flour
    rows = [("Bread flour", flour_g, 100.0)]
    rows += [
        (n, round(p * flour_g / 100), p) for n, p in (("Water", water), ("Salt", salt))
    ]
    table = "\n".join(f"| {n} | {g} g | {p:.{places}f} % |" for n, g, p in rows)
    total = sum(g for _, g, _ in rows)
    text = (
        f"Dough\n\n| Ingredient | Weight | % |\n|---|---|---|\n{table}\n"
        f"| Total | {total} g | {sum(p for *_, p in rows):.{places}f} % |\n"
    )
    names = {f.identifier for f in check(text).findings}
    assert not names & {"percent-against-weight", "percent-of-dough"}
    assert "flour-is-not-100" not in names


@pytest.mark.parametrize(
    ("printed", "unit", "low", "high"),
    [
        # by hand, from the rules at the head of bakelab.checking.printed
        ("453", "g", 452.5, 453.5),
        ("15", "g", 12.5, 17.5),
        ("14", "g", 13.5, 14.5),
        ("455", "g", 452.5, 457.5),
        ("450", "g", 437.5, 462.5),
        ("1.5", "kg", 1.45, 1.55),
        ("1", "cup", 0.875, 1.125),
        ("1/2", "cup", 5 / 12, 7 / 12),
        ("1 1/8", "cup", 1.0625, 1.1875),
        ("8", "oz", 7.5, 8.5),
        ("3/4", "oz", 0.625, 0.875),
        ("9", "inch", 8.5, 9.5),
        ("68", "%", 67.5, 68.5),
    ],
)
def test_what_printed_digits_stand_for(
    printed: str, unit: str, low: float, high: float
) -> None:
    found = number_interval(printed, unit)
    assert (found.low, found.high) == pytest.approx((low, high))


def test_the_gap_between_intervals_is_a_ratio() -> None:
    assert Interval(1, 2).gap(Interval(2, 3)) == 1.0
    assert Interval(1, 2).gap(Interval(3, 4)) == 1.5
    assert Interval(3, 4).gap(Interval(1, 2)) == 1.5
    assert math.isinf(Interval(1, 2).gap(Interval(0, 0)))
