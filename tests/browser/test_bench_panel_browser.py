"""Notebook 3 in a real browser: taps, timers, fields, a restart, hostile words."""

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from pypdf import PdfReader

from bakelab.bakebook import BakeBook
from bakelab.bakebook.demo import write_demo_book
from bakelab.sheets import bake_html, bake_sheet

from .lab_driver import Lab, panel_page, watched
from .test_accessibility import serious_findings
from .test_fit_panel_browser import CLIPPED, LEAST_CONTRAST, WEAK_TEXT, set_theme, walk

pytestmark = pytest.mark.browser

NOTEBOOK = "3-log-test-bakes.ipynb"
PANEL = ".bakelab-panel .bakelab-tabs"
LEAST_PX = 48  # a thumb with flour on it; our own rule
EVIL = "<img src=x onerror='window.ran=1'><script>window.ran=1</script>'; DROP TABLE x"
RECIPE = "Evil loaf\n\n500 g bread flour\n330 g water\n10 g salt\n5 g instant yeast\n"


@pytest.fixture(scope="module")
def page(lab: Lab, chromium: Any) -> Iterator[Any]:
    """The notebook with a book of one's own, and a bake that runs."""
    with panel_page(chromium, lab, NOTEBOOK, shows=PANEL) as opened:
        start_own_book(opened)
        yield opened


def test_no_cell_has_an_error(page: Any) -> None:
    assert page.locator(".jp-OutputArea-error").count() == 0


def test_a_bake_is_started_in_two_clicks(page: Any) -> None:
    before = hands(page)
    page.get_by_role("button", name="Start another bake").click()
    page.get_by_role("button", name="Start the bake").click()
    page.wait_for_function(f"n => ({HANDS})().length > n", arg=len(before))


def test_a_tap_writes_the_time_and_a_plan_starts_the_timer(page: Any) -> None:
    fill(page, "planned_proof_min", "45")
    stamp(page, "proof").click()
    page.locator("[data-what=proof][data-done=yes]").wait_for()
    timer = page.locator(".bakelab-timer", has_text="proof")
    timer.wait_for()
    first = timer.locator(".bakelab-left").inner_text()
    assert first.startswith("4")
    page.wait_for_function(TICKED, arg=first)


def test_a_field_is_saved_when_it_is_left(page: Any) -> None:
    fill(page, "dough_c", "78 F")
    assert said(page, "dough_c", "saved").startswith("saved")
    page.wait_for_function(
        "document.querySelector('[data-fact=dough_c]').value === '25.6'"
    )


def test_nonsense_is_said_beside_its_field_and_stays(page: Any) -> None:
    for name in ("room_c", "mix_min", "height_cm", "crumb_1_9"):
        fill(page, name, "½ of <b>")
        assert "give a number from" in said(page, name, "refused")
        assert value(page, name) == "½ of <b>"
        fill(page, name, "")
        said(page, name, "saved")


def test_two_who_write_see_both_values_and_choose(page: Any, lab: Lab) -> None:
    fill(page, "water_c", "20")
    said(page, "water_c", "saved")
    page.locator("[data-fact=water_c]").focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("21")  # typed here, not left yet
    other_writes(lab, "water_c", 25)
    page.keyboard.press("Tab")
    assert "changed meanwhile to 25" in said(page, "water_c", "conflict")
    page.get_by_role("button", name="Take theirs: 25").click()
    page.wait_for_function(
        "document.querySelector('[data-fact=water_c]').value === '25'"
    )


def test_readings_photos_tags_and_notes(page: Any, tmp_path: Path) -> None:
    box(page, "Value").fill("88,5")
    box(page, "Minute").fill("30")
    page.get_by_role("button", name="Add the reading").click()
    page.locator(".bakelab-answer", has_text="88.5 (30 min)").wait_for()
    picture = tmp_path / "loaf.jpg"
    Image.new("RGB", (300, 200), "#a63").save(picture)
    upload(page, "Add photos", picture)
    page.locator(".bakelab-thumbs img").wait_for()
    box(page, "Tags, with commas").fill("house, too sour")
    page.keyboard.press("Tab")
    page.locator(".bakelab-answer", has_text="tags house, too sour").wait_for()
    notes(page).fill("**Good** spring")
    page.keyboard.press("Tab")
    page.locator(".bakelab-answer b", has_text="Good").wait_for()


