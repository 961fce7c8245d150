"""Overall formula, stages and their percentages; what is listed twice counts once.

Expected sums are worked by hand from the printed lines.
"""

import pytest

from bakelab.checking import check
from bakelab.reading import read_recipe

OVERALL = """# Lock baguette

## Overall formula

- 1000 g bread flour (100 %)
- {water} g water ({percent} %)
- 20 g salt (2 %)
- 6 g instant yeast (0.6 %)

## Poolish

- 300 g bread flour (100 %)
- 300 g water (100 %)
- 1 g instant yeast (0.3 %)

## Final dough

- 700 g bread flour
- 380 g water
- 20 g salt
- 5 g instant yeast
- 601 g poolish
"""
TABLE = """# Lock baguette

| Ingredient | Poolish | Final dough | Total | % |
|---|---|---|---|---|
| Bread flour | 300 g | 700 g | 1000 g | 100 % |
| Water | 300 g | 380 g | {water} g | {percent} % |
| Salt | | 20 g | 20 g | 2 % |
| Instant yeast | 1 g | 5 g | 6 g | 0.6 % |
"""


def _found(text: str) -> list[str]:
    return [f.identifier for f in check(text).findings if f.kind != "note"]


@pytest.mark.parametrize("text", [OVERALL, TABLE])
def test_stages_that_add_up_are_clean(text: str) -> None:
    assert _found(text.format(water=680, percent=68)) == []


@pytest.mark.parametrize("text", [OVERALL, TABLE])
def test_stages_that_do_not_add_up(text: str) -> None:
    """300 + 380 is 680, and 650 is printed."""
    assert _found(text.format(water=650, percent=65)) == ["stages-against-overall"]


def test_a_percentage_of_the_overall_formula_that_is_wrong() -> None:
    assert _found(OVERALL.format(water=680, percent=72)) == ["percent-against-weight"]


def test_nothing_of_an_overall_formula_counts_twice() -> None:
    formula = read_recipe(OVERALL.format(water=680, percent=68)).formula
    assert formula is not None
    assert formula.flour_g == pytest.approx(1000)
    assert formula.dough_g == pytest.approx(1706)


def test_an_overall_formula_alone_is_the_dough() -> None:
    text = OVERALL.format(water=680, percent=68).partition("## Poolish")[0]
    formula = read_recipe(text).formula
    assert formula is not None
    assert formula.stages == ("dough",)
    assert formula.flour_g == 1000


LEVAIN = """# River sourdough

## Levain

- 20 g ripe starter
- 100 g flour
- {water} g water

## Dough

- 500 g bread flour
- 350 g water
- {used} g levain
- 10 g salt
"""


@pytest.mark.parametrize(
    ("water", "used", "flour"),
    [
        # all of it: 500 + 100 + half of a ripe starter of 20 g
        pytest.param(100, 220, 610, id="all-of-it"),
        # 100 of 220 g, half of it flour
        pytest.param(100, 100, 550, id="a-part-of-it"),
        # a stiff one of 110 g flour and 60 g water: 85 g hold 55 g of flour
        pytest.param(50, 85, 555, id="a-part-of-a-stiff-one"),
    ],
)
def test_a_preferment_counts_once(water: int, used: int, flour: float) -> None:
    formula = read_recipe(LEVAIN.format(water=water, used=used)).formula
    assert formula is not None
    assert formula.flour_g == pytest.approx(flour, abs=0.2)


def test_more_of_a_preferment_than_is_made_is_still_found() -> None:
    found = check(LEVAIN.format(water=100, used=300)).by_kind("conflict")
    assert [f.identifier for f in found] == ["preferment-against-parts"]


def test_one_percentage_of_another_base() -> None:
    """18 g of salt are 2 % of 900 g and 1.8 % of all 1000 g of flour."""
    text = (
        "# Loaf\n\n## Levain\n\n- 100 g bread flour\n- 100 g water\n\n## Dough\n\n"
        "- 900 g bread flour (90 %)\n- 600 g water (60 %)\n- 30 g honey (3 %)\n"
        "- 40 g oil (4 %)\n- 18 g salt (2.0 %)\n"
    )
    found = [f for f in check(text).findings if f.identifier == "percent-bases-mixed"]
    assert [f.kind for f in found] == ["unlikely"]
    assert "salt: 2 %" in found[0].message
    assert "percent-bases-mixed" not in _found(text.replace("2.0 %", "1.8 %"))
