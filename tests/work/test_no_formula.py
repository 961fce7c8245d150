"""What is said where a formula is needed and something else was given."""

from collections.abc import Callable
from typing import Any

import pytest

import bakelab
from bakelab import BakelabError, Formula
from bakelab.fermentation import slowing_remarks
from bakelab.formula import formula_to_csv, formula_to_json, working
from bakelab.nutrition import nutrition
from bakelab.oven import estimate_bake
from bakelab.preferments import (
    overall,
    prefermented_pct,
    stage_sentences,
    stage_table,
    unusual_stages,
    with_preferment,
    with_soaker,
)
from bakelab.ranges import against_ranges, shares, suggest_style
from bakelab.scaling import before_fit
from bakelab.sheets import cautions, kitchen_sheet, to_schema_org
from bakelab.variants import (
    blend_to_protein,
    change,
    exchange,
    loaf_moisture_pct,
    loaf_solids_pct,
    loss_for_solids_pct,
    plan_trials,
    rehydrate_starter,
    set_ratios,
    swap_yeast,
)

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
    "kitchen_sheet": kitchen_sheet,
    "cautions": cautions,
    "working": lambda f: working(f, "salt"),
    "formula_to_csv": formula_to_csv,
    "formula_to_json": formula_to_json,
    "with_soaker": lambda f: with_soaker(f, ["oats_rolled"]),
    "overall": overall,
    "prefermented_pct": prefermented_pct,
    "stage_table": stage_table,
    "stage_sentences": stage_sentences,
    "unusual_stages": unusual_stages,
    "swap_yeast": lambda f: swap_yeast(f, "fresh"),
    "rehydrate_starter": lambda f: rehydrate_starter(f, 50),
    "blend_to_protein": lambda f: blend_to_protein(f, 13),
    "loaf_moisture_pct": lambda f: loaf_moisture_pct(f, loss_pct=12),
    "loaf_solids_pct": lambda f: loaf_solids_pct(f, loss_pct=12),
    "loss_for_solids_pct": loss_for_solids_pct,
    "shares": shares,
    "slowing_remarks": slowing_remarks,
    "before_fit": before_fit,
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
