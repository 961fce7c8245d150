"""How long each notebook takes from a click to its first working panel, on demand.

Run ``python -m tests.benchmarks.measure_opening`` on a quiet machine. JupyterLab is
open already; the time is from opening the notebook to a kernel (a floor that is
Jupyter's), and from running its first cell of code to a control that can be used.
"""

import tempfile
import time
from itertools import pairwise
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from tests.browser.lab_driver import (
    ALL_RUN,
    CHROMIUM_OPTIONS,
    Lab,
    find_chromium,
    notebook_names,
    watched,
)

__all__ = ["main", "measure"]

PAGE_MS = 60_000
CONTROL = (
    ".bakelab-panel button:visible, .bakelab-panel input:visible, "
    ".bakelab-panel select:visible, .bakelab-item :is(button, input):visible"
)
OPEN = "path => { window.jupyterapp.commands.execute('docmanager:open', { path }); }"
READY = """path => {
  const open = window.jupyterapp.shell.currentWidget;
  return open?.context?.path === path && open.content.widgets.length > 1
    && open.sessionContext?.session?.kernel?.status === 'idle';
}"""
RUN_FIRST = """() => {
  const notebook = window.jupyterapp.shell.currentWidget.content;
  notebook.activeCellIndex = notebook.widgets.findIndex(c => c.model.type === 'code');
  notebook.deselectAll();
  window.jupyterapp.commands.execute('notebook:run-cell');
}"""
RUN_ALL = "window.jupyterapp.commands.execute('notebook:run-all-cells')"


def measure(browser: Any, lab: Lab, name: str) -> tuple[float, float, float]:
    """Seconds to a kernel, from there to a panel, and for all cells after it."""
    context, page, _ = watched(browser, viewport={"width": 1280, "height": 1400})
    page.set_default_timeout(PAGE_MS)
    page.goto(f"{lab.url}/lab?reset")
    page.wait_for_selector(".jp-DirListing-item")
    page.wait_for_timeout(3000)
    times = [time.perf_counter()]
    page.evaluate(OPEN, name)
    page.wait_for_function(READY, arg=name, timeout=PAGE_MS)
    times.append(time.perf_counter())
    page.evaluate(RUN_FIRST)
    page.locator(CONTROL).first.wait_for()
    times.append(time.perf_counter())
    page.evaluate(RUN_ALL)
    page.wait_for_function(ALL_RUN, timeout=PAGE_MS)
    times.append(time.perf_counter())
    context.close()
    kernel, panel, rest = (later - sooner for sooner, later in pairwise(times))
    return kernel, panel, rest


def main() -> None:
    """Print a line a notebook."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        lab = Lab(Path(folder))
        browser = playwright.chromium.launch(
            executable_path=find_chromium(), args=list(CHROMIUM_OPTIONS)
        )
        for name in notebook_names():
            kernel, panel, rest = measure(browser, lab, name)
            print(
                f"{name:40} kernel {kernel:4.1f} s, panel {panel:4.1f} s, "
                f"together {kernel + panel:4.1f} s; all cells {rest:4.1f} s",
                flush=True,
            )
        browser.close()
        lab.stop()


if __name__ == "__main__":
    main()
