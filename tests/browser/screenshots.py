"""Pictures of the panel, for the README and for looking at it while it is changed.

Run from the project's folder: ``python -m tests.browser.screenshots``. It writes
`notebooks/images/*.png`; with ``--all FOLDER`` it writes both themes at
1280 and 800 pixels, with a German recipe and with an error, into that folder.
"""

import argparse
import sys
import tempfile
from pathlib import Path
from typing import Any

from .lab_driver import (
    CHROMIUM_OPTIONS,
    NOTEBOOKS,
    Lab,
    find_chromium,
    open_notebook,
    watched,
)

NOTEBOOK = "1-fit-a-recipe-to-my-pan.ipynb"
RATIOS = "2-explore-ratios.ipynb"
BENCH = "3-log-test-bakes.ipynb"
TASTE = "5-taste-and-decide.ipynb"
IMAGES = NOTEBOOKS / "images"
PANEL = ".bakelab-panel"
FOR_README = (
    (NOTEBOOK, PANEL, IMAGES / "fit-panel.png", 805),
    (RATIOS, PANEL, IMAGES / "ratio-panel.png", 860),
    (BENCH, PANEL, IMAGES / "bench-panel.png", 900),
    ("4-compare-bakes.ipynb", PANEL, IMAGES / "compare-panel.png", 800),
    (TASTE, PANEL, IMAGES / "taste-panel.png", 800),
    ("6-check-published-quantities.ipynb", PANEL, IMAGES / "check.png", 800),
    ("7-time-and-heat.ipynb", PANEL, IMAGES / "heat-panel.png", 860),
    ("learn/4-pans-and-volume.ipynb", PANEL, IMAGES / "lesson.png", 700),
)
LOOKS = (
    ("first", None, None),
    ("german", "Roggenmischbrot aus dem Kasten", "2 loaf 8 x 4 x 2.5 in"),
    ("error", None, "a big one"),
)


def main() -> None:
    """Take the pictures that the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--all", metavar="FOLDER", type=Path)
    folder = parser.parse_args().all
    chromium = find_chromium()
    if chromium is None:
        sys.exit("no Chromium on this machine; install it to take pictures")
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=chromium, args=list(CHROMIUM_OPTIONS)
        )
        lab = Lab(Path(place))
        try:
            if folder is None:
                for notebook, part, picture, height in FOR_README:
                    picture_for_readme(browser, lab, notebook, part, picture, height)
            else:
                every_look(browser, lab, folder)
        finally:
            lab.stop()
            browser.close()


def picture_for_readme(
    browser: Any, lab: Lab, notebook: str, part: str, picture: Path, height: int
) -> None:
    """One part of a notebook alone, in the light theme, after some work in it."""
    context, page, _ = watched(browser, viewport={"width": 1280, "height": 1800})
    open_notebook(page, lab, notebook, shows=part)
    hide_files(page, part)
    if notebook in WORK:
        WORK[notebook](page)
    page.wait_for_timeout(1500)
    page.locator(part).first.evaluate(TO_TOP)
    page.wait_for_timeout(300)
    box = page.locator(part).first.bounding_box()
    clip = {"x": box["x"] - 12, "y": box["y"] - 4, "width": box["width"] + 18,
            "height": min(box["height"] + 8, height)}  # fmt: skip
    picture.parent.mkdir(exist_ok=True)
    page.screenshot(path=picture, clip=clip)
    context.close()


def more_water(page: Any) -> None:
    """A ratio that has moved from its parent."""
    page.locator(".bakelab-slider .noUi-handle").nth(1).focus()
    for _ in range(8):
        page.keyboard.press("ArrowLeft")


def running_bake(page: Any) -> None:
    """A bake of the demo book's last bread, begun, stamped and measured."""
    page.get_by_role("button", name="Start the bake").click()
    for what in ("mixed", "folded", "shaped", "proof"):
        page.locator(f".bakelab-large[data-what='{what}']").click()
        page.locator(f".bakelab-large[data-what='{what}'][data-done=yes]").wait_for()
    typed = {"room_c": "22", "water_c": "28", "dough_c": "78 F", "mix_min": "soon"}
    for name, text in typed.items():
        page.locator(f"[data-fact={name}]").fill(text)
        page.locator(f"[data-fact={name}]").blur()
    page.wait_for_timeout(1500)


WORK = {RATIOS: more_water, BENCH: running_bake}


def every_look(browser: Any, lab: Lab, folder: Path) -> None:
    """Both themes, two widths, three states."""
    folder.mkdir(parents=True, exist_ok=True)
    for theme in ("Light", "Dark"):
        for width in (1280, 800):
            size = {"width": width, "height": 1700}
            context, page, _ = watched(browser, viewport=size)
            open_notebook(page, lab, NOTEBOOK)
            page.evaluate(SET_THEME, f"JupyterLab {theme}")
            hide_files(page, PANEL)
            for name, sample, pan in LOOKS:
                if sample:
                    page.get_by_label("Sample recipe").select_option(label=sample)
                if pan:
                    page.get_by_label("My pan", exact=True).fill(pan)
                    page.keyboard.press("Enter")
                page.wait_for_timeout(800)
                page.screenshot(path=folder / f"{name}-{width}-{theme.lower()}.png")
            context.close()


def hide_files(page: Any, part: str) -> None:
    """Close the list of files beside the notebook, and show a part of it."""
    page.evaluate(
        "document.querySelector('#jp-left-stack')?.offsetWidth"
        " && window.jupyterapp.commands.execute('application:toggle-left-area')"
    )
    page.locator(part).first.evaluate(TO_TOP)
    page.wait_for_timeout(600)


TO_TOP = "e => e.scrollIntoView({block: 'start'})"
SET_THEME = """theme =>
  window.jupyterapp.commands.execute('apputils:change-theme', {theme})"""


if __name__ == "__main__":
    main()
