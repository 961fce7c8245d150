"""Notebook 4 in a real browser, over the demo book: comparisons, filters, a refusal."""

from collections.abc import Iterator
from typing import Any

import pytest

from bakelab.bakebook import BakeBook
from bakelab.bakebook.demo import write_demo_book

from .lab_driver import KERNEL_IDLE, Lab, panel_page

pytestmark = pytest.mark.browser

ANSWER = ".bakelab-answer"


@pytest.fixture(scope="module")
def own_lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lab]:
    """A lab of its own, whose book is the demo book."""
    folder = tmp_path_factory.mktemp("compare")
    write_demo_book(folder / "bakebook.sqlite").close()
    running = Lab(folder)
    yield running
    running.stop()


@pytest.fixture(scope="module")
def page(own_lab: Lab, chromium: Any) -> Iterator[Any]:
    name = "4-compare-bakes.ipynb"
    with panel_page(chromium, own_lab, name, height=1500) as opened:
        opened.set_default_timeout(30_000)
        yield opened


def wait_for_words(page: Any, words: str) -> None:
    page.locator(ANSWER).get_by_text(words).first.wait_for()


def test_no_cell_has_an_error_and_charts_are_drawn(page: Any) -> None:
    assert page.locator(".jp-OutputArea-error").count() == 0
    assert page.locator(f"{ANSWER} svg").count() >= 1
    assert page.locator(".jp-OutputArea-output svg").count() >= 7


def test_a_plan_of_trials_says_whether_it_can_be_believed(page: Any) -> None:
    page.get_by_label("Compare", exact=True).select_option("a plan of trials")
    wait_for_words(page, "Bake it again before you rely on it")
    assert page.get_by_label("Best is the").is_visible()
    assert not page.get_by_label("Against", exact=True).is_visible()
    page.get_by_text("More pictures").click()
    assert page.locator(ANSWER).get_by_text("Is the scatter even?").is_visible()


def test_the_best_point_is_kept_as_a_formula(page: Any, own_lab: Lab) -> None:
    page.get_by_label("Compare", exact=True).select_option("a plan of trials")
    wait_for_words(page, "Computed, not baked: water as written")
    page.get_by_label("Name in the bake book").fill("<b>best</b>")
    page.keyboard.press("Tab")
    page.get_by_role("button", name="Keep in my bake book").click()
    wait_for_words(page, "Kept in your bake book as “<b>best</b>”")
    page.get_by_label("Best is the").select_option("smallest")
    wait_for_words(page, "There is no best point to keep")
    assert not page.get_by_role("button", name="Keep in my bake book").is_visible()
    page.get_by_label("Best is the").select_option("largest")
    wait_for_words(page, "Computed, not baked: water as written")
    with BakeBook(own_lab.book, check=False) as book:
        row = book.formulas().set_index("name").loc["<b>best</b>"]
        best = book.formula(str(row["key"]))
    assert 60 < best.water_pct < 68
    assert 0.6 < best.role_pct("yeast") < 1.4


def test_two_tins_are_compared_in_pairs(page: Any) -> None:
    page.get_by_label("Compare", exact=True).select_option(
        "two of a kind, baked in pairs"
    )
    page.get_by_label("Result", exact=True).select_option("Bake loss (% of dough)")
    page.get_by_label("Only with the tag").fill("two sizes")
    page.keyboard.press("Tab")
    wait_for_words(page, "exact; 8 pairs")
    page.wait_for_function(KERNEL_IDLE)
    page.get_by_label("Only with the tag").fill("")
    page.keyboard.press("Tab")
    page.get_by_text("72 bakes in this choice").wait_for()
    page.wait_for_function(KERNEL_IDLE)


def test_nonsense_is_a_sentence_and_no_markup(page: Any) -> None:
    page.get_by_label("From (date)").fill("<b>soon</b>")
    page.keyboard.press("Tab")
    told = page.locator(f"{ANSWER} [role=alert]")
    told.wait_for()
    assert "soon" in told.inner_text()
    assert told.locator("b").count() == 0
    page.get_by_label("From (date)").fill("")
    page.keyboard.press("Tab")
    told.wait_for(state="detached")


def test_narrow_page_keeps_everything_within_its_width(page: Any) -> None:
    page.set_viewport_size({"width": 800, "height": 1200})
    panel = page.locator(".bakelab-panel").first
    inside = panel.evaluate(
        "e => [...e.querySelectorAll('select, input, p')].every("
        "x => x.getBoundingClientRect().right <= e.getBoundingClientRect().right + 1)"
    )
    page.set_viewport_size({"width": 1280, "height": 1500})
    assert inside
