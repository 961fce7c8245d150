"""A whole lesson by keyboard alone, in a real browser: no mouse, no script."""

import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from bakelab.lessons import Marked, make
from bakelab.lessons.classroom import ClassMarks, class_set, read_students
from bakelab.lessons.classroom.marks import MarkedAnswer, MarkedSheet
from bakelab.lessons.classroom.report import chart_html

from .lab_driver import KERNEL_IDLE, PAGE_MS, Lab, watched
from .test_accessibility import serious_findings

pytestmark = pytest.mark.browser

NOTEBOOK = "learn/2-one-flour-is-100-percent.ipynb"
FOCUSED = """() => {
  const one = document.activeElement;
  const cell = one.closest('.jp-Cell');
  const cells = [...document.querySelectorAll('.jp-Notebook .jp-Cell')];
  return {tag: one.tagName, text: one.textContent.trim(), cell: cells.indexOf(cell),
    isCell: one === cell, role: one.getAttribute('role'),
    label: one.getAttribute('aria-label') || '', kind: one.type || ''};
}"""
MOST_BOXES = 40
GUESS = ".bakelab-item:has(fieldset:not([hidden]))"
EXERCISE = ".bakelab-item:not(:has(fieldset:not([hidden])))"


@pytest.fixture(scope="module")
def page(lab: Lab, chromium: Any) -> Iterator[Any]:
    """The lesson as it is opened, nothing run yet; its keys are all there is."""
    context, opened, outside = watched(
        chromium, viewport={"width": 1280, "height": 1000}
    )
    errors: list[str] = []
    opened.on("pageerror", lambda error: errors.append(str(error)))
    opened.goto(f"{lab.url}/lab/tree/{NOTEBOOK}?reset")
    opened.wait_for_selector(".jp-Notebook .jp-Cell", timeout=PAGE_MS)
    opened.wait_for_function(KERNEL_IDLE, timeout=PAGE_MS)
    opened.set_default_timeout(20_000)
    opened.wait_for_function("() => document.activeElement.closest('.jp-Cell')")
    yield opened
    context.close()
    assert outside == []
    assert errors == []


def _focused(page: Any) -> dict[str, Any]:
    return dict(page.evaluate(FOCUSED))


def _walk_to(page: Any, code: str, selector: str) -> None:
    """Shift + Enter from box to box, and into what the box with `code` shows."""
    for _ in range(MOST_BOXES):
        before = _focused(page)
        page.keyboard.press("Shift+Enter")
        if before["isCell"] and code in before["text"]:
            inside = "s => document.activeElement.closest(s) !== null"
            page.wait_for_function(inside, arg=selector)
            return
        page.wait_for_function(
            "n => [...document.querySelectorAll('.jp-Notebook .jp-Cell')]"
            ".indexOf(document.activeElement) > n",
            arg=before["cell"],
        )
    raise AssertionError(f"the keys never led to {code}")


def _tab_to(page: Any, words: str) -> None:
    for _ in range(12):
        page.keyboard.press("Tab")
        found = _focused(page)
        if found["tag"] == "BUTTON" and words in found["text"]:
            return
    raise AssertionError(f"no way to {words!r} with the Tab key: {found}")


def _wait_told(page: Any, words: str) -> None:
    page.wait_for_function(
        "([s, w]) => document.querySelector(`${s} .item-told`).innerText.includes(w)",
        arg=[EXERCISE, words],
    )


def _answer_of(page: Any) -> Fraction:
    """The answer worked out here from the table on the page, not by the lab."""
    rows = page.locator(f"{EXERCISE} tbody tr").all_inner_texts()
    grams = {
        name.strip(): Fraction(re.sub(r"[^\d.]", "", amount))
        for name, amount in (row.split("\t") for row in rows)
    }
    question = page.locator(f"{EXERCISE} .item-question strong").first.inner_text()
    flour = sum(g for name, g in grams.items() if name.endswith("flour"))
    return 100 * grams[question] / flour


