"""Notebook 5 in a real browser: a tasting from plan to verdict, by keyboard."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from pypdf import PdfReader

from bakelab.bakebook import BakeBook
from bakelab.reading import read_recipe
from bakelab.tasting import Tasting
from bakelab.variants import change

from .lab_driver import NOTEBOOKS, Lab, panel_page

pytestmark = pytest.mark.browser

FIRST = ".bakelab-answer .bakelab-big > div:nth-child(1) .bakelab-number"
SAMPLES = """names => [...document.querySelectorAll('.bakelab-panel textarea')]
  .some(area => area.value === names)"""
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


@pytest.fixture(scope="module")
def two_loaves(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lab]:
    """A lab whose book holds two formulas."""
    folder = tmp_path_factory.mktemp("taste")
    house = read_recipe(NOTEBOOKS / "recipes" / "2-mill-loaf-in-grams.md").formula
    assert house is not None
    with BakeBook(folder / "bakebook.sqlite", who="me") as book:
        parent = book.keep(house, name="mill loaf")
        less = change(house, "salt", to=1.5).formula
        book.keep(less, parent=parent, name="less salt", change="less salt")
    running = Lab(folder)
    yield running
    running.stop()


def test_from_two_kept_formulas_to_a_printed_winner(
    two_loaves: Lab, chromium: Any
) -> None:
    """Plan, slips, key, every answer, verdict, choice, sheet and file."""
    name = "5-taste-and-decide.ipynb"
    with panel_page(chromium, two_loaves, name, shows=".bakelab-panel") as page:
        add_formulas(page, "mill loaf", "less salt")
        page.get_by_label("Tasters (number)").fill("6")
        page.keyboard.press("Tab")
        page.wait_for_function(ANSWERED, arg="6")
        page.get_by_role("button", name="Draw codes and serve").click()
        page.wait_for_function(ANSWERED, arg="0 of 6")
        assert not page.get_by_label("Chosen loaf").is_visible()
        assert "mill loaf" not in downloaded(page, "Slips", "tasting-slips.pdf")
        assert "mill loaf" in downloaded(page, "Key, apart", "tasting-key.pdf")
        enter_right_answers(page, two_loaves)
        page.get_by_role("heading", name="What this does not say").wait_for()
        page.get_by_text("6 of 6 tasters found the odd sample").wait_for()
        page.get_by_label("Chosen loaf").select_option("less salt")
        page.get_by_label("New name in the bake book").fill("Tuesday loaf")
        page.get_by_role("button", name="Keep the decision").click()
        page.get_by_text("stands in your bake book as “Tuesday loaf”").wait_for()
        sheet = downloaded(page, "Print the sheet", "tuesday-loaf-sheet.pdf")
        assert "Tuesday loaf" in sheet
        page.get_by_role("button", name="Save", exact=True).click()
        page.get_by_role("link", name="tuesday-loaf.csv").wait_for()
    with BakeBook(two_loaves.book, check=False) as book:
        assert set(book.formulas()["name"]) == {"mill loaf", "Tuesday loaf"}
        assert book.tastings()["verdict"].iloc[0]["chosen"] == "less salt"


def add_formulas(page: Any, *names: str) -> None:
    """Take formulas of the bake book as samples."""
    for count, name in enumerate(names, start=1):
        page.get_by_label("Add a formula of the bake book").select_option(name)
        page.wait_for_function(SAMPLES, arg="\n".join(names[:count]))


def enter_right_answers(page: Any, lab: Lab) -> None:
    """The odd sample's code on every slip, as the key in the book tells it."""
    with BakeBook(lab.book, check=False) as book:
        plan = Tasting.from_data(book.tastings().iloc[0].to_dict())
    for number, slip in enumerate(plan.slips, start=1):
        served = [plan.key[code] for code in slip.codes]
        odd = next(c for c in slip.codes if served.count(plan.key[c]) == 1)
        page.get_by_label("Answer (code)").fill(odd)
        page.keyboard.press("Enter")
        page.wait_for_function(ANSWERED, arg=f"{number} of {len(plan.slips)}")


def downloaded(page: Any, button: str, name: str) -> str:
    """The words of a PDF that a button offers."""
    page.get_by_role("button", name=button, exact=True).click()
    link = page.get_by_role("link", name=name)
    link.wait_for()
    with page.expect_download() as waiting:
        link.click()
    pages = PdfReader(waiting.value.path()).pages
    return " ".join(" ".join(p.extract_text() for p in pages).split())
