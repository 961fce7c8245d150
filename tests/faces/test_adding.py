"""A new line for the fit panel: where it lands in the text, and what is shown."""

import html
import json
import re
from pathlib import Path
from typing import Any

import pytest

from bakelab.errors import ReadError
from bakelab.formula import formula_from_json, formula_to_csv, formula_to_json
from bakelab.panels import FitPanel
from bakelab.panels.adding import stage_for_new, stages_of, with_line
from bakelab.panels.current_recipe import recipe_in
from bakelab.panels.samples import sample_recipes
from bakelab.reading import read_recipe

STAGED = """# Island loaf

## Poolish

- 150 g bread flour
- 150 g water

## Dough

- 350 g bread flour
- 190 g water
- 10 g salt
- butter for the pan

## Topping

- 20 g sesame seeds

## Method

1. Mix the poolish in the evening.
2. Mix the dough with 12 g malt if you like, and bake it for 40 minutes at 210 °C
   in a 9 x 5 x 3 inch loaf pan.
"""
# Text, and the row of it that the new line `12 g malt` must stand below.
PLACES = {
    "plain": ("500 g flour\n300 g water\n\nMix and bake it.", "300 g water"),
    "no gap before the method": (
        "500 g flour\n300 g water\nMix both for ten minutes, let it rest and bake it.",
        "300 g water",
    ),
    "numbered": (
        "Ingredients\n1. 500 g flour\n2. 300 g water\n\nMethod\n1. Mix and bake it.",
        "2. 300 g water",
    ),
    "a line that goes on": (
        "- 500 g flour\n- 300 g water\n- 10 g butter, softened,\n  or lard\n\nBake it.",
        "  or lard",
    ),
    "a sum at the end": (
        "500 g flour\n300 g water\nTotal: 800 g\n\nMix and bake it.",
        "300 g water",
    ),
    "a table": (
        "| Ingredient | g |\n|---|---|\n| flour | 500 |\n| water | 300 |\n\nBake it.",
        "| water | 300 |",
    ),
    "CSV": ("ingredient,weight\nflour,500 g\nwater,300 g\n", "water,300 g"),
    "CSV with stages": (
        "stage,ingredient,g\nsponge,flour,100\nsponge,water,100\ndough,flour,400\n",
        "dough,flour,400",
    ),
    "front matter": (
        '---\ningredients:\n  - "500 g flour"\n  - "300 g water"\n---\n\nBake it.\n',
        '  - "300 g water"',
    ),
    "after a comment": (
        "<!-- a\nb -->\nIngredients\n- 500 g flour\n- 300 g water\n\nMethod\nBake.",
        "- 300 g water",
    ),
    "metric before household": (
        "# B\n\n## Metric\n- 500 g flour\n- 300 g water\n\n## US\n- 4 cups flour",
        "- 300 g water",
    ),
}
PAGE = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Ferry loaf",
    "recipeIngredient": ["500 g flour", "300 g water"],
    "recipeInstructions": "Mix it. Bake it for 40 minutes.",
}


@pytest.fixture(autouse=True)
def own_kitchen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BAKELAB_KITCHEN", str(tmp_path / "kitchen.json"))


def lines(text: str) -> list[tuple[str, str]]:
    return [(ln.stage, ln.text) for ln in read_recipe(text).lines]


@pytest.mark.parametrize("name", PLACES)
def test_it_stands_below_the_last_line_of_the_list(name: str) -> None:
    text, above = PLACES[name]
    added = with_line(text, "12 g malt")
    rows = added.text.split("\n")
    new = next(row for row in rows if "12 g malt" in row)
    assert rows[rows.index(new) - 1] == above
    assert [row for row in rows if row != new] == text.split("\n")
    assert [ln.ingredient for ln in added.lines] == ["malt_syrup"]
    assert [ln.mass_g for ln in added.lines] == [12.0]
    assert read_recipe(added.text).method == read_recipe(text).method


