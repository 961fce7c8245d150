"""A formula goes from panel to panel through the bake book; no number is copied."""

import html
import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from bakelab.bakebook import BakeBook
from bakelab.formula import Formula, formula_from_json, formula_to_csv, formula_to_json
from bakelab.oven import estimate_fitted
from bakelab.panels import (
    BenchPanel,
    ComparePanel,
    FitPanel,
    HeatPanel,
    RatioPanel,
    TastePanel,
)
from bakelab.panels.bench.starting import planned_facts
from bakelab.panels.samples import sample_recipes
from bakelab.panels.shelf import keep_variants
from bakelab.preferments import with_preferment
from bakelab.reading import read_recipe
from bakelab.reading.saved import recipe_text, saved_formula_in
from bakelab.sheets import export
from bakelab.variants import Variant

CUPS = """Oat loaf

3 cups bread flour
1/2 cup rolled oats
1 1/4 cups water
2 tsp salt
2 tsp instant yeast

Bake in a 9 x 5 x 3 inch loaf pan at 375 F for 35 minutes.
"""


@pytest.fixture(autouse=True)
def own_book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "book.sqlite"
    monkeypatch.setenv("BAKELAB_BOOK", str(path))
    monkeypatch.setenv("BAKELAB_KITCHEN", str(tmp_path / "kitchen.json"))
    return path


def _said(widget: object) -> str:
    return html.unescape(re.sub("<[^>]+>", " ", str(getattr(widget, "value", ""))))


def _fitted() -> FitPanel:
    return FitPanel(CUPS, pan="8 x 4 x 2.5 in loaf")


def _content(formula: Formula) -> list[tuple[str, str, float]]:
    return [(r.stage, r.ingredient, r.mass_g) for r in formula.rows]


def test_a_fitted_formula_gets_from_notebook_1_to_4(own_book: Path) -> None:
    fit = _fitted()
    assert not own_book.exists()  # nothing is made before somebody asks
    fit.shelf.keep.click()
    assert "Kept in your bake book" in _said(fit.shelf.told)
    ratio = RatioPanel()
    ratio.shelf.look.click()
    ratio.shelf.offered.value = ratio.shelf.offered.options[1][1]
    assert fit.answer is not None
    assert ratio.formula == fit.answer.fitted.formula
    assert ratio.formula.stated_pan == "loaf 8 x 4 x 2.5 in"
    trials = ratio.trials
    ratios = dict(trials.first.options)
    trials.first.value, trials.second.value = ratios["Salt"], ratios["Water as written"]
    trials.low.value, trials.high.value = "1,5", "2"
    trials.pan.value, trials.name.value = "loaf 5.75 x 3 x 2.25 in", "Salt and water"
    trials.make.click()
    trials.keep.click()
    assert "notebook 4" in _said(trials.told)
    assert trials.plan is not None
    assert set(trials.plan.frame["salt_pct"]) == {1.5, 2.0}
    bench = BenchPanel()
    assert bench.book.path == own_book
    for trial in ("1", "2", "3", "4"):
        offered = next(
            key
            for words, key in bench.starting.variant.options
            if words.startswith(f"Trial {trial}: ")
        )
        bench.starting.variant.value = offered
        bench.starting.start.click()
        facts = bench.book.bake(bench.bake_id).facts
        assert (facts["plan"], facts["trial"]) == ("Salt and water", trial)
        assert facts["pan"] == "loaf 5.75 x 3 x 2.25 in"
        assert bench.at_hand.label.startswith(f"Trial {trial} of Salt and water: ")
        assert f"Trial {trial} of Salt and water" in _said(bench.telling.head)
        bench.book.write(bench.bake_id, loaf_out_g=240 + int(trial), dough_in_g=280)
    compare = ComparePanel(bench.book)
    compare.controls.kind.value = "a plan of trials"
    words = " ".join(_said(out) for out in compare.outputs.values())
    assert "4 trials, a straight surface" in words
    taste = TastePanel(bench.book)
    assert any("salt 1.5 %" in words for words, _ in taste.controls.add.options)