def test_words_of_the_user_do_not_run(page: Any, tmp_path: Path) -> None:
    for name in ("baker", "flour_lot", "mix_speed", "crumb_words", "crust_words"):
        page.locator(f"details:has([data-fact={name}])").evaluate("e => e.open = true")
        fill(page, name, EVIL)
        said(page, name, "saved")
    page.get_by_label("Timer or time for").fill(EVIL[:70])
    page.get_by_role("button", name="Write down the time").click()
    page.locator(".bakelab-done li", has_text="onerror").wait_for()
    page.get_by_role("button", name="Start the timer").click()
    page.locator(".bakelab-timer", has_text="onerror").wait_for()
    picture = tmp_path / "<img src=x onerror=window.ran=1>.jpg"
    Image.new("RGB", (30, 20), "#36a").save(picture)
    box(page, "Words for the next photo").fill(EVIL)
    page.keyboard.press("Tab")
    upload(page, "Add photos", picture)
    page.locator(".bakelab-thumbs figcaption", has_text="onerror").wait_for()
    box(page, "Tags, with commas").fill(EVIL.replace(",", ""))
    page.keyboard.press("Tab")
    page.locator(".bakelab-answer", has_text="tags <img").wait_for()
    notes(page).fill(f"{EVIL}\n\n[x](javascript:window.ran=1)")
    page.keyboard.press("Tab")
    page.locator(".bakelab-answer", has_text="note corrected").wait_for()
    tab(page, "All bakes")
    box(page, "Words in notes, tags or facts").fill(EVIL)
    page.keyboard.press("Tab")
    page.locator(".bakelab-bakes td", has_text="onerror").wait_for()
    page.locator(".bakelab-open").first.click()
    page.locator(".bakelab-bake-page", has_text="DROP TABLE").wait_for()
    page.wait_for_timeout(300)
    assert page.evaluate("window.ran") is None
    pictures = page.locator(".bakelab-panel img:not([src^='data:image/jpeg'])")
    assert pictures.count() == 0
    assert page.locator(".bakelab-panel script").count() == 0
    assert page.locator(".bakelab-panel a[href^=javascript]").count() == 0


def test_the_page_of_a_bake_is_saved_and_runs_nothing(
    page: Any, chromium: Any, tmp_path: Path
) -> None:
    tab(page, "At the bench")
    fill(page, "crumb_words", EVIL)
    said(page, "crumb_words", "saved")
    tab(page, "The page of a bake")
    page.locator(".bakelab-bake-page", has_text="DROP TABLE").wait_for()
    page.get_by_role("button", name="Print the page (PDF)").click()
    page.locator("a[download$='.pdf']").wait_for()
    page.get_by_role("button", name="Save as a web page").click()
    with page.expect_download() as waiting:
        page.locator("a[download$='.html']").click()
    target = tmp_path / "page.html"
    waiting.value.save_as(target)
    context, opened, outside = watched(chromium)
    context.unroute_all()
    opened.goto(target.as_uri())
    opened.wait_for_timeout(200)
    assert "DROP TABLE" in opened.locator("main").inner_text()
    assert opened.evaluate("window.ran") is None
    context.close()
    assert outside == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_page_of_a_full_bake_prints_on_one_sheet(
    chromium: Any, tmp_path: Path, paper: str
) -> None:
    with write_demo_book(tmp_path / "demo.sqlite") as book:
        sheets = [bake_sheet(book, str(i)) for i in book.bakes()["id"].iloc[::9]]
    opened = chromium.new_page()
    margin = {"top": "11mm", "bottom": "11mm", "left": "12mm", "right": "12mm"}
    for sheet in sheets:
        opened.set_content(bake_html(sheet))
        pdf = opened.pdf(format=paper, margin=margin)
        assert len(PdfReader(BytesIO(pdf)).pages) == 1
        assert serious_findings(opened) == []
    opened.close()


