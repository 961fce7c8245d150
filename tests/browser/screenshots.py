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
FOR_README = (
    (NOTEBOOK, NOTEBOOKS / "images" / "fit-panel.png", 805),
    (RATIOS, NOTEBOOKS / "images" / "ratio-panel.png", 860),
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
                for notebook, picture, height in FOR_README:
                    picture_for_readme(browser, lab, notebook, picture, height)
            else:
                every_look(browser, lab, folder)
        finally:
            lab.stop()
            browser.close()


def picture_for_readme(
    browser: Any, lab: Lab, notebook: str, picture: Path, height: int
) -> None:
    """The panel alone, in the light theme; of the ratios, one that has moved."""
    context, page, _ = watched(browser, viewport={"width": 1280, "height": 1800})
    open_notebook(page, lab, notebook)
    hide_files(page)
    if notebook == RATIOS:
        page.locator(".bakelab-slider .noUi-handle").nth(1).focus()
        for _ in range(8):
            page.keyboard.press("ArrowLeft")
        page.wait_for_timeout(1500)
    box = page.locator(".bakelab-panel").bounding_box()
    clip = {"x": box["x"] - 12, "y": box["y"] - 4, "width": box["width"] + 18,
            "height": min(box["height"], height)}  # fmt: skip
    picture.parent.mkdir(exist_ok=True)
    page.screenshot(path=picture, clip=clip)
    context.close()


def every_look(browser: Any, lab: Lab, folder: Path) -> None:
    """Both themes, two widths, three states."""
    folder.mkdir(parents=True, exist_ok=True)
    for theme in ("Light", "Dark"):
        for width in (1280, 800):
            size = {"width": width, "height": 1700}
            context, page, _ = watched(browser, viewport=size)
            open_notebook(page, lab, NOTEBOOK)
            page.evaluate(SET_THEME, f"JupyterLab {theme}")
            hide_files(page)
            for name, sample, pan in LOOKS:
                if sample:
                    page.get_by_label("Sample recipe").select_option(label=sample)
                if pan:
                    page.get_by_label("My pan", exact=True).fill(pan)
                    page.keyboard.press("Enter")
                page.wait_for_timeout(800)
                page.screenshot(path=folder / f"{name}-{width}-{theme.lower()}.png")
            context.close()


def hide_files(page: Any) -> None:
    """Close the list of files beside the notebook."""
    page.evaluate(
        "document.querySelector('#jp-left-stack')?.offsetWidth"
        " && window.jupyterapp.commands.execute('application:toggle-left-area')"
    )
    page.locator(".bakelab-panel").evaluate("e => e.scrollIntoView({block: 'start'})")
    page.wait_for_timeout(600)


SET_THEME = """theme =>
  window.jupyterapp.commands.execute('apputils:change-theme', {theme})"""


if __name__ == "__main__":
    main()