def test_a_kept_formula_gets_into_notebook_7(own_book: Path) -> None:
    formula = read_recipe(CUPS).formula
    assert formula is not None
    with BakeBook(own_book) as book:
        book.keep(formula, name="house")
    panel = HeatPanel()
    panel.shelf.look.click()
    panel.shelf.offered.value = panel.shelf.offered.options[1][1]
    assert panel.controls["from_pan"].value == "loaf 9 x 5 x 3 in"
    assert panel.controls["text"].value.startswith("# Oat loaf")
    assert panel.estimate is not None
    assert "instead of 35 min" in panel.outputs["text"].value
    panel.controls["text"].value = "Loaf\n\n500 g bread flour\n330 g water\n"
    panel.controls["oven"].value = "220 C"
    panel.work_out()
    assert "write it above" in _said(panel.outputs["alert"])
    assert "bake_minutes" not in _said(panel.outputs["alert"])


def test_the_estimated_time_gets_from_notebook_7_into_the_plan_of_a_bake() -> None:
    fit = _fitted()
    fit.shelf.keep.click()
    assert fit.answer is not None
    fitted = fit.answer.fitted
    heat = HeatPanel()
    heat.shelf.look.click()
    heat.shelf.offered.value = heat.shelf.offered.options[1][1]
    c = heat.controls
    assert (c["from_pan"].value, c["to_pan"].value) == (
        "loaf 9 x 5 x 3 in",
        "loaf 8 x 4 x 2.5 in",
    )
    found = heat.estimate
    assert found is not None
    direct = estimate_fitted(fitted, samples=0)
    assert found.middle_minutes == pytest.approx(direct.middle_minutes, abs=0.5)
    heat.shelf.keep.click()
    assert "time estimated" in _said(heat.shelf.told)
    bench = BenchPanel()
    offered = next(k for n, k in bench.starting.variant.options if "time est" in n)
    bench.starting.variant.value = offered
    said = _said(bench.starting.expected)
    middle, low, high = (
        round(m) for m in (found.middle_minutes, found.low_minutes, found.high_minutes)
    )
    assert f"Estimated, not baked: about {middle} min ({low} to {high} min)" in said
    assert "check the centre with a thermometer" in said
    bench.starting.start.click()
    facts = bench.book.bake(bench.bake_id).facts
    assert facts["planned_bake_min"] == middle
    assert facts["pan"] == "loaf 8 x 4 x 2.5 in"
    assert facts["planned_oven_c"] == 191  # (375 − 32) × 5/9 = 190.6
    assert f"about {middle} min" in _said(bench.telling.head)
    kept = bench.book.formula(offered)
    assert _content(kept) == _content(fitted.formula)
    row = bench.book.formulas().set_index("key").loc[offered]
    assert bench.book.formula(row["parent"]) == fitted.formula


def test_an_estimate_is_left_out_in_another_pan() -> None:
    heat = HeatPanel(CUPS, pan="8 x 4 x 2.5 in loaf")
    heat.shelf.keep.click()
    bench = BenchPanel()
    bench.starting.pan.value = "loaf 12 x 5 x 3 in"
    bench.starting.start.click()
    facts = bench.book.bake(bench.bake_id).facts
    assert "planned_bake_min" not in facts
    assert "the estimate is for loaf 8 x 4 x 2.5 in" in _said(bench.starting.told)
    assert "Estimated" not in _said(bench.telling.head)
    bench.starting.pan.value = "8 x 4 x 2.5 in loaf"
    facts, words = planned_facts(
        bench.book, bench.starting.variant.value, pan="loaf 8 x 4 x 2.5 in"
    )
    assert words.startswith("Pan, oven and plan as in the bake of")
    assert "planned_bake_min" not in facts


def test_nothing_is_kept_while_an_estimate_is_refused() -> None:
    heat = HeatPanel(CUPS, pan="8 x 4 x 2.5 in loaf")
    heat.controls["oven"].value = "warm"
    heat.work_out()
    heat.shelf.keep.click()
    assert "there is no formula yet" in _said(heat.shelf.told)