def test_what_is_tapped_is_large_enough(page: Any) -> None:
    tab(page, "At the bench")
    small = page.evaluate(SMALL, LEAST_PX)
    assert small == []


def test_every_control_has_a_name_that_is_read_aloud(page: Any) -> None:
    for name in ("At the bench", "All bakes", "The page of a bake"):
        tab(page, name)
        assert page.evaluate(UNNAMED) == []
    tab(page, "At the bench")


def test_it_works_by_keyboard_alone(page: Any) -> None:
    page.get_by_role("button", name="Start another bake").focus()
    reached = " | ".join(walk(page, 110))
    for label in ("Bake at hand", "mixed", "in the oven",
                  "Minutes", "Start the timer", "Room (°C)", "Loaf, cooled (g)",
                  "Add the reading", "Tags, with commas"):  # fmt: skip
        assert label in reached, f"{label!r} is not reached by Tab: {reached}"
    stamp(page, "mixed").focus()
    page.keyboard.press("Enter")
    page.locator("[data-what=mixed][data-done=yes]").wait_for()
    page.locator("[data-fact=proof_c]").focus()
    page.keyboard.type("27")
    page.keyboard.press("Enter")
    assert said(page, "proof_c", "saved").startswith("saved")


@pytest.mark.parametrize("theme", ["Light", "Dark"])
@pytest.mark.parametrize("width", [1280, 800])
def test_nothing_is_clipped_or_pale(page: Any, width: int, theme: str) -> None:
    page.set_viewport_size({"width": width, "height": 1400})
    set_theme(page, f"JupyterLab {theme}")
    found = {}
    for name in ("All bakes", "The page of a bake", "At the bench"):
        tab(page, name)
        page.wait_for_timeout(600)
        clipped = [c for c in page.evaluate(CLIPPED) if "bakelab-bakes" not in c]
        found[name] = clipped + page.evaluate(WEAK_TEXT, LEAST_CONTRAST)
    page.set_viewport_size({"width": 1280, "height": 1400})
    set_theme(page, "JupyterLab Light")
    assert found == {name: [] for name in found}


@pytest.mark.parametrize("width", [1280, 800])
def test_the_volume_from_seeds(page: Any, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 1400})
    tab(page, "At the bench")
    page.get_by_role("button", name="Measure the loaf's volume").click()
    page.get_by_label("Seeds in the empty box (ml or g)").fill("5 l")
    page.get_by_label("Seeds around the loaf (ml or g)").fill("2400")
    page.get_by_role("button", name="Volume from the seeds").click()
    page.get_by_text("2600 cm³ by seed displacement").wait_for()
    clipped = [c for c in page.evaluate(CLIPPED) if "bakelab-bakes" not in c]
    page.get_by_role("button", name="Measure the loaf's volume").click()
    page.set_viewport_size({"width": 1280, "height": 1400})
    assert clipped == []


def test_a_restarted_kernel_has_the_running_bake_again(page: Any) -> None:
    bake = page.locator(".bakelab-panel").get_by_label("Bake at hand")
    before = bake.evaluate("e => e.selectedOptions[0].textContent")
    page.evaluate(RESTART)
    stamp(page, "folded").click()  # nobody hears it: it is said, and nothing is shown
    page.locator(".bakelab-told", has_text="not written down yet").wait_for()
    assert stamp(page, "folded").get_attribute("data-done") == "no"
    page.evaluate("window.jupyterapp.commands.execute('notebook:run-all-cells')")
    page.locator(".bakelab-timer", has_text="proof").wait_for(timeout=60_000)
    again = page.locator(".bakelab-panel").get_by_label("Bake at hand")
    assert again.evaluate("e => e.selectedOptions[0].textContent") == before
    assert value(page, "dough_c") == "25.6"


