"""Notebook 5 in a real browser: a tasting from plan to verdict, by keyboard."""

import re
from collections.abc import Iterator
from typing import Any

import pytest

from .lab_driver import Lab, panel_page

pytestmark = pytest.mark.browser

FIRST = ".bakelab-answer .bakelab-big > div:nth-child(1) .bakelab-number"
ANSWERED = f"text => document.querySelector('{FIRST}').innerText === text"


@pytest.fixture(scope="module")
def page(lab: Lab, chromium: Any) -> Iterator[Any]:
    name = "5-taste-and-decide.ipynb"
    with panel_page(chromium, lab, name, width=800, height=1600) as opened:
        yield opened


def test_no_cell_has_an_error(page: Any) -> None:
    assert page.locator(".jp-OutputArea-error").count() == 0


def test_nonsense_in_the_plan_is_a_sentence(page: Any) -> None:
    page.get_by_label("Samples, one on a line").fill("<img src=x onerror=alert(1)>")
    page.keyboard.press("Tab")
    told = page.locator(".bakelab-answer [role=alert]")
    told.wait_for()
    assert "compares 2" in told.inner_text()
    page.get_by_label("Samples, one on a line").fill("<b>house</b>\n<i>other</i>")
    page.keyboard.press("Tab")
    told.wait_for(state="detached")


def test_from_plan_to_verdict_by_keyboard(page: Any) -> None:
    page.get_by_label("Samples, one on a line").fill("<b>house</b>\n<i>other</i>")
    page.get_by_label("Tasters (number)").fill("3")
    page.keyboard.press("Tab")
    page.wait_for_function(ANSWERED, arg="3")
    page.get_by_role("button", name="Draw codes and serve").focus()
    page.keyboard.press("Enter")
    page.wait_for_function(ANSWERED, arg="0 of 3")
    page.locator(".bakelab-fold summary").first.focus()
    page.keyboard.press("Enter")
    rows = page.locator(".bakelab-fold table tbody tr")
    rows.first.wait_for()
    assert "<b>house</b>" in page.locator(".bakelab-answer").inner_text()
    codes = [rows.nth(n).locator("td").first.inner_text().split() for n in range(3)]
    answer = page.get_by_label("Answer (code)")
    answer.fill("12")
    page.keyboard.press("Enter")
    told = page.locator(".bakelab-controls [role=alert]")
    told.wait_for()
    assert "Code 12 is not on slip 1: its codes are" in told.inner_text()
    for number, row in enumerate(codes, start=1):
        answer.fill(row[0])
        page.keyboard.press("Enter")
        page.wait_for_function(ANSWERED, arg=f"{number} of 3")
    page.get_by_role("heading", name="What this does not say").wait_for()
    page.wait_for_timeout(500)
    said = page.locator(".bakelab-answer").inner_text()
    assert re.search(r"[0-3] of 3 tasters found the odd sample", said)
    assert re.search(r"<[bi]>(house|other)</[bi]>", said)
    assert page.locator(".bakelab-answer b, .bakelab-answer i").count() == 0


def test_slips_and_key_are_two_downloads(page: Any) -> None:
    for button, name in (
        ("Slips", "tasting-slips.pdf"),
        ("Key, apart", "tasting-key.pdf"),
    ):
        page.get_by_role("button", name=button, exact=True).click()
        link = page.get_by_role("link", name=name)
        link.wait_for()
        with page.expect_download() as waiting:
            link.click()
        assert waiting.value.suggested_filename == name


def test_the_tasting_is_there_again_after_a_restart(page: Any) -> None:
    page.get_by_role("button", name="Plan another tasting").click()
    page.wait_for_function(ANSWERED, arg="3")
    kept = page.get_by_label("Kept tastings")
    kept.select_option(index=1)
    page.wait_for_function(ANSWERED, arg="3 of 3")
    page.get_by_role("heading", name="What this does not say").wait_for()