def test_the_winner_comes_back_to_be_printed_and_saved() -> None:
    fit = _fitted()
    fit.shelf.name.value = "house oat loaf"
    fit.shelf.keep.click()
    assert fit.answer is not None
    kept = fit.answer.fitted.formula
    again = FitPanel()
    again.shelf.look.click()
    again.shelf.offered.value = again.shelf.offered.options[1][1]
    assert "house oat loaf" in again.shelf.offered.options[1][0]
    again.controls.to_pan.value = "8 x 4 x 2.5 in loaf"
    assert again.answer is not None
    assert again.answer.fitted.factor == pytest.approx(1)
    now = again.answer.fitted.formula
    for one, other in zip(_content(now), _content(kept), strict=True):
        assert one[:2] == other[:2]
        assert one[2] == pytest.approx(other[2], rel=1e-6)
    again.controls.save_as.value = "csv"
    again.controls.save.click()
    assert "oat-loaf.csv" in again.outputs["saved"].value


def test_a_pan_known_only_by_its_water_is_kept_in_short_words() -> None:
    """1830 g of water at 20 °C is 1833.3 cm³ (0.99821 g/cm³, IAPWS R7-97)."""
    fit = FitPanel(CUPS, pan="loaf")
    fit.controls.water_g.value = "1830"
    fit.shelf.keep.click()
    with BakeBook() as book:
        formula = book.formula(book.formulas()["key"].iloc[0])
    assert formula.stated_pan == "loaf, holds 1830 g water at 20 C"
    assert fit.answer is not None
    assert fit.answer.fitted.to_pans[0].capacity_cm3 == pytest.approx(1833.3, abs=0.1)


def test_variants_are_kept_with_their_parents_once() -> None:
    panel = RatioPanel(CUPS)
    panel.sliders["salt"].value = 1.8
    panel.shelf.keep.click()
    assert "press Keep as a variant first" in _said(panel.shelf.told)
    panel.controls.name.value, panel.controls.why.value = "less salt", "asked for"
    panel.controls.keep.click()
    panel.shelf.keep.click()
    panel.shelf.keep.click()
    table = panel.shelf.book().formulas().set_index("name")
    assert list(table.index) == ["less salt", "Oat loaf"]
    assert table.loc["less salt", "parent"] == table.loc["Oat loaf", "key"]
    assert table.loc["less salt", "change"] == "asked for"


def test_another_name_for_a_kept_formula_is_taken(own_book: Path) -> None:
    formula = read_recipe(CUPS).formula
    assert formula is not None
    with BakeBook(own_book) as book:
        for name in ("first", "second"):
            keep_variants(book, [Variant(formula, "Oat loaf")], name)
        assert list(book.formulas()["name"]) == ["second"]
        assert "first" in set(book.past(book.formulas()["key"].iloc[0])["old"])


def test_an_empty_book_and_an_unreadable_plan_are_told() -> None:
    panel = RatioPanel(CUPS)
    panel.shelf.look.click()
    assert "it holds no formula yet" in _said(panel.shelf.told_taken)
    panel.trials.low.value = "little"
    panel.trials.make.click()
    assert "'little' is no percentage" in _said(panel.trials.told)
    panel.trials.low.value, panel.trials.centres.value = "60", "-1"
    panel.trials.make.click()
    assert "'-1' times; give 0 to 99" in _said(panel.trials.told)
    empty = FitPanel("nothing at all")
    empty.shelf.keep.click()
    assert "there is no formula yet" in _said(empty.shelf.told)


@pytest.mark.parametrize("title", list(sample_recipes()))
def test_a_formula_in_words_reads_back_as_the_same(title: str) -> None:
    formula = read_recipe(sample_recipes()[title]).formula
    assert formula is not None
    split = formula
    if formula.role_g("yeast") and formula.role_g("water"):
        split = with_preferment(formula, "poolish", flour_pct=20, yeast_pct=0.1)
    for one in (formula, split):
        again = read_recipe(recipe_text(one)).formula
        assert again is not None
        for found, meant in zip(_content(again), _content(one), strict=True):
            assert found[:2] == meant[:2]
            assert found[2] == pytest.approx(meant[2], rel=1e-6)