def start_own_book(page: Any) -> None:
    """A book of one's own, a recipe kept in it, a bake of it begun."""
    own = page.get_by_role("button", name="My own book")
    if own.is_visible():  # else another notebook has begun the book already
        own.click()
        own.wait_for(state="hidden")
    box(page, "Recipe as written").fill(RECIPE)
    page.get_by_role("button", name="Keep this recipe").click()
    page.get_by_label("Formula or variant").locator("option", has_text="Evil").wait_for(
        state="attached"
    )
    page.get_by_role("button", name="Start the bake").click()
    page.locator(".bakelab-stamps").wait_for()


def other_writes(lab: Lab, name: str, value: object) -> None:
    """Somebody else changes a fact of the newest bake meanwhile."""
    with BakeBook(lab.folder.parent / "bakebook.sqlite", who="Oona") as book:
        newest = str(book.bakes(newest=1)["id"].iloc[0])
        book.write(newest, **{name: value})


def tab(page: Any, name: str) -> None:
    page.locator(".bakelab-tabs button", has_text=name).click()
    page.wait_for_timeout(300)


def box(page: Any, label: str) -> Any:
    return page.locator(".bakelab-panel").get_by_label(label, exact=True)


def notes(page: Any) -> Any:
    return page.locator(".bakelab-panel").get_by_label("Words in Markdown")


def upload(page: Any, label: str, path: Path) -> None:
    with page.expect_file_chooser() as waiting:
        page.locator(".bakelab-panel button", has_text=label).click()
    waiting.value.set_files(path)


def stamp(page: Any, what: str) -> Any:
    return page.locator(f".bakelab-large[data-what='{what}']")


def fill(page: Any, name: str, text: str) -> None:
    field = page.locator(f"[data-fact={name}]")
    field.evaluate("e => { e.closest('details').open = true; }")
    field.fill(text)
    field.blur()


def value(page: Any, name: str) -> str:
    return str(page.locator(f"[data-fact={name}]").input_value())


def said(page: Any, name: str, kind: str) -> str:
    """What stands beside a field, once it is of that kind."""
    beside = page.locator(f".bakelab-fact:has([data-fact={name}]) .bakelab-told")
    page.wait_for_function(
        "([name, kind]) => document.querySelector(`.bakelab-fact:has([data-fact="
        "${name}]) .bakelab-told`)?.classList.contains(`bakelab-${kind}`)",
        arg=[name, kind],
    )
    return str(beside.inner_text())


def hands(page: Any) -> list[str]:
    return list(page.evaluate(HANDS))


HANDS = """() => [...document.querySelectorAll('.bakelab-panel select')]
  .find(e => e.labels[0]?.textContent === 'Bake at hand')
  ?.options ?? []"""
TICKED = """before => [...document.querySelectorAll('.bakelab-timer')]
  .find(e => e.dataset.what === 'proof')
  .querySelector('.bakelab-left').textContent !== before"""
SMALL = """least => [...document.querySelectorAll(
    '.bakelab-bench button, .bakelab-bench input[type=text], .bakelab-bench select, '
    + '.bakelab-tabs button')]
  .filter(e => e.offsetParent && !e.closest('.bakelab-done'))
  .filter(e => e.getBoundingClientRect().height < least - 0.5)
  .map(e => `${e.className} ${e.textContent.slice(0, 30)} `
    + e.getBoundingClientRect().height)"""
UNNAMED = """() => [...document.querySelectorAll(
    '.bakelab-panel :is(input, select, textarea, button, summary)')]
  .filter(e => e.offsetParent && e.type !== 'file')
  .filter(e => !(e.getAttribute('aria-label') || e.labels?.[0]?.textContent
    || e.title || e.textContent).trim())
  .map(e => e.outerHTML.slice(0, 100))"""
RESTART = """async () => {
  const session = window.jupyterapp.shell.currentWidget.sessionContext;
  await session.session.kernel.restart();
}"""
