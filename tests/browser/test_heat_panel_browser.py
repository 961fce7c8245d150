"""Notebook 7 in a real browser: an estimate, the cut over time, a refusal."""

from collections.abc import Iterator
from typing import Any

import pytest

from .lab_driver import Lab, panel_page

pytestmark = pytest.mark.browser

FIRST = ".bakelab-big > div:nth-child(1) .bakelab-number"


@pytest.fixture(scope="module")
def page(lab: Lab, chromium: Any) -> Iterator[Any]:
    with panel_page(chromium, lab, "7-time-and-heat.ipynb") as opened:
        yield opened


def test_no_cell_has_an_error(page: Any) -> None:
    assert page.locator(".jp-OutputArea-error").count() == 0


def test_a_larger_pan_takes_longer(page: Any) -> None:
    before = page.locator(FIRST).inner_text()
    page.get_by_label("My pan", exact=True).fill("13 x 5 x 4 in loaf")
    page.keyboard.press("Tab")
    page.get_by_role("button", name="Work it out").click()
    page.wait_for_function(
        "([where, before]) => document.querySelector(where).innerText !== before",
        arg=[FIRST, before],
    )
    assert int(page.locator(FIRST).inner_text().split()[0]) > int(before.split()[0])


def test_the_cut_follows_the_slider(page: Any) -> None:
    cut = page.locator(".bakelab-answer .bakelab-strips").nth(1)
    before = cut.inner_html()
    page.locator(".bakelab-slider .noUi-handle").focus()
    page.keyboard.press("Home")
    page.wait_for_function(
        "before => document.querySelectorAll('.bakelab-answer .bakelab-strips')[1]"
        ".innerHTML !== before",
        arg=before,
    )


def test_nonsense_is_a_sentence(page: Any) -> None:
    page.get_by_label("Oven setting").fill("<b>warm</b>")
    page.keyboard.press("Tab")
    page.get_by_role("button", name="Work it out").click()
    told = page.locator(".bakelab-answer [role=alert]")
    told.wait_for()
    assert "No oven temperature" in told.inner_text()
    assert told.locator("b").count() == 0
    page.get_by_label("Oven setting").fill("")
    page.keyboard.press("Tab")
    page.get_by_role("button", name="Work it out").click()
    told.wait_for(state="detached")


def test_the_estimated_time_plans_the_bake(
    tmp_path_factory: pytest.TempPathFactory, chromium: Any
) -> None:
    """Notebooks 7 and 3 one after the other, over a book of their own."""
    own_lab = Lab(tmp_path_factory.mktemp("heat"))
    try:
        with panel_page(chromium, own_lab, "7-time-and-heat.ipynb") as page:
            middle = page.locator(FIRST).inner_text()
            page.get_by_label("Name in the bake book").fill("<i>for my tin</i>")
            page.keyboard.press("Tab")
            page.get_by_role("button", name="Keep in my bake book").click()
            page.get_by_text("Kept in your bake book as “<i>for my tin</i>”").wait_for()
        bench = ".bakelab-panel .bakelab-tabs"
        with panel_page(
            chromium, own_lab, "3-log-test-bakes.ipynb", shows=bench
        ) as page:
            said = page.get_by_text(f"Estimated, not baked: about {middle}")
            said.wait_for()
            assert "check the centre with a thermometer" in said.inner_text()
            page.get_by_role("button", name="Start the bake").click()
            page.get_by_text("What was planned, and with what").click()
            planned = page.locator("[data-fact=planned_bake_min]")
            planned.wait_for()
            assert planned.input_value() == middle.split()[0]
            page.locator(".bakelab-large[data-what='in the oven']").click()
            page.locator(".bakelab-timer", has_text="in the oven").wait_for()
    finally:
        own_lab.stop()
