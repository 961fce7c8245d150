"""Notebook 6 in a real browser: findings beside their lines, other texts, refusals."""

from collections.abc import Iterator
from typing import Any

import pytest

from .lab_driver import Lab, panel_page

pytestmark = pytest.mark.browser

NOTEBOOK = "6-check-published-quantities.ipynb"
MARKED = ".bakelab-answer .bakelab-check"


@pytest.fixture(scope="module")
def page(lab: Lab, chromium: Any) -> Iterator[Any]:
    with panel_page(chromium, lab, NOTEBOOK, shows=MARKED) as opened:
        yield opened


def test_no_cell_has_an_error(page: Any) -> None:
    assert page.locator(".jp-OutputArea-error").count() == 0


def test_a_finding_stands_under_its_line(page: Any) -> None:
    told = "30 g and 5 tbsp are not the same amount"
    line = page.locator(f"{MARKED} .text > span", has_text=told)
    marked = line.first.locator("mark.conflict").text_content()
    assert marked == "- 30 g (5 tbsp) honey"


def test_another_text_is_checked(page: Any) -> None:
    text = page.get_by_label("Article or recipe as written")
    text.fill("Loaf\n\n- 500 g (2 cups) bread flour\n- 340 g water\n- 10 g salt")
    page.keyboard.press("Tab")
    told = page.locator(MARKED, has_text="500 g and 2 cups are not the same amount")
    told.wait_for()


def test_words_that_are_no_recipe_are_refused_in_place(page: Any) -> None:
    page.get_by_label("Article or recipe as written").fill("Good morning")
    page.keyboard.press("Tab")
    told = page.locator(".bakelab-answer [role=alert]")
    told.wait_for()
    assert "No recipe was found" in told.inner_text()