def test_a_whole_lesson_by_keyboard_alone(page: Any) -> None:
    # A guess: arrows choose, Enter says it, nothing is judged.
    _walk_to(page, "import", GUESS)
    assert "Guess first" in _focused(page)["text"]
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.wait_for_function(
        "s => document.querySelector(`${s} .item-told`).innerText"
        ".includes('more than 100 %')",
        arg=GUESS,
    )

    # Into the playground: a slider moves by arrow keys and says what followed.
    _walk_to(page, "Playground", ".bakelab-play")
    assert "All the flour together" in _focused(page)["label"]
    page.keyboard.press("Tab")
    assert _focused(page)["role"] == "slider"
    assert "All the flour (g)" in _focused(page)["label"]
    before = page.locator(".bakelab-said").inner_text()
    page.keyboard.press("ArrowRight")
    page.wait_for_function(
        "b => document.querySelector('.bakelab-said').innerText !== b", arg=before
    )
    assert "924 g" in page.locator(".bakelab-said").inner_text()  # 550 g x 1.68
    page.wait_for_function(
        "() => document.querySelector('.bakelab-play [role=status]')"
        ".textContent.includes('924 g')"
    )

    # On to the exercise: nonsense, a hint, a wrong answer, the right one.
    _walk_to(page, "Practice(", EXERCISE)
    assert "Exercise 1 of 4" in _focused(page)["text"]
    page.keyboard.press("Tab")
    assert _focused(page)["tag"] == "INPUT"
    assert page.get_by_label("My answer (%)").count() == 1
    page.keyboard.type("a lot")
    page.keyboard.press("Enter")
    _wait_told(page, "There is no single number")
    _tab_to(page, "Hint (3 left)")
    page.keyboard.press("Space")
    _wait_told(page, "Hint 1")
    assert page.locator(f"{EXERCISE} .item-hints li").count() == 1
    right = _answer_of(page)
    for _ in range(2):
        page.keyboard.press("Shift+Tab")
    assert _focused(page)["tag"] == "INPUT"
    page.keyboard.press("Control+a")
    page.keyboard.type(f"{float(right) + 20:.1f}")
    page.keyboard.press("Enter")
    _wait_told(page, "Not yet")
    page.keyboard.press("Control+a")
    page.keyboard.type(f"{float(right):.1f}".replace(".", ","))
    page.keyboard.press("Enter")
    _wait_told(page, "Right")
    assert page.locator(f"{EXERCISE} .item-solution").is_visible()

    # The next exercise: the focus comes to its heading; its solution is asked for.
    _tab_to(page, "Next exercise")
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.activeElement.tagName === 'H3'")
    assert "Exercise 2 of 4" in _focused(page)["text"]
    _tab_to(page, "Show the solution")
    page.keyboard.press("Enter")
    _wait_told(page, "The answer is")
    assert "Next exercise" in _focused(page)["text"]  # never lost with its button
    for number in (3, 4):
        page.keyboard.press("Enter")
        page.wait_for_function(
            "n => document.activeElement.textContent.includes(`Exercise ${n} of 4`)",
            arg=number,
        )
        _tab_to(page, "Show the solution")
        page.keyboard.press("Enter")
        _wait_told(page, "The answer is")
    page.keyboard.press("Enter")
    _wait_told(page, "enough for this lesson")

    # Out again and on to the end; the exercise was not run a second time.
    heading = page.locator(f"{EXERCISE} h3").inner_text()
    page.keyboard.press("Shift+Enter")
    assert _focused(page)["isCell"]
    for _ in range(6):
        page.keyboard.press("Shift+Enter")
        page.wait_for_timeout(700)
    assert page.locator(f"{EXERCISE} h3").inner_text() == heading
    assert page.locator(".jp-OutputArea-error").count() == 0
    assert "1.22 % of the flour" in page.locator(".jp-Notebook").inner_text()


def test_answers_are_kept_and_can_be_forgotten(page: Any, lab: Lab) -> None:
    kept = lab.folder.parent / "progress.jsonl"
    assert len(kept.read_text().splitlines()) == 5
    forget = page.get_by_role("button", name="Forget my answers")
    forget.focus()
    page.keyboard.press("Enter")
    _wait_told(page, "again")
    page.get_by_role("button", name="Yes, forget all my answers").focus()
    page.keyboard.press("Enter")
    _wait_told(page, "forgotten")
    assert not kept.exists()


def test_the_chart_of_a_class_has_no_serious_finding(
    chromium: Any, tmp_path: Path
) -> None:
    (tmp_path / "names.csv").write_text("Anna")
    made = class_set(read_students(tmp_path / "names.csv", seed=1), seed=1, lesson=2)
    item = make("weight_to_percent", 1)
    marked = Marked("misconception", "percent_of_dough", "", None)
    answer = MarkedAnswer(1, item, "5", "misconception", marked)
    one = MarkedSheet(made.sheets[0], tmp_path / "a.ipynb", "marked", (answer,), ())
    page_file = tmp_path / "chart.html"
    page_file.write_text(chart_html(ClassMarks(made, (one,))), encoding="utf-8")
    context = chromium.new_context(bypass_csp=True)  # for axe, which is a script
    page = context.new_page()
    page.goto(page_file.as_uri())
    assert page.locator("svg").count() == 1
    found = serious_findings(page)
    context.close()
    assert found == []
