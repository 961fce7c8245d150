"""What follows from cups and spoons, by hand and by general libraries."""

import itertools

import numpy as np
import pytest
from scipy import stats

from bakelab.checking import at_home
from bakelab.checking.at_home import _drawn, _triangular
from bakelab.checking.shares import Part, exact_band, parts_of
from bakelab.errors import FormulaError
from bakelab.reading import Line, read_recipe

CUPS = """Cup loaf

- 3 cups bread flour
- 1¼ cups water
- 1½ tsp salt
- 2 tsp instant yeast
"""


def _part(low: float, mid: float, high: float, flour: float, water: float) -> Part:
    line = Line(1, f"{mid} g", "read", ingredient=f"{flour} {water}", role="flour")
    return Part(line, low, mid, high, flour, water)


def test_the_worst_case_of_flour_and_water_by_hand() -> None:
    """290-310 g of water on 380-420 g of flour: 290/420 and 310/380."""
    parts = [_part(380, 400, 420, 1, 0), _part(290, 300, 310, 0, 1)]
    band = exact_band(parts, "hydration")
    assert band.low == pytest.approx(100 * 290 / 420)
    assert band.high == pytest.approx(100 * 310 / 380)


def test_the_worst_case_is_the_best_of_all_corners() -> None:
    """A ratio of two sums has its extremes at corners: all of them are tried."""
    random = np.random.default_rng(3)
    for _ in range(40):
        parts = []
        for _ in range(5):
            low = random.uniform(5, 400)
            flour = random.uniform(0, 1)
            parts.append(_part(low, low * 1.1, low * 1.3, flour, 1 - flour))
        corners = []
        for chosen in itertools.product(*((p.low_g, p.high_g) for p in parts)):
            water = sum(p.water * g for p, g in zip(parts, chosen, strict=True))
            flour = sum(p.flour * g for p, g in zip(parts, chosen, strict=True))
            corners.append(100 * water / flour)
        band = exact_band(parts, "hydration")
        assert band.low == pytest.approx(min(corners))
        assert band.high == pytest.approx(max(corners))


def test_the_draws_are_triangular() -> None:
    """Against scipy's triangular distribution, quantile by quantile."""
    part = _part(116, 125, 137, 1, 0)
    at = np.linspace(0.001, 0.999, 101)
    want = stats.triang.ppf(at, (125 - 116) / (137 - 116), 116, 137 - 116)
    assert _triangular(part, at) == pytest.approx(want)


def test_the_band_lies_inside_the_worst_case_and_round_the_middle() -> None:
    spread = at_home(read_recipe(CUPS))["hydration"]
    assert spread.least < spread.low < spread.middle < spread.high < spread.most


def test_the_flour_is_what_helps_most() -> None:
    spread = at_home(read_recipe(CUPS))["hydration"]
    assert "flour" in spread.helps_most
    assert spread.helped_high - spread.helped_low < 0.2 * (spread.high - spread.low)


def test_the_same_seed_gives_the_same_band() -> None:
    recipe = read_recipe(CUPS)
    assert at_home(recipe, seed=5) == at_home(recipe, seed=5)
    assert at_home(recipe, seed=5) != at_home(recipe, seed=6)


def test_a_recipe_in_grams_leaves_nothing_open() -> None:
    recipe = read_recipe("Loaf\n\n400 g bread flour\n272 g water\n8 g salt\n")
    spread = at_home(recipe)["hydration"]
    assert (spread.least, spread.low, spread.high, spread.most) == pytest.approx(
        (68,) * 4, abs=0.01
    )
    assert spread.helps_most == ""


def test_two_lines_of_one_flour_are_scooped_alike() -> None:
    """Two lines of one flour give the draws of one line of the whole."""
    one = parts_of(read_recipe(CUPS).lines)
    split = CUPS.replace(
        "- 3 cups bread flour", "- 2 cups bread flour\n- 1 cup bread flour"
    )
    two = parts_of(read_recipe(split).lines)
    assert len(two) == len(one) + 1
    drawn = [np.sort(_drawn(p, "hydration", 1, 20_000)) for p in (one, two)]
    assert drawn[0] == pytest.approx(drawn[1], rel=1e-9)


def test_without_flour_it_refuses() -> None:
    with pytest.raises(FormulaError, match="no flour"):
        at_home(read_recipe("Syrup\n\n100 g sugar\n100 g water\n10 g honey\n"))