@pytest.mark.parametrize(
    ("stage", "above"),
    [
        ("poolish", "- 150 g water"),
        ("dough", "- butter for the pan"),
        ("topping", "- 20 g sesame seeds"),
        ("", "- butter for the pan"),
    ],
)
def test_it_goes_into_its_stage_and_never_into_the_method(
    stage: str, above: str
) -> None:
    recipe = read_recipe(STAGED)
    assert stages_of(recipe) == ("poolish", "dough", "topping")
    assert stage_for_new(recipe) == "dough"
    rows = with_line(STAGED, "12 g malt", stage=stage).text.split("\n")
    place = rows.index("- 12 g malt")
    assert rows[place - 1] == above
    assert place < rows.index("## Method")
    assert [*rows[:place], *rows[place + 1 :]] == STAGED.split("\n")


@pytest.mark.parametrize("title", list(sample_recipes()))
def test_the_samples_take_a_line(title: str) -> None:
    text = sample_recipes()[title]
    before, after = lines(text), lines(with_line(text, "12 g malt").text)
    assert len(after) == len(before) + 1
    assert after[-1] == (before[-1][0], "12 g malt")


@pytest.mark.parametrize("form", ["json", "page", "list"])
def test_a_web_page_takes_a_line(form: str) -> None:
    data = json.dumps(PAGE)
    items = "".join(f"<li class='i'>{i}</li>" for i in PAGE["recipeIngredient"])
    text = {
        "json": data,
        "page": f"<html><script type='application/ld+json'>{data}</script></html>",
        "list": f"<html><h1>B</h1><h2>Ingredients</h2><ul>{items}</ul>"
        "<h2>Method</h2><p>Bake it.</p></html>",
    }[form]
    added = with_line(text, "12 g malt")
    assert [words for _, words in lines(added.text)] == [
        "500 g flour", "300 g water", "12 g malt",
    ]  # fmt: skip


@pytest.mark.parametrize("write", [formula_to_json, formula_to_csv])
def test_a_saved_formula_is_put_into_words_first(write: Any) -> None:
    formula = read_recipe("Ferry bread\n\n500 g flour\n300 g water\n").formula
    assert formula is not None
    assert formula_from_json(formula_to_json(formula)) == formula
    text = with_line(write(formula), "12 g malt").text
    assert text.splitlines() == [
        "# Ferry bread", "", "500 g flour", "300 g water", "12 g malt",
    ]  # fmt: skip


@pytest.mark.parametrize("text", ["", "\n\n", "Loaf", "500 g flour", "500 g flour\n"])
def test_a_list_can_begin_with_it(text: str) -> None:
    added = with_line(text, "  -  12 g \n malt ")
    assert added.text.split("\n")[-2] == "12 g malt" or added.text.endswith("12 g malt")
    assert [ln.text for ln in added.lines] == ["12 g malt"]


def test_the_same_line_may_stand_twice() -> None:
    text = "500 g flour\n300 g water\n"
    assert lines(with_line(text, "300 g water").text)[1:] == [
        ("dough", "300 g water"), ("dough", "300 g water"),
    ]  # fmt: skip


def test_what_only_the_method_named_gives_way_to_the_list() -> None:
    text = "Ingredients\n500 g flour\n8 g salt\n\nMethod\nAdd 300 g water and mix it."
    assert len(read_recipe(text).lines) == 3  # the water is taken from the method
    assert lines(with_line(text, "290 g water").text) == [
        ("dough", "500 g flour"), ("dough", "8 g salt"), ("dough", "290 g water"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("", "nothing is written"),
        (" \n\0 ", "nothing is written"),
        ("x" * 3000, "3000 characters"),
        ("## Method", "found no place"),
        ("Method", "found no place"),
        ("Poolish:", "found no place"),
    ],
)
def test_what_is_no_line_is_refused(line: str, said: str) -> None:
    with pytest.raises(ReadError, match=said):
        with_line(STAGED, line)


def test_running_text_has_no_list_to_take_it() -> None:
    text = (
        "Take 500 g of flour and mix it with 300 g of water and 10 g of salt. Let it "
        "rise until it is light and bake it in a hot oven for an hour."
    )
    with pytest.raises(ReadError, match="found no place"):
        with_line(text, "12 g malt")


def told(panel: FitPanel) -> str:
    return html.unescape(re.sub("<[^>]+>", " ", panel.outputs["added"].value))


