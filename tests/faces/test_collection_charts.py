"""A collection as tables and charts."""

from pathlib import Path

import pytest

from bakelab.charts.collection import (
    author_cups,
    findings_by_recipe,
    hydration_by_style,
)
from bakelab.checking.collection import check_folder, cup_weights, recipe_table
from bakelab.errors import FormulaError

CARD = (
    "# {0}\n\n## Ingredients\n\n- 500 g ({1}) bread flour\n- {2} g water\n- 10 g salt\n"
)


@pytest.fixture
def shelf(tmp_path: Path) -> str:
    texts = [("Ciabatta", "4 cups", 400), ("Bagels", "2 cups", 280)]
    for number, parts in enumerate(texts):
        path = tmp_path / f"{number}.md"
        path.write_text(CARD.format(*parts), encoding="utf-8")
    return str(tmp_path)


def test_the_cups_of_an_author(shelf: str) -> None:
    table = cup_weights(check_folder([shelf]))
    assert list(table["cup_g"]) == pytest.approx([125, 250])
    assert list(table["state"]) == ["in the usual band", "above the usual"]


def test_the_recipes_of_a_collection_the_worst_first(shelf: str) -> None:
    table = recipe_table(check_folder([shelf]))
    assert list(table["recipe"]) == ["Bagels", "Ciabatta"]
    assert list(table["style"]) == ["Bagel", "Ciabatta"]
    assert list(table["water_pct"]) == pytest.approx([56, 80])
    assert list(table["conflict"]) == [1, 0]


def test_the_charts_name_their_units_and_need_their_columns(shelf: str) -> None:
    reports = check_folder([shelf])
    cups = author_cups(cup_weights(reports)).to_dict()
    assert cups["layer"][0]["encoding"]["x"]["title"] == "Weight of a US cup (g)"
    assert cups["layer"][1]["encoding"]["shape"]["field"] == "state"
    styles = hydration_by_style(recipe_table(reports)).to_dict()
    assert styles["encoding"]["x"]["title"] == "True hydration (% of flour)"
    kinds = findings_by_recipe(recipe_table(reports)).to_dict()
    assert kinds["encoding"]["text"]["field"] == "count"
    for chart in (author_cups, hydration_by_style, findings_by_recipe):
        with pytest.raises(FormulaError, match="lacks "):
            chart(cup_weights(reports)[["line"]])
