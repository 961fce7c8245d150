"""The panel that checks a text: findings in place, refusals, a page for an editor."""

from pathlib import Path

import pytest

from bakelab.panels import CheckPanel

CLASH = "Loaf\n\n- 500 g (2 cups) bread flour\n- 340 g water\n- 10 g salt\n"
TWO = (
    "# Notes\n\n## Tin loaf\n\n### Ingredients\n\n- 400 g flour\n- 8 g salt\n\n"
    "## Wet loaf\n\n### Ingredients\n\n- 400 g flour\n- 272 g (3 cups) water\n"
)


def test_a_clash_stands_beside_its_line() -> None:
    panel = CheckPanel(CLASH)
    assert "1 recipe: 1 in conflict" in panel.counted.value
    assert "<mark class='conflict'>- 500 g (2 cups) bread flour</mark>" in (
        panel.answer.value
    )
    assert "500 g and 2 cups are not the same amount" in panel.answer.value


def test_another_text_is_checked_at_once() -> None:
    panel = CheckPanel(CLASH)
    panel.text.value = CLASH.replace("2 cups", "4 cups")
    assert "conflict" not in panel.counted.value


def test_an_article_with_two_recipes() -> None:
    panel = CheckPanel(TWO)
    assert [r.title for r in panel.reports] == ["Tin loaf", "Wet loaf"]
    assert "2 recipes: 1 in conflict" in panel.counted.value


def test_what_is_shown_can_be_chosen() -> None:
    panel = CheckPanel("Loaf\n\n- 500 g flour\n- 340 g water\n- 2 eggs\n- 9 g salt\n")
    assert "the eggs have no size" not in panel.answer.value
    panel.show.value = 4
    assert "the eggs have no size" in panel.answer.value


def test_the_market_and_the_style_count() -> None:
    panel = CheckPanel("Loaf\n\n- 3 cups flour\n- 300 g water\n- 6 g salt\n")
    panel.show.value = 4
    panel.market.value = "uk"
    assert "kitchens of this market weigh" in panel.answer.value
    panel.style.value = "ciabatta"
    panel.text.value = "Loaf\n\n- 500 g flour\n- 250 g water\n- 10 g salt\n"
    assert "below the usual of Ciabatta" in panel.answer.value


def test_words_that_are_no_recipe_are_refused_in_place() -> None:
    panel = CheckPanel("Good morning to you all.")
    assert "no recipe was found" in panel.refused.value.casefold()
    assert panel.reports == ()
    panel.text.value = ""
    assert panel.refused.value == ""
    assert "Paste a text" in panel.counted.value


def test_html_in_a_text_stays_text() -> None:
    panel = CheckPanel("Loaf\n\n- 500 g flour <script>alert(1)</script>\n- 300 g water")
    assert "<script>" not in panel.answer.value


def test_the_lines_in_house_style() -> None:
    panel = CheckPanel("Loaf\n\n- 3 cups bread flour\n- 300 g water\n- 6 g salt\n")
    assert "378 g (3 cups) bread flour" in panel.copy.html


def test_the_findings_as_a_page(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    panel = CheckPanel(CLASH)
    panel.save.click()
    assert "saved as findings.html" in panel.saved.value
    assert "not the same amount" in (tmp_path / "findings.html").read_text("utf-8")
    panel.page_name.value = "recipe.md"
    panel.save.click()
    assert "ends in .html" in panel.saved.value
    panel.page_name.value = "nowhere/findings.html"
    panel.save.click()
    assert "cannot write" in panel.saved.value.casefold()


def test_every_control_has_a_label() -> None:
    panel = CheckPanel()
    controls = (panel.sample, panel.text, panel.market, panel.style, panel.show,
                panel.page_name, panel.save)  # fmt: skip
    assert all(control.description for control in controls)