def hear(panel: FitPanel, **message: object) -> None:
    panel.lines._hear(panel.lines, message, [])


@pytest.fixture
def panel() -> FitPanel:
    return FitPanel(STAGED, pan="9 x 5 x 3 in loaf")


def test_a_line_from_the_browser_is_read_and_shown(panel: FitPanel) -> None:
    assert panel.lines.stages == ["poolish", "dough", "topping"]
    assert panel.lines.stage == "dough"
    hear(panel, add="12 g malt", stage="poolish")
    assert "- 150 g water\n- 12 g malt\n\n## Dough" in panel.controls.text.value
    assert panel.lines.rows[2]["text"] == "12 g malt"
    assert panel.lines.rows[2]["state"] == "read"
    assert "Added to poolish: 12 g malt; read: Barley malt syrup, 12 g." in told(panel)
    assert panel.answer is not None
    assert panel.answer.fitted.original.role_g("sweetener") == pytest.approx(12)


def test_a_line_that_is_not_understood_is_there_and_says_so(panel: FitPanel) -> None:
    hear(panel, add="moon dust", stage="dough")
    assert "- moon dust" in panel.controls.text.value
    row = next(r for r in panel.lines.rows if r["text"] == "moon dust")
    assert row["state"] == "unread"
    assert "not understood" in told(panel)


def test_corrections_of_other_lines_stay(panel: FitPanel) -> None:
    panel.correct(0, "grams", "160")
    hear(panel, add="12 g malt", stage="poolish")
    assert panel.lines.rows[0]["grams"] == "160"


def test_a_refusal_stands_in_place_and_changes_nothing(panel: FitPanel) -> None:
    before = panel.controls.text.value
    for line in ("", "## Method", "x" * 900):
        hear(panel, add=line, stage="dough")
        assert panel.controls.text.value == before
        assert 'role="alert"' in panel.outputs["added"].value
        assert told(panel).strip().startswith("New line: ")
    panel.controls.to_pan.value = "8 x 4 x 2.5 in loaf"
    assert told(panel) == ""


@pytest.mark.parametrize(
    "message",
    [
        {"add": 5, "stage": "dough"},
        {"add": None},
        {"add": ["12 g malt"]},
        {"add": "12 g malt", "stage": {"a": 1}},
        {"add": "12 g malt", "stage": "no such stage"},
        {"add": "12 g malt"},
    ],
)
def test_any_message_is_survived(panel: FitPanel, message: dict[str, Any]) -> None:
    hear(panel, **message)
    taken = "- butter for the pan\n- 12 g malt" in panel.controls.text.value
    assert taken == isinstance(message["add"], str)


def test_words_of_the_user_are_escaped(panel: FitPanel) -> None:
    hear(panel, add="5 g <img src=x onerror=alert(1)>", stage="dough")
    hear(panel, add="## <img src=x onerror=alert(1)>", stage="dough")
    assert "<img" not in panel.outputs["added"].value


def test_a_page_in_one_row_is_refused_after_a_few_readings(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    lines = ("400 g bread flour", "260 g water", "8 g salt", "4 g instant yeast")
    items = "".join(f"<li><span>{line}</span></li>" for line in lines)
    words = "Mix flour, water, salt and yeast. " * 50
    method = f"<h2>Method</h2><p>{words}</p>"
    page = f"<html><body><h2>Ingredients</h2><ul>{items}</ul>{method}</body></html>\n"
    read: list[str] = []

    def counting(text: str, market: str | None) -> Any:
        read.append(text)
        return recipe_in(text, market)

    monkeypatch.setattr("bakelab.panels.adding.recipe_in", counting)
    for text in (page, page.replace("<p>", f"<p>{'x' * 140_000}, ")):
        read.clear()
        with pytest.raises(ReadError, match="found no place"):
            with_line(text, "12 g malt")
        assert len(read) < 50, len(read)


def test_a_carriage_return_inside_a_row_stops_no_new_line() -> None:
    text = "stage,ingredient,g\ndough,flour,400\ndough,water,260\r,\n"
    with pytest.raises(ReadError, match="found no place"):
        with_line(text, "Total: 300 g")