@pytest.mark.parametrize("kind", ["poolish", "biga", "old_dough", "scald"])
def test_weights_of_a_preferment_are_the_same_in_every_language(kind: str) -> None:
    """`106.575 g` is a hundred thousand in German, so no weight is written so."""
    title = next(t for t in sample_recipes() if "Roggen" in t)
    formula = read_recipe(sample_recipes()[title]).formula
    assert formula is not None
    split = with_preferment(formula, kind)
    again = read_recipe(recipe_text(split)).formula
    assert again is not None
    assert again.language == "de"
    for found, meant in zip(_content(again), _content(split), strict=True):
        assert found[:2] == meant[:2]
        assert found[2] == pytest.approx(meant[2], rel=1e-6)


def test_a_preferment_goes_with_its_formula_to_the_sheet(own_book: Path) -> None:
    ratio = RatioPanel(read_recipe(CUPS).formula or "")
    ratio.preferment.flour.value = "30"
    ratio.preferment.make.click()
    ratio.controls.name.value = "with poolish"
    ratio.controls.keep.click()
    ratio.shelf.keep.click()
    assert "with poolish" in _said(ratio.shelf.told)
    assert own_book.exists()
    kept = RatioPanel()
    kept.shelf.look.click()
    named = {words.rpartition(",")[0]: key for words, key in kept.shelf.offered.options}
    kept.shelf.offered.value = named["with poolish"]
    assert kept.formula == ratio.formula
    assert "Poolish (g)" in kept.preferment.stages.value
    fit = FitPanel()
    fit.shelf.look.click()
    fit.shelf.offered.value = named["with poolish"]
    assert fit.answer is not None
    assert fit.answer.fitted.formula.stages == ("poolish", "final dough")
    assert "Poolish" in export(fit.answer.fitted, "markdown")


def test_a_saved_formula_can_be_opened_again() -> None:
    """CSV and JSON that the panel saves are files that it opens, pan and all."""
    formula = read_recipe(CUPS).formula
    assert formula is not None
    for text in (formula_to_json(formula), formula_to_csv(formula)):
        assert saved_formula_in(text) == formula
    panel = FitPanel()
    content = memoryview(formula_to_json(formula).encode())
    item = {"name": "oat-loaf.json", "content": content, "size": len(content)}
    moment = datetime(2026, 3, 7, tzinfo=UTC)
    panel.controls.upload.value = ({**item, "type": "", "last_modified": moment},)
    assert panel.controls.from_pan.value == formula.stated_pan
    assert panel.recipe is not None
    assert panel.recipe.title == "Oat loaf"
    assert formula_from_json(formula_to_json(formula)) == formula


@pytest.mark.parametrize(
    "pan", ["loaf 9 x 5 x 3 in", "loaf, holds 1830 g water at 20 C"]
)
@pytest.mark.parametrize("ending", [".json", ".csv"])
def test_what_the_lab_saves_is_read_as_a_recipe(
    tmp_path: Path, ending: str, pan: str
) -> None:
    formula = read_recipe(CUPS).formula
    assert formula is not None
    formula = replace(with_preferment(formula, "poolish", flour_pct=20), stated_pan=pan)
    path = tmp_path / f"saved{ending}"
    export(formula, path)
    recipe = read_recipe(path)
    assert recipe.formula is not None
    assert recipe.title == "Oat loaf"
    assert recipe.bake_minutes == (35, 35)
    assert recipe.pan is not None
    assert recipe.formula.stated_pan.casefold() == pan.casefold()
    for found, meant in zip(_content(recipe.formula), _content(formula), strict=True):
        assert found[:2] == meant[:2]
        assert found[2] == pytest.approx(meant[2], rel=1e-6)
