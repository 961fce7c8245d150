"""Oven time against the depth of a loaf, and stated temperatures of the centre."""

import math

import pytest

from bakelab.checking import Finding, check
from bakelab.checking.baking import least_minutes
from bakelab.pans import pan
from tests.work.exact_series import slab_left

LIST = "# {title}\n\n- 500 g bread flour\n- 300 g water\n- 10 g salt\n- 7 g yeast\n"
RICH = "- 150 g eggs\n- 60 g butter\n"


def _found(method: str, *, name: str, rich: bool = False) -> list[Finding]:
    text = (
        LIST.format(title="Loaf") + (RICH if rich else "") + f"\n## Method\n\n{method}"
    )
    return [f for f in check(text + "\n").findings if f.identifier == name]


def test_the_least_time_is_that_of_the_series() -> None:
    """5 % of the difference is left, Carslaw & Jaeger; a slab of the same L."""
    minutes = least_minutes(pan("loaf 23 x 13 x 7 cm"), 800.0)
    thicker = least_minutes(pan("loaf 46 x 26 x 14 cm"), 6400.0)
    assert slab_left(math.inf, 1.31) == pytest.approx(0.05, abs=0.001)
    assert 20 < minutes < 40  # a pan loaf takes 30 to 45 min; common practice
    assert thicker / minutes == pytest.approx(4, rel=0.2)  # twice as thick


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("Bake at 200 °C for 10 minutes in a 9 x 5 x 3 inch loaf pan.", "conflict"),
        ("Bake at 250 °C for 12 minutes in a 9 x 5 x 3 inch loaf pan.", "conflict"),
        ("Bake at 180 °C for 15 minutes in a 20 x 7 cm round cake tin.", "conflict"),
        ("Bake at 200 °C for 20 minutes in a 9 x 5 x 3 inch loaf pan.", "unlikely"),
        ("Bake it at 90 °C for 60 minutes.", "unlikely"),
        ("Bake at 200 °C for 28 minutes in a 9 x 5 x 3 inch loaf pan.", None),
        ("Bake at 190 °C for 40 minutes in a 9 x 5 x 3 inch loaf pan.", None),
        (
            "Bake at 230 °C for 10 min in a 9 x 5 in tin, then 25 min at 190 °C.",
            None,
        ),
        (
            "Bake at 230 °C for 10 min in a 9 x 5 in tin, then at 190 °C until brown.",
            None,
        ),
        ("Divide in two. Bake at 200 °C for 14 minutes in 9 x 5 inch loaf pans.", None),
        ("Bake at 200 °C for 12 minutes in a 12-cup muffin tin.", None),
        ("Bake the pizza at 260 °C for 8 minutes in a 14 x 1 inch round pan.", None),
    ],
)
def test_times_that_cannot_bake_the_depth(said: str, kind: str | None) -> None:
    """What bakers do (30 to 45 min a pan loaf) is clean: common practice."""
    found = _found(said, name="oven-cannot-bake")
    assert [f.kind for f in found] == ([kind] if kind else [])


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("Bake until the internal temperature reaches 60 °C.", "conflict"),
        ("It is done when a thermometer in the centre reads 140 °F.", "conflict"),
        ("Backen bis zu einer Kerntemperatur von 65 °C.", "conflict"),
        # the crumb does not pass 100 °C: Zanoni and others (1993)
        ("Bake to an internal temperature of 205 °C.", "conflict"),
        ("Bake until a probe in the middle of the loaf registers 80 °C.", "unlikely"),
        ("Bake until the centre reads 190 °F (88 °C).", None),
        ("Cuire jusqu'à 96 °C à cœur.", None),
        ("Let the loaf cool until its centre is at 50 °C before slicing it.", None),
        ("Warm the milk until a thermometer reads 45 °C, then bake the bread.", None),
        ("Bake at 220 °C until the internal temperature is 96 °C, 35 minutes.", None),
        ("Heat the fat until a thermometer reads 180 °C, then fry them.", None),
        ("Cook the caramel until the thermometer reads 118 °C.", None),
        ("Boil it until a thermometer in the middle reads 112 °C.", None),
        ("The inside of the loaf is soft. Preheat the oven to 70 °C to dry it.", None),
    ],
)
def test_temperatures_of_the_centre(said: str, kind: str | None) -> None:
    found = _found(said, name="core-temperature")
    assert [f.kind for f in found] == ([kind] if kind else [])


def test_a_rich_bread_names_the_limit_of_safety_and_defers_to_local_rules() -> None:
    """Egg dishes 160 °F (71 °C): Partnership for Food Safety Education 2016."""
    said = "Bake until the internal temperature reaches 68 °C."
    [found] = _found(said, name="core-temperature", rich=True)
    assert found.kind == "conflict"
    assert "71 °C (160 °F)" in " ".join(found.working)
    assert "local food-safety rules" in found.mend
    assert "Partnership for Food Safety Education" in found.basis
