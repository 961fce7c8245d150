"""What is said where a formula is needed and something else was given."""

from collections.abc import Callable
from typing import Any

import pytest

import bakelab
from bakelab import BakelabError, Formula
from bakelab.nutrition import nutrition
from bakelab.oven import estimate_bake
from bakelab.preferments import with_preferment
from bakelab.ranges import against_ranges, suggest_style
from bakelab.sheets import to_schema_org
from bakelab.variants import change, exchange, plan_trials, set_ratios

DOUGH = Formula.from_pairs([("wheat_bread", 500), ("water", 340), ("salt_table", 10)])
TAKE_A_FORMULA: dict[str, Callable[[Any], object]] = {
    "fit": lambda f: bakelab.fit(f, dough="500 g"),
    "compare": lambda f: bakelab.compare(DOUGH, f),
    "likely_pans": bakelab.likely_pans,
    "round_to_scale": bakelab.round_to_scale,
    "change": lambda f: change(f, "salt", to=1.5),
    "set_ratios": lambda f: set_ratios(f, {"salt": 1.5}),
    "exchange": lambda f: exchange(f, "water", ["milk_whole"], hold=["water"]),
    "plan_trials": lambda f: plan_trials(f, {"salt": (1, 2), "water": (60, 70)}),
    "with_preferment": lambda f: with_preferment(f, "poolish"),
    "against_ranges": lambda f: against_ranges(f, "white_pan"),
    "suggest_style": suggest_style,
    "nutrition": nutrition,
    "to_schema_org": to_schema_org,
    "estimate_bake": lambda f: estimate_bake(
        f, "loaf 9 x 5 x 3 in", "loaf 8 x 4 x 2.5 in", oven="200 °C"
    ),
}


@pytest.mark.parametrize("name", TAKE_A_FORMULA)
@pytest.mark.parametrize("given", [None, 5, "500 g flour"])
def test_what_is_no_formula_is_refused_in_a_sentence(name: str, given: object) -> None:
    with pytest.raises(BakelabError, match="there is no formula") as refused:
        TAKE_A_FORMULA[name](given)
    assert "give what read_recipe(…).formula gives" in str(refused.value)


@pytest.mark.parametrize(
    ("pairs", "said"),
    [
        ([("wheat_bread", "much")], r"got \('wheat_bread', 'much'\) where"),
        ([("wheat_bread",)], r"got \('wheat_bread',\) where"),
        ("abc", "got 'a' where an ingredient and its grams are needed"),
        ([("bread flour", 5)], "no ingredient 'bread flour'"),
        ([(5, 5)], "no ingredient '5'"),
    ],
)
def test_pairs_that_are_none_are_refused(pairs: Any, said: str) -> None:
    with pytest.raises(BakelabError, match=said):
        Formula.from_pairs(pairs)


@pytest.mark.parametrize("given", ["soon", "", [1.5], []])
@pytest.mark.parametrize("way", ["to", "by"])
def test_a_percentage_that_is_no_number_is_refused(way: str, given: Any) -> None:
    with pytest.raises(BakelabError, match="give a number, percent of the flour"):
        change(DOUGH, "salt", **{way: given})


def test_a_pan_that_is_a_number_is_refused() -> None:
    with pytest.raises(TypeError, match="a pan is written as text"):
        bakelab.fit(DOUGH, to=5)  # type: ignore[arg-type]


def test_a_book_that_is_a_number_is_refused() -> None:
    with pytest.raises(BakelabError, match="5 names no bake book; give a path"):
        bakelab.BakeBook(5)  # type: ignore[arg-type]
